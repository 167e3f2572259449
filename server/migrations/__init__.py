"""The database's tables, brought to what the program needs: one file in `versions/` for each change."""

from pathlib import Path

from alembic import command
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from flask import current_app
from sqlalchemy import inspect

from server.settings import BadSetting
from server.store import db

FOLDER = Path(__file__).parent
FIRST = "v001"
"""Makes the tables of a database that was made before migrations; such a one is taken to stand here."""


class NewerDatabase(BadSetting):
    """The database was made by a newer version of the program; the message says what to do."""


def migrate() -> None:
    """Bring this app's database to the newest tables, in one transaction. Raises NewerDatabase."""
    config = current_app.extensions["migrate"].migrate.get_config()
    tables = inspect(db.engine).get_table_names()
    if "unit" in tables and "alembic_version" not in tables:
        command.stamp(config, FIRST)
    try:
        command.upgrade(config, "head")
    except CommandError as fault:
        newest = ScriptDirectory.from_config(config).get_current_head()
        raise NewerDatabase(
            f"HANDLINE_DATABASE: this database is not one that this program (tables {newest}) can use: {fault}. "
            "Start it with the newer program that made it."
        ) from None
