"""Create the log and who may write to it.

What: gardens, people, devices and invitations; notebooks and the numbers that have arrived; the
log and what was set aside; and what is worked out from the log (homes, neighbours, standing).
Why: the first release.
What an old phone sees: there is none.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

ID = sa.String(36).with_variant(sa.String(36, collation="C"), "postgresql")
CLOCK = sa.String(16).with_variant(sa.String(16, collation="C"), "postgresql")
HASH = sa.String(64)


def upgrade() -> None:
    _create_gardens_and_people()
    _create_devices()
    _create_arrivals()
    _create_entries()
    _create_set_aside()
    _create_derived()


def _create_gardens_and_people() -> None:
    op.create_table(
        "gardens",
        sa.Column("id", ID, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("head", sa.BigInteger(), nullable=False),
        sa.Column("epoch", ID, nullable=False),
        sa.Column("created_at_ms", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_gardens"),
    )
    op.create_table(
        "people",
        sa.Column("id", ID, nullable=False),
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("role", sa.String(length=16), nullable=False),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_people_garden_id"),
        sa.PrimaryKeyConstraint("id", name="pk_people"),
        sa.UniqueConstraint("garden_id", "name", name="uq_people_garden_id_name"),
    )


def _create_devices() -> None:
    op.create_table(
        "devices",
        sa.Column("id", ID, nullable=False),
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("person_id", ID, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("secret_hash", HASH, nullable=False),
        sa.Column("created_at_ms", sa.BigInteger(), nullable=False),
        sa.Column("heard_at_ms", sa.BigInteger(), nullable=True),
        sa.Column("waiting", sa.BigInteger(), nullable=False),
        sa.Column("revoked_at_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_devices_garden_id"),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"], name="fk_devices_person_id"),
        sa.PrimaryKeyConstraint("id", name="pk_devices"),
        sa.UniqueConstraint("secret_hash", name="uq_devices_secret_hash"),
    )
    op.create_index("ix_devices_garden_id", "devices", ["garden_id"])
    op.create_table(
        "invitations",
        sa.Column("code_hash", HASH, nullable=False),
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("person_id", ID, nullable=False),
        sa.Column("expires_at_ms", sa.BigInteger(), nullable=False),
        sa.Column("spent_at_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_invitations_garden_id"),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"], name="fk_invitations_person_id"),
        sa.PrimaryKeyConstraint("code_hash", name="pk_invitations"),
    )


def _create_arrivals() -> None:
    op.create_table(
        "notebooks",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("id", ID, nullable=False),
        sa.Column("device_id", ID, nullable=False),
        sa.Column("unbroken", sa.BigInteger(), nullable=False),
        sa.Column("highest", sa.BigInteger(), nullable=False),
        sa.Column("arrived", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["device_id"], ["devices.id"], name="fk_notebooks_device_id"),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_notebooks_garden_id"),
        sa.PrimaryKeyConstraint("garden_id", "id", name="pk_notebooks"),
    )
    op.create_index("ix_notebooks_device_id", "notebooks", ["device_id"])
    op.create_table(
        "arrivals",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("notebook_id", ID, nullable=False),
        sa.Column("number", sa.BigInteger(), nullable=False),
        sa.Column("entry_id", ID, nullable=False),
        sa.ForeignKeyConstraint(
            ["garden_id", "notebook_id"],
            ["notebooks.garden_id", "notebooks.id"],
            name="fk_arrivals_garden_id_notebook_id",
        ),
        sa.PrimaryKeyConstraint("garden_id", "notebook_id", "number", name="pk_arrivals"),
        sqlite_with_rowid=False,
    )


def _create_entries() -> None:
    op.create_table(
        "entries",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("id", ID, nullable=False),
        sa.Column("seq", sa.BigInteger(), nullable=False),
        sa.Column("notebook_id", ID, nullable=False),
        sa.Column("number", sa.BigInteger(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("root_id", ID, nullable=True),
        sa.Column("bed_id", ID, nullable=True),
        sa.Column("planting_id", ID, nullable=True),
        sa.Column("garden_wide", sa.Boolean(), nullable=False),
        sa.Column("order", CLOCK, nullable=False),
        sa.Column("received_at_ms", sa.BigInteger(), nullable=False),
        sa.Column("content_hash", HASH, nullable=False),
        sa.Column("person_id", sa.Text(), nullable=False),
        sa.Column("device_id", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("remarks", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_entries_garden_id"),
        sa.PrimaryKeyConstraint("garden_id", "id", name="pk_entries"),
        sa.UniqueConstraint("garden_id", "seq", name="uq_entries_garden_id_seq"),
    )
    op.create_index(
        "ix_entries_bed",
        "entries",
        ["garden_id", "bed_id", "kind"],
        sqlite_where=sa.text("bed_id IS NOT NULL"),
    )
    op.create_index("ix_entries_garden_wide", "entries", ["garden_id", "garden_wide", "kind"])
    op.create_index(
        "ix_entries_planting",
        "entries",
        ["garden_id", "planting_id", "kind"],
        sqlite_where=sa.text("planting_id IS NOT NULL"),
    )
    op.create_index(
        "ix_entries_root",
        "entries",
        ["garden_id", "root_id"],
        sqlite_where=sa.text("root_id IS NOT NULL"),
    )


def _create_set_aside() -> None:
    op.create_table(
        "set_aside",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("entry_id", ID, nullable=False),
        sa.Column("notebook_id", ID, nullable=False),
        sa.Column("number", sa.BigInteger(), nullable=False),
        sa.Column("person_id", ID, nullable=False),
        sa.Column("content_hash", HASH, nullable=False),
        sa.Column("raw", sa.Text(), nullable=False),
        sa.Column("problems", sa.Text(), nullable=False),
        sa.Column("received_at_ms", sa.BigInteger(), nullable=False),
        sa.Column("mended_by", ID, nullable=True),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_set_aside_garden_id"),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"], name="fk_set_aside_person_id"),
        sa.PrimaryKeyConstraint("garden_id", "entry_id", name="pk_set_aside"),
    )


def _create_derived() -> None:
    op.create_table(
        "homes",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("subject_id", ID, nullable=False),
        sa.Column("bed_id", ID, nullable=True),
        sa.Column("crop", sa.Text(), nullable=True),
        sa.Column("name", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_homes_garden_id"),
        sa.PrimaryKeyConstraint("garden_id", "subject_id", name="pk_homes"),
    )
    op.create_index("ix_homes_bed", "homes", ["garden_id", "bed_id"])
    op.create_table(
        "neighbours",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("bed_id", ID, nullable=False),
        sa.Column("other_id", ID, nullable=False),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_neighbours_garden_id"),
        sa.PrimaryKeyConstraint("garden_id", "bed_id", "other_id", name="pk_neighbours"),
    )
    op.create_index("ix_neighbours_other", "neighbours", ["garden_id", "other_id"])
    op.create_table(
        "standing",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("bed_group", ID, nullable=False),
        sa.Column("today", sa.Integer(), nullable=False),
        sa.Column("digest", HASH, nullable=False),
        sa.Column("as_of_s", sa.BigInteger(), nullable=False),
        sa.Column("head", sa.BigInteger(), nullable=False),
        sa.Column("findings", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_standing_garden_id"),
        sa.PrimaryKeyConstraint("garden_id", "bed_group", "today", "digest", name="pk_standing"),
    )
