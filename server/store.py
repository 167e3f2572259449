"""The database: one for all rooms, SQLite or PostgreSQL, and what a transaction on it promises."""

import sqlite3
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import Connection, Engine, event
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.orm import DeclarativeBase, Session
from sqlalchemy.pool import ConnectionPoolEntry

BUSY_TIMEOUT_MS = 20_000


class Table(DeclarativeBase):
    """What every table's class is made from."""


db = SQLAlchemy(model_class=Table)


@contextmanager
def writing() -> Iterator[Session]:
    """One transaction that writes, committed at the end and undone by an exception.

    On SQLite it holds the only write lock from its first moment (BEGIN IMMEDIATE), so that what it reads
    cannot be old when it writes. Whatever was read in this session before is forgotten.
    """
    session: Session = db.session()
    session.rollback()
    session.connection(execution_options={"writes": True})
    try:
        yield session
    except BaseException:
        session.rollback()
        raise
    session.commit()


@contextmanager
def reading() -> Iterator[Session]:
    """One transaction in which every read sees the same moment."""
    session: Session = db.session()
    session.rollback()
    if db.engine.dialect.name == "postgresql":
        session.connection(execution_options={"isolation_level": "REPEATABLE READ"})
    try:
        yield session
    finally:
        session.rollback()


def insert_new(session: Session, table: type[Table], row: Mapping[str, object]) -> bool:
    """Insert a row unless one with its key is there; whether it was inserted."""
    dialect = postgresql if db.engine.dialect.name == "postgresql" else sqlite
    session.flush()
    statement = dialect.insert(table.__table__).values(**row).on_conflict_do_nothing()
    return bool(session.connection().execute(statement).rowcount)


def now_s() -> int:
    """Seconds since 1970 by the server's clock: for sessions and invitations, never for what counts."""
    return int(time.time())


@event.listens_for(Engine, "connect")
def _prepare_sqlite(connection: DBAPIConnection, _: ConnectionPoolEntry) -> None:
    if isinstance(connection, sqlite3.Connection):
        connection.isolation_level = None  # the driver would begin by itself, later and otherwise
        for pragma in (
            f"busy_timeout = {BUSY_TIMEOUT_MS}",
            "journal_mode = WAL",
            "synchronous = FULL",
            "foreign_keys = ON",
        ):
            connection.execute(f"PRAGMA {pragma}")


@event.listens_for(Engine, "begin")
def _begin_sqlite(connection: Connection) -> None:
    if connection.dialect.name == "sqlite":
        options: Mapping[str, Any] = connection.get_execution_options()
        connection.exec_driver_sql("BEGIN IMMEDIATE" if options.get("writes") else "BEGIN")
