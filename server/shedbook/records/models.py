"""The tables. `entries`, `set_aside`, `arrivals`, photos, people and devices hold the facts;
`homes`, `neighbours` and `standing` are worked out from the log and may be thrown away.
"""

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import (
    BigInteger,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    LargeBinary,
    MetaData,
    String,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

# Ids are compared byte by byte on every engine; PostgreSQL would else sort them by language.
ID = String(36).with_variant(String(36, collation="C"), "postgresql")
CLOCK = String(16).with_variant(String(16, collation="C"), "postgresql")
HASH = String(64)


class Base(DeclarativeBase):
    """Names every constraint, so that a later migration can name it too."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s",
            "pk": "pk_%(table_name)s",
        }
    )


db = SQLAlchemy(
    metadata=Base.metadata, session_options={"expire_on_commit": False, "autoflush": False}
)


class Garden(Base):
    """`head` is the sequence number of the garden's newest entry; its row is the garden's lock."""

    __tablename__ = "gardens"

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    zone: Mapped[str] = mapped_column(Text)
    head: Mapped[int] = mapped_column(BigInteger, default=0)
    epoch: Mapped[str] = mapped_column(ID)
    created_at_ms: Mapped[int] = mapped_column(BigInteger)


class Person(Base):
    __tablename__ = "people"
    __table_args__ = (UniqueConstraint("garden_id", "name"),)

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"))
    name: Mapped[str] = mapped_column(Text)
    role: Mapped[str] = mapped_column(String(16))


class Device(Base):
    """A paired phone or browser. Its secret is known to it alone; here lies only the hash."""

    __tablename__ = "devices"

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), index=True)
    person_id: Mapped[str] = mapped_column(ForeignKey("people.id"))
    name: Mapped[str] = mapped_column(Text)
    secret_hash: Mapped[str] = mapped_column(HASH, unique=True)
    created_at_ms: Mapped[int] = mapped_column(BigInteger)
    heard_at_ms: Mapped[int | None] = mapped_column(BigInteger)
    waiting: Mapped[int] = mapped_column(BigInteger, default=0)
    revoked_at_ms: Mapped[int | None] = mapped_column(BigInteger)


class Invitation(Base):
    """A one-time code that makes a device of a person; only its hash is kept."""

    __tablename__ = "invitations"

    code_hash: Mapped[str] = mapped_column(HASH, primary_key=True)
    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"))
    person_id: Mapped[str] = mapped_column(ForeignKey("people.id"))
    expires_at_ms: Mapped[int] = mapped_column(BigInteger)
    spent_at_ms: Mapped[int | None] = mapped_column(BigInteger)


class Calendar(Base):
    """A private address of one person's calendar; only the hash of its token is kept."""

    __tablename__ = "calendars"

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), index=True)
    person_id: Mapped[str] = mapped_column(ForeignKey("people.id"))
    token_hash: Mapped[str] = mapped_column(HASH, unique=True)
    language: Mapped[str] = mapped_column(String(16))
    created_at_ms: Mapped[int] = mapped_column(BigInteger)
    revoked_at_ms: Mapped[int | None] = mapped_column(BigInteger)


class Notebook(Base):
    """One numbering of entries. `unbroken` is the highest number up to which all have arrived."""

    __tablename__ = "notebooks"

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    device_id: Mapped[str] = mapped_column(ForeignKey("devices.id"), index=True)
    unbroken: Mapped[int] = mapped_column(BigInteger, default=0)
    highest: Mapped[int] = mapped_column(BigInteger, default=0)
    arrived: Mapped[int] = mapped_column(BigInteger, default=0)


class Arrival(Base):
    """A number of a notebook that has come in, whether its entry went to the log or was set aside.

    It is not part of `entries` because an entry that was renumbered after a fork arrives under
    two numbers and is stored once.
    """

    __tablename__ = "arrivals"
    __table_args__ = (
        ForeignKeyConstraint(["garden_id", "notebook_id"], ["notebooks.garden_id", "notebooks.id"]),
        {"sqlite_with_rowid": False},
    )

    garden_id: Mapped[str] = mapped_column(ID, primary_key=True)
    notebook_id: Mapped[str] = mapped_column(ID, primary_key=True)
    number: Mapped[int] = mapped_column(BigInteger, primary_key=True)
    entry_id: Mapped[str] = mapped_column(ID)


class Entry(Base):
    """A row of the log. `body` is the entry as it was written; it is never changed.

    `root_id` is filled for `correct` and `void` alone; `garden_wide` marks entries without a
    subject, such as rain, which every bed's rules read; `day` is the local day on which it says
    that it happened, `topic` what it is about, where rules ask for that long after. `person_id` is
    who the entry names, `device_id` the device that brought it.
    """

    __tablename__ = "entries"
    __table_args__ = (
        UniqueConstraint("garden_id", "seq"),
        Index(
            "ix_entries_bed",
            "garden_id",
            "bed_id",
            "kind",
            "day",
            "topic",
            sqlite_where=text("bed_id IS NOT NULL"),
        ),
        Index(
            "ix_entries_planting",
            "garden_id",
            "planting_id",
            "kind",
            sqlite_where=text("planting_id IS NOT NULL"),
        ),
        Index("ix_entries_root", "garden_id", "root_id", sqlite_where=text("root_id IS NOT NULL")),
        Index(
            "ix_entries_garden_wide",
            "garden_id",
            "kind",
            "day",
            sqlite_where=text("garden_wide = 1"),
            postgresql_where=text("garden_wide"),
        ),
    )

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    seq: Mapped[int] = mapped_column(BigInteger)
    notebook_id: Mapped[str] = mapped_column(ID)
    number: Mapped[int] = mapped_column(BigInteger)
    kind: Mapped[str] = mapped_column(Text)
    root_id: Mapped[str | None] = mapped_column(ID)
    bed_id: Mapped[str | None] = mapped_column(ID)
    planting_id: Mapped[str | None] = mapped_column(ID)
    garden_wide: Mapped[bool] = mapped_column()
    day: Mapped[int] = mapped_column(server_default=text("0"))
    topic: Mapped[str | None] = mapped_column(Text)
    order: Mapped[str] = mapped_column(CLOCK)
    received_at_ms: Mapped[int] = mapped_column(BigInteger)
    content_hash: Mapped[str] = mapped_column(HASH)
    person_id: Mapped[str] = mapped_column(Text)
    device_id: Mapped[str] = mapped_column(Text)
    body: Mapped[str] = mapped_column(Text)
    remarks: Mapped[str | None] = mapped_column(Text)


class SetAside(Base):
    """A numbered entry that breaks its kind's rules, kept as it came until another mends it."""

    __tablename__ = "set_aside"

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    entry_id: Mapped[str] = mapped_column(ID, primary_key=True)
    notebook_id: Mapped[str] = mapped_column(ID)
    number: Mapped[int] = mapped_column(BigInteger)
    person_id: Mapped[str] = mapped_column(ForeignKey("people.id"))
    content_hash: Mapped[str] = mapped_column(HASH)
    raw: Mapped[str] = mapped_column(Text)
    problems: Mapped[str] = mapped_column(Text)
    received_at_ms: Mapped[int] = mapped_column(BigInteger)
    mended_by: Mapped[str | None] = mapped_column(ID)


class Photo(Base):
    """An image that a photo's entry names by the hash of its bytes; it may be here before it."""

    __tablename__ = "photos"

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    sha256: Mapped[str] = mapped_column(HASH, primary_key=True)
    type: Mapped[str] = mapped_column(String(16))
    bytes: Mapped[int] = mapped_column()
    width_px: Mapped[int] = mapped_column()
    height_px: Mapped[int] = mapped_column()
    device_id: Mapped[str | None] = mapped_column(ForeignKey("devices.id"))
    received_at_ms: Mapped[int] = mapped_column(BigInteger)


class PhotoImage(Base):
    """The bytes of an image, apart from the list of them, which is read far more often."""

    __tablename__ = "photo_images"
    __table_args__ = (
        ForeignKeyConstraint(["garden_id", "sha256"], ["photos.garden_id", "photos.sha256"]),
    )

    garden_id: Mapped[str] = mapped_column(ID, primary_key=True)
    sha256: Mapped[str] = mapped_column(HASH, primary_key=True)
    image: Mapped[bytes] = mapped_column(LargeBinary)


class Home(Base):
    """The bed that a planting stands in now (none: not yet in a bed); a bed is its own home.

    `crop` and `name` are what people call it: the name of a bed, the variety of a planting.
    """

    __tablename__ = "homes"

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    subject_id: Mapped[str] = mapped_column(ID, primary_key=True)
    bed_id: Mapped[str | None] = mapped_column(ID)
    crop: Mapped[str | None] = mapped_column(Text)
    name: Mapped[str | None] = mapped_column(Text)

    __table_args__ = (Index("ix_homes_bed", "garden_id", "bed_id"),)


class Neighbour(Base):
    """One bed says that another lies beside it; read in both directions."""

    __tablename__ = "neighbours"

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    bed_id: Mapped[str] = mapped_column(ID, primary_key=True)
    other_id: Mapped[str] = mapped_column(ID, primary_key=True)

    __table_args__ = (Index("ix_neighbours_other", "garden_id", "other_id"),)


class Standing(Base):
    """The findings of one bed group on one day by one rulebook, as of one second."""

    __tablename__ = "standing"

    garden_id: Mapped[str] = mapped_column(ForeignKey("gardens.id"), primary_key=True)
    bed_group: Mapped[str] = mapped_column(ID, primary_key=True)
    today: Mapped[int] = mapped_column(primary_key=True)
    digest: Mapped[str] = mapped_column(HASH, primary_key=True)
    as_of_s: Mapped[int] = mapped_column(BigInteger)
    head: Mapped[int] = mapped_column(BigInteger)
    findings: Mapped[str] = mapped_column(Text)
