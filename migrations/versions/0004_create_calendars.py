"""Create the private addresses of calendars.

What: a table of addresses under which a calendar program fetches what is due, by the hash of their
token. Why: people look at one calendar for all their work. What an old phone sees: nothing.
"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

ID = sa.String(36).with_variant(sa.String(36, collation="C"), "postgresql")


def upgrade() -> None:
    op.create_table(
        "calendars",
        sa.Column("id", ID, nullable=False),
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("person_id", ID, nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("language", sa.String(16), nullable=False),
        sa.Column("created_at_ms", sa.BigInteger(), nullable=False),
        sa.Column("revoked_at_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_calendars_garden_id"),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"], name="fk_calendars_person_id"),
        sa.PrimaryKeyConstraint("id", name="pk_calendars"),
        sa.UniqueConstraint("token_hash", name="uq_calendars_token_hash"),
    )
    op.create_index("ix_calendars_garden_id", "calendars", ["garden_id"])
