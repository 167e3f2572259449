"""What entries say of the kit, indexed; the calendar's address."""

import sqlalchemy as sa
from alembic import op

revision = "v002"
down_revision = "v001"


def upgrade() -> None:
    """Make them; `handline rebuild` fills the index of entries that were there before."""
    op.create_table(
        "kit_said",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("log", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("standing", sa.Text(), nullable=False),
        sa.Column("said", sa.Text(), nullable=False),
        sa.Column("replaced", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit", "log"], ["log.unit", "log.id"]),
        sa.PrimaryKeyConstraint("unit", "log", "subject"),
    )
    op.create_table(
        "calendar_address",
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("token", sa.Text(), nullable=False),
        sa.Column("made_s", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["unit"], ["unit.id"]),
        sa.PrimaryKeyConstraint("unit"),
        sa.UniqueConstraint("token"),
    )
