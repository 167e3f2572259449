"""What the kit's commands do; each returns the sentence to print."""

from sqlalchemy.orm import Session

from server.kit.index import rebuild


def rebuild_index(session: Session, unit: str) -> str:
    """Make the unit's index of the kit again."""
    return f"Made the index of the kit again: {rebuild(session, unit)} subjects."
