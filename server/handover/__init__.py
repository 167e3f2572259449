"""The handover report: gathered from the log, rendered, sealed, and verified from its file alone."""

RECORD = "record.json"
"""The name of the attachment that holds the whole record."""
