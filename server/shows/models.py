"""The table of shows: an index of what `show` entries say, which can be made again from the logs."""

from sqlalchemy import ForeignKey, Text
from sqlalchemy.orm import Mapped, mapped_column

from server.store import Table


class Show(Table):
    """A show by its log: `digest` names the file of its definition; dates as text, YYYY-MM-DD."""

    __tablename__ = "show"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    id: Mapped[str] = mapped_column(Text, primary_key=True)
    title: Mapped[str] = mapped_column(Text)
    site: Mapped[str] = mapped_column(Text)
    zone: Mapped[str] = mapped_column(Text)
    starts: Mapped[str] = mapped_column(Text)
    ends: Mapped[str] = mapped_column(Text)
    digest: Mapped[str] = mapped_column(Text)
