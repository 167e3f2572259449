"""The handover report: gathered from the log, rendered, sealed, and verified from its file alone."""

RECORD = "record.json"
"""The name of the attachment that holds the whole record."""

HEADS = {
    "heads_title": "Heads of the logbook",
    "named_title": "Named by the hand-over",
    "printed_title": "Held when this was printed",
    "gaps_title": "Written, not arrived when this was printed",
}
"""The titles under which the pages print heads, and by which a reader of the file finds them again."""
