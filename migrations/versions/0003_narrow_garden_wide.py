"""Index what holds for a whole garden only where it holds.

What: the index of entries without a subject leaves out all others, and tells when each was
received.
Why: most entries name a bed, and every push wrote a line for each of them into an index that no
question reads there; the findings of a bed need the weather of the last seasons alone.
What an old phone sees: nothing.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.drop_index("ix_entries_garden_wide", table_name="entries")
    op.create_index(
        "ix_entries_garden_wide",
        "entries",
        ["garden_id", "kind", "received_at_ms"],
        sqlite_where=sa.text("garden_wide = 1"),
        postgresql_where=sa.text("garden_wide"),
    )
