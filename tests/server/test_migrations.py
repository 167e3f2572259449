"""The migrations make the tables of the models, on both databases, also where tables stood before there were any."""

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from flask import Flask
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from server.crew.models import Person, Unit
from server.migrations import NewerDatabase, migrate
from server.store import db, reading, writing
from tests.conftest import UNIT


def differences() -> list[object]:
    with db.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        return list(compare_metadata(context, db.metadata))


def test_migrated_tables_are_those_of_the_models(app: Flask) -> None:
    with app.app_context():
        assert differences() == []


def test_a_difference_is_found(app: Flask) -> None:
    with app.app_context():
        with writing() as session:
            session.execute(text("DROP INDEX entry_of_kind"))
            session.execute(text("ALTER TABLE unit DROP COLUMN checklists"))
        assert {str(found[0]) for found in differences()} == {"add_index", "add_column"}


def test_tables_from_before_migrations_are_taken_as_they_stand(app: Flask) -> None:
    with app.app_context():
        with writing() as session:
            for later in ("alembic_version", "kit_said", "calendar_address"):
                session.execute(text(f"DROP TABLE {later}"))
        migrate()
        assert differences() == []
        with reading() as session:
            assert session.get(Unit, UNIT) is not None


def test_a_second_start_changes_nothing(app: Flask) -> None:
    with app.app_context():
        migrate()
        assert differences() == []


def test_a_database_of_a_newer_program_is_named(app: Flask) -> None:
    with app.app_context():
        with writing() as session:
            session.execute(text("UPDATE alembic_version SET version_num = 'v999'"))
        with pytest.raises(NewerDatabase, match=r"HANDLINE_DATABASE.*v999.*newer program"):
            migrate()


def test_foreign_keys_are_held_afterwards(app: Flask) -> None:
    with app.app_context():
        migrate()
        with pytest.raises(IntegrityError), writing() as session:
            session.add(Person(unit="nowhere", id="ann", name="Ann"))
