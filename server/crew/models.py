"""Tables of units, their people's devices and cards, invitations and sessions. Times: seconds since 1970."""

from sqlalchemy import ForeignKey, Index, Text
from sqlalchemy.orm import Mapped, mapped_column

from server.store import Table


class Unit(Table):
    """A unit whose keys this server holds; `checklists` names its folder of definitions."""

    __tablename__ = "unit"
    id: Mapped[str] = mapped_column(Text, primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    checklists: Mapped[str] = mapped_column(Text)


class Person(Table):
    """Somebody of a unit's crew: what `by` says in entries, and how they are called."""

    __tablename__ = "person"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    id: Mapped[str] = mapped_column(Text, primary_key=True)
    name: Mapped[str] = mapped_column(Text)


class Device(Table):
    """A key that has a card: `jwk` its public half as JSON, `revoked_s` when a revocation of it came."""

    __tablename__ = "device"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    kid: Mapped[str] = mapped_column(Text, primary_key=True)
    jwk: Mapped[str] = mapped_column(Text)
    revoked_s: Mapped[int | None]


class CardRow(Table):
    """A card or a statement of a next unit key (`kid` null); `name` is its signing input's SHA-256."""

    __tablename__ = "card"
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), primary_key=True)
    name: Mapped[str] = mapped_column(Text, primary_key=True)
    kid: Mapped[str | None] = mapped_column(Text, index=True)
    person: Mapped[str | None] = mapped_column(Text)
    jws: Mapped[str] = mapped_column(Text)


class Invitation(Table):
    """A code that makes one key somebody's; once used, `kid` and `card` say whose answer it gives again."""

    __tablename__ = "invitation"
    code: Mapped[str] = mapped_column(Text, primary_key=True)
    unit: Mapped[str] = mapped_column(ForeignKey("unit.id"), index=True)
    person: Mapped[str] = mapped_column(Text)
    name: Mapped[str] = mapped_column(Text)
    roles: Mapped[str] = mapped_column(Text)
    ends_s: Mapped[int]
    kid: Mapped[str | None] = mapped_column(Text)
    card: Mapped[str | None] = mapped_column(Text)
    used_s: Mapped[int | None]


class Guess(Table):
    """A wrong code and the address it came from: what limits guessing."""

    __tablename__ = "guess"
    id: Mapped[int] = mapped_column(primary_key=True)
    address: Mapped[str] = mapped_column(Text)
    at_s: Mapped[int]
    __table_args__ = (Index("guess_of_address", "address", "at_s"),)


class Nonce(Table):
    """A nonce given out for a session and not used yet."""

    __tablename__ = "nonce"
    nonce: Mapped[str] = mapped_column(Text, primary_key=True)
    ends_s: Mapped[int]


class Session(Table):
    """A signed-in device; only the SHA-256 of the cookie is kept."""

    __tablename__ = "session"
    token: Mapped[str] = mapped_column(Text, primary_key=True)
    unit: Mapped[str] = mapped_column(Text)
    kid: Mapped[str] = mapped_column(Text)
    ends_s: Mapped[int]
