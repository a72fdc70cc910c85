"""Whether the tables of a store have the form that this program knows, and how they get it.

A store without tables is given them at once. One that is behind is never changed by the way: its
keeper takes a backup and says so, by `shedbook upgrade`.
"""

from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine

from shedbook import places

# Any fixed number: two programs that start at once on one PostgreSQL take turns by it.
_MIGRATION_LOCK = 7_240_951


class SchemaUnfit(Exception):
    """The tables of the store are not those that this program knows."""


class NewerSchema(SchemaUnfit):
    """The store was written by a newer program than this one."""


class StoreBehind(SchemaUnfit):
    """The store was written by an older program, and has not been upgraded yet."""


def prepare_store(engine: Engine) -> None:
    """Give an empty store its tables. Raises NewerSchema or StoreBehind, with nothing changed."""
    with engine.connect() as connection:
        # Read first: a store that is as it should be opens on a disk that takes nothing, too.
        if _heads_of(connection):
            require_present(connection)
            return
    upgrade(engine, only_empty=True)


def require_present(connection: Connection) -> None:
    """Raises NewerSchema or StoreBehind unless the tables are those that this program knows."""
    scripts = ScriptDirectory.from_config(alembic_config(connection))
    _refuse_newer(connection, scripts)
    found, wanted = _heads_of(connection), scripts.get_current_head()
    if found != {wanted}:
        raise StoreBehind(
            f"This data was written by an older Shedbook (its tables are at "
            f"{', '.join(sorted(found)) or 'none'}, this one needs {wanted}). Stop the shed, then "
            "run `shedbook upgrade`: it takes a backup first."
        )


def upgrade(engine: Engine, *, only_empty: bool = False) -> tuple[str | None, str | None]:
    """Run the migrations that the store has not had yet, all or none; the forms before and after.

    With `only_empty` a store that has tables is looked at, and not changed. Raises NewerSchema.
    """
    with engine.connect() as plain:
        connection = plain.execution_options(shedbook_begin="BEGIN IMMEDIATE")
        with connection.begin():
            if engine.dialect.name == "postgresql":
                connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_MIGRATION_LOCK})")
            config = alembic_config(connection)
            _refuse_newer(connection, ScriptDirectory.from_config(config))
            before = next(iter(_heads_of(connection)), None)
            if before is not None and only_empty:
                # Another program has made the tables meanwhile.
                require_present(connection)
                return before, before
            command.upgrade(config, "head")
            return before, next(iter(_heads_of(connection)), None)


def alembic_config(connection: Connection) -> Config:
    """Alembic's settings, without a file: the migrations run on the given connection."""
    config = Config()
    config.set_main_option("script_location", str(places.MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def _refuse_newer(connection: Connection, scripts: ScriptDirectory) -> None:
    known = {script.revision for script in scripts.walk_revisions()}
    if unknown := sorted(_heads_of(connection) - known):
        raise NewerSchema(
            f"This data was written by a newer Shedbook (its tables are at {', '.join(unknown)}). "
            "Update Shedbook, or choose another data folder."
        )


def _heads_of(connection: Connection) -> set[str]:
    return set(MigrationContext.configure(connection).get_current_heads())
