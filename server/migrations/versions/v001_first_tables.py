"""The tables as they stood when migrations began."""

import sqlalchemy as sa
from alembic import op

revision = "v001"
down_revision = None


def upgrade() -> None:
    """Make them."""
    op.create_table(
        "guess",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("at_s", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("guess_of_address", "guess", ["address", "at_s"])
    op.create_table(
        "nonce",
        sa.Column("nonce", sa.Text(), nullable=False),
        sa.Column("ends_s", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("nonce"),
    )
    op.create_table(
        "session",
        sa.Column("token", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=False),
        sa.Column("ends_s", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("token"),
    )
    op.create_table(
        "unit",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("checklists", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "card",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=True),
        sa.Column("person", sa.Text(), nullable=True),
        sa.Column("jws", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit", "name"),
    )
    op.create_index("ix_card_kid", "card", ["kid"])
    op.create_table(
        "device",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=False),
        sa.Column("jwk", sa.Text(), nullable=False),
        sa.Column("revoked_s", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit", "kid"),
    )
    op.create_table(
        "file",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=False),
        sa.Column("size", sa.BigInteger(), nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit", "digest"),
    )
    op.create_index("ix_file_kid", "file", ["kid"])
    op.create_table(
        "invitation",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("roles", sa.Text(), nullable=False),
        sa.Column("ends_s", sa.Integer(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=True),
        sa.Column("card", sa.Text(), nullable=True),
        sa.Column("used_s", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("code"),
    )
    op.create_index("ix_invitation_unit", "invitation", ["unit"])
    op.create_table(
        "log",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("last", sa.Integer(), nullable=False),
        sa.Column("running", sa.Text(), nullable=False),
        sa.Column("opened_s", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit", "id"),
    )
    op.create_table(
        "person",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit", "id"),
    )
    op.create_table(
        "show",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("site", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("starts", sa.Text(), nullable=False),
        sa.Column("ends", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit", "id"),
    )
    op.create_table(
        "entry",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("log", sa.Text(), nullable=False),
        sa.Column("receipt", sa.Integer(), nullable=False),
        sa.Column("running", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=False),
        sa.Column("number", sa.BigInteger(), nullable=False),
        sa.Column("previous", sa.Text(), nullable=True),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("received_s", sa.Integer(), nullable=False),
        sa.Column("jws", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),
        sa.PrimaryKeyConstraint("unit", "log", "receipt"),
    )
    op.create_index("entry_of_kind", "entry", ["unit", "kind"])
    op.create_index("entry_of_name", "entry", ["unit", "log", "name"], unique=True)
    op.create_index("entry_of_subject", "entry", ["unit", "subject"])
    op.create_table(
        "file_named",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("log", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),
        sa.PrimaryKeyConstraint("unit", "log", "digest"),
    )
    op.create_table(
        "waiting",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("log", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("kid", sa.Text(), nullable=False),
        sa.Column("jws", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),
        sa.PrimaryKeyConstraint("unit", "log", "digest"),
    )
    op.create_index("waiting_of_key", "waiting", ["unit", "kid"])
