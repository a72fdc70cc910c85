"""The composition root: puts records, sync, api and serving together into one Flask app."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from flask import Flask
from sqlalchemy import URL, Engine, create_engine, make_url
from sqlalchemy.exc import DBAPIError

from shedbook import api, places
from shedbook.api.context import Shed
from shedbook.api.limits import SpendLimit
from shedbook.records.engine import engine_options, now_ms, prepare_engine
from shedbook.records.models import db
from shedbook.records.photos import GARDEN_PHOTO_BYTES
from shedbook.records.refusals import find_refusal
from shedbook.records.schema import prepare_store, upgrade
from shedbook.rules.rulebook import load_rulebook
from shedbook.serving import assets, headers, logs

BODY_LIMIT_BYTES = 1024 * 1024
LOG_FILE = places.LOG_FILE


@dataclass(frozen=True)
class Config:
    """What one running shed is given.

    `origin` is scheme, name and port as the phones write it, fixed before the first pairing;
    None takes what each request names, which suits a shed that is only used on its own computer.
    `photo_limit_bytes` is what all images of a garden may take.
    """

    database_url: str
    origin: str | None = None
    clock_ms: Callable[[], int] = now_ms
    photo_limit_bytes: int = GARDEN_PHOTO_BYTES


def open_data(folder: Path | None = None, database_url: str | None = None) -> str:
    """Prepare a data folder (or a database), with tables where there are none; returns its URL.

    Raises shedbook.records.schema.SchemaUnfit when another version's program has written it: data
    that is behind is changed by `upgrade_data` alone.
    """
    url = _url_of(folder, database_url)
    with _engine(url) as engine:
        prepare_store(engine)
    return url


def upgrade_data(
    folder: Path | None = None, database_url: str | None = None
) -> tuple[str | None, str | None]:
    """Bring the tables to this program's form, wholly or not at all; the forms before and after.

    Raises shedbook.records.schema.NewerSchema.
    """
    with _engine(_url_of(folder, database_url)) as engine:
        return upgrade(engine)


def _url_of(folder: Path | None, database_url: str | None) -> str:
    if database_url:
        url = _with_driver(make_url(database_url))
    else:
        chosen = (folder or places.default_data_folder()).resolve()
        chosen.mkdir(parents=True, exist_ok=True, mode=0o700)
        url = URL.create("sqlite", database=str(chosen / LOG_FILE))
    return url.render_as_string(hide_password=False)


@contextmanager
def _engine(url: str) -> Iterator[Engine]:
    """A short-lived engine. What the disk refuses is raised as CannotWrite."""
    engine = create_engine(url, **engine_options(url))
    prepare_engine(engine)
    try:
        yield engine
    except DBAPIError as error:
        if refusal := find_refusal(error, engine):
            raise refusal from error
        raise
    finally:
        engine.dispose()


def create_app(config: Config) -> Flask:
    """A WSGI app over a store that `open_data` has opened."""
    # Flask-SQLAlchemy makes the instance folder, which must not lie beside the program's own files.
    app = Flask("shedbook", static_folder=None, instance_path=_folder_of(config.database_url))
    app.config.update(
        SQLALCHEMY_DATABASE_URI=config.database_url,
        SQLALCHEMY_ENGINE_OPTIONS=engine_options(config.database_url),
        MAX_CONTENT_LENGTH=BODY_LIMIT_BYTES,
    )
    db.init_app(app)
    with app.app_context():
        prepare_engine(db.engine)
    tree = assets.load_tree()
    app.extensions["shedbook"] = Shed(
        origin=config.origin,
        clock_ms=config.clock_ms,
        rulebook=load_rulebook(),
        assets_digest=tree.digest,
        spend_limit=SpendLimit(),
        photo_limit_bytes=config.photo_limit_bytes,
    )
    # First, so that a request which is refused before its view has its line too.
    logs.register(app)
    api.register(app)
    assets.register(app, tree)
    headers.register(app)
    return app


def _folder_of(database_url: str) -> str:
    """The folder of an SQLite file; for a database elsewhere the present one, left unused."""
    url = make_url(database_url)
    is_file = url.get_backend_name() == "sqlite" and url.database
    return str(Path(url.database).resolve().parent if is_file and url.database else Path.cwd())


def _with_driver(url: URL) -> URL:
    """`postgresql://` and `postgres://` mean psycopg 3, the driver that is installed."""
    if url.drivername in {"postgresql", "postgres"}:
        return url.set(drivername="postgresql+psycopg")
    return url
