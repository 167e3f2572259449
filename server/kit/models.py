"""Tables of the kit: an index of what entries say of it, and the calendar's address."""

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Text
from sqlalchemy.orm import Mapped, mapped_column

from server.store import Table


class KitSaid(Table):
    """What the entries of one log come to on one subject of the kit: an index, made again by `handline rebuild`.

    `standing` is settled, disputed, waits, or `adds` for events; `said` the values as JSON, see `index.py`;
    `replaced` what its entries replace, as JSON `{counting, leads}`: names of those that count, and for each entry the
    names that it replaces. Another log's values may be among them.
    """

    __tablename__ = "kit_said"
    unit: Mapped[str] = mapped_column(Text, primary_key=True)
    log: Mapped[str] = mapped_column(Text, primary_key=True)
    subject: Mapped[str] = mapped_column(Text, primary_key=True)
    standing: Mapped[str] = mapped_column(Text)
    said: Mapped[str] = mapped_column(Text)
    replaced: Mapped[str] = mapped_column(Text)
    __table_args__ = (ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),)


class CalendarAddress(Table):
    """The private address of a unit's calendar: only the SHA-256 of its token is kept."""

    __tablename__ = "calendar_address"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    token: Mapped[str] = mapped_column(Text, unique=True)
    made_s: Mapped[int]
