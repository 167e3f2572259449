"""Tables of logs and what came for them. The texts of entries are kept as they came; all else is an index."""

from sqlalchemy import BigInteger, ForeignKey, ForeignKeyConstraint, Index, Text
from sqlalchemy.orm import Mapped, mapped_column

from server.store import Table

LONGEST_KIND = 64


class Log(Table):
    """A log of a unit: how many entries it has received, and the running hash over their names."""

    __tablename__ = "log"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    id: Mapped[str] = mapped_column(Text, primary_key=True)
    last: Mapped[int]
    running: Mapped[str] = mapped_column(Text)
    opened_s: Mapped[int]


class EntryRow(Table):
    """A stored entry. `receipt` counts from 1 in its log, no gap; `running` is the hash up to and with it."""

    __tablename__ = "entry"
    unit: Mapped[str] = mapped_column(Text, primary_key=True)
    log: Mapped[str] = mapped_column(Text, primary_key=True)
    receipt: Mapped[int] = mapped_column(primary_key=True)
    running: Mapped[str] = mapped_column(Text)
    name: Mapped[str] = mapped_column(Text)
    kid: Mapped[str] = mapped_column(Text)
    number: Mapped[int] = mapped_column(BigInteger)
    previous: Mapped[str | None] = mapped_column(Text)
    subject: Mapped[str] = mapped_column(Text)
    kind: Mapped[str] = mapped_column(Text)  # its first characters only: a longer one is unknown anyway
    received_s: Mapped[int]
    jws: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),
        Index("entry_of_name", "unit", "log", "name", unique=True),
        Index("entry_of_kind", "unit", "kind"),
        Index("entry_of_subject", "unit", "subject"),
    )


class Waiting(Table):
    """An entry whose key has no card yet. One name may wait under several signatures: none is verified."""

    __tablename__ = "waiting"
    unit: Mapped[str] = mapped_column(Text, primary_key=True)
    log: Mapped[str] = mapped_column(Text, primary_key=True)
    digest: Mapped[str] = mapped_column(Text, primary_key=True)
    kid: Mapped[str] = mapped_column(Text)
    jws: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),
        Index("waiting_of_key", "unit", "kid"),
    )


class FileNamed(Table):
    """A file that an entry of a log names: what a fetch says is missing is taken from here."""

    __tablename__ = "file_named"
    unit: Mapped[str] = mapped_column(Text, primary_key=True)
    log: Mapped[str] = mapped_column(Text, primary_key=True)
    digest: Mapped[str] = mapped_column(Text, primary_key=True)
    __table_args__ = (ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),)


class File(Table):
    """A file kept under its SHA-256 in the data folder; `kid` is the device whose quota it takes."""

    __tablename__ = "file"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    digest: Mapped[str] = mapped_column(Text, primary_key=True)
    kid: Mapped[str] = mapped_column(Text, index=True)
    size: Mapped[int] = mapped_column(BigInteger)
    media_type: Mapped[str] = mapped_column(Text)
