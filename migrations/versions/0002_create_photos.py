"""Create the images of photos.

What: a list of images by the hash of their bytes, and beside it the bytes themselves.
Why: a photo's entry names its image; the list is read often, the bytes seldom and one at a time.
What an old phone sees: nothing. It keeps the entries of photos as a kind that it does not know yet.
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

ID = sa.String(36).with_variant(sa.String(36, collation="C"), "postgresql")
HASH = sa.String(64)


def upgrade() -> None:
    op.create_table(
        "photos",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("sha256", HASH, nullable=False),
        sa.Column("type", sa.String(length=16), nullable=False),
        sa.Column("bytes", sa.Integer(), nullable=False),
        sa.Column("width_px", sa.Integer(), nullable=False),
        sa.Column("height_px", sa.Integer(), nullable=False),
        sa.Column("device_id", ID, nullable=True),
        sa.Column("received_at_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["garden_id"], ["gardens.id"], name="fk_photos_garden_id"),
        sa.ForeignKeyConstraint(["device_id"], ["devices.id"], name="fk_photos_device_id"),
        sa.PrimaryKeyConstraint("garden_id", "sha256", name="pk_photos"),
    )
    op.create_table(
        "photo_images",
        sa.Column("garden_id", ID, nullable=False),
        sa.Column("sha256", HASH, nullable=False),
        sa.Column("image", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ["garden_id", "sha256"],
            ["photos.garden_id", "photos.sha256"],
            name="fk_photo_images_garden_id_sha256",
        ),
        sa.PrimaryKeyConstraint("garden_id", "sha256", name="pk_photo_images"),
    )
