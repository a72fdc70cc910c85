"""Find work and weather by the day on which it happened, and what is asked for long after.

What: a column with the day on which an entry says that it happened, and one with what a feed or a
scouting is about, both filled from the entries' texts; the indexes of beds and of what holds for
the whole garden tell them.
Why: the rules look at routine work of the last year alone, and what is older must not be gone
through for each answer, whenever it was received.
What an old phone sees: nothing.
"""

import json

import sqlalchemy as sa
from alembic import op

from shedbook.log.moment import parse_day

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

HAS_BED = sa.text("bed_id IS NOT NULL")
DATE_LENGTH = len("2026-06-01")
AT_ONCE = 1_000
TOPIC_FIELDS = {"feed": "origin", "scout": "organism"}
_PAGE = sa.text(
    "SELECT id, seq, kind, body FROM entries WHERE garden_id = :garden AND seq > :after"
    " ORDER BY seq LIMIT :most"
)
_TELL = sa.text(
    "UPDATE entries SET day = :day, topic = :topic WHERE garden_id = :garden AND id = :id"
)


def upgrade() -> None:
    op.add_column("entries", sa.Column("day", sa.Integer(), server_default="0", nullable=False))
    op.add_column("entries", sa.Column("topic", sa.Text(), nullable=True))
    for (garden,) in op.get_bind().execute(sa.text("SELECT id FROM gardens")).all():
        _tell(garden)
    op.drop_index("ix_entries_bed", table_name="entries")
    op.create_index(
        "ix_entries_bed",
        "entries",
        ["garden_id", "bed_id", "kind", "day", "topic"],
        sqlite_where=HAS_BED,
    )
    op.drop_index("ix_entries_garden_wide", table_name="entries")
    op.create_index(
        "ix_entries_garden_wide",
        "entries",
        ["garden_id", "kind", "day"],
        sqlite_where=sa.text("garden_wide = 1"),
        postgresql_where=sa.text("garden_wide"),
    )


def _tell(garden: str) -> None:
    """Some at a time, since a log may be larger than memory."""
    connection, after = op.get_bind(), 0
    asked = {"garden": garden, "most": AT_ONCE}
    while rows := connection.execute(_PAGE, asked | {"after": after}).all():
        connection.execute(_TELL, [_told(row, garden) for row in rows])
        after = rows[-1].seq


def _told(row: sa.Row, garden: str) -> dict[str, object]:
    entry = json.loads(row.body)
    topic = entry["details"].get(TOPIC_FIELDS.get(row.kind))
    is_text = isinstance(topic, str) and topic.isprintable()
    day = parse_day(entry["happened_at"][:DATE_LENGTH])
    return {"garden": garden, "id": row.id, "day": day, "topic": topic if is_text else None}
