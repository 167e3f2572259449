"""What alembic runs: the migrations asked for, on this app's database, in one transaction."""

import sqlite3

from alembic import context
from flask import current_app
from sqlalchemy import Connection, text

from server.store import db

LOCK = 0x48616E64
"""The advisory lock by which two servers that start at once on PostgreSQL migrate one after the other."""


def run() -> None:
    """Run them on a connection of their own, holding the database's lock."""
    with db.engine.connect().execution_options(writes=True) as connection:
        _keep_foreign_keys(connection, on=False)
        try:
            with connection.begin():
                if connection.dialect.name == "postgresql":
                    connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": LOCK})
                context.configure(
                    connection=connection,
                    target_metadata=db.metadata,
                    transactional_ddl=True,
                    **current_app.extensions["migrate"].configure_args,
                )
                context.run_migrations()
                _check_foreign_keys(connection)
        finally:
            _keep_foreign_keys(connection, on=True)


def _keep_foreign_keys(connection: Connection, *, on: bool) -> None:
    """SQLite changes a table by copying it and dropping the old one, which its foreign keys would forbid."""
    driver = connection.connection.driver_connection
    if isinstance(driver, sqlite3.Connection):
        driver.execute(f"PRAGMA foreign_keys = {'ON' if on else 'OFF'}")


def _check_foreign_keys(connection: Connection) -> None:
    if connection.dialect.name != "sqlite":
        return
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if broken:
        raise RuntimeError(f"a migration would leave rows that refer to nothing: {broken[:5]}")


run()
