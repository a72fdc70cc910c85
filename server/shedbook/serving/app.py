"""The composition root: puts records, sync, api and serving together into one Flask app."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from flask import Flask
from sqlalchemy import URL, create_engine, make_url

from shedbook import api, places
from shedbook.api.context import Shed
from shedbook.api.limits import SpendLimit
from shedbook.records.engine import engine_options, now_ms, prepare_engine
from shedbook.records.models import db
from shedbook.records.schema import migrate
from shedbook.rules.rulebook import load_rulebook
from shedbook.serving import assets, headers

BODY_LIMIT_BYTES = 1024 * 1024
LOG_FILE = places.LOG_FILE


@dataclass(frozen=True)
class Config:
    """What one running shed is given.

    `origin` is scheme, name and port as the phones write it, fixed before the first pairing;
    None takes what each request names, which suits a shed that is only used on its own computer.
    """

    database_url: str
    origin: str | None = None
    clock_ms: Callable[[], int] = now_ms


def open_data(folder: Path | None = None, database_url: str | None = None) -> str:
    """Prepare a data folder (or a database) and bring its tables up to date; returns its URL.

    Raises shedbook.records.schema.NewerSchema when a newer program has written it.
    """
    if database_url:
        url = _with_driver(make_url(database_url))
    else:
        chosen = (folder or places.default_data_folder()).resolve()
        chosen.mkdir(parents=True, exist_ok=True, mode=0o700)
        url = URL.create("sqlite", database=str(chosen / LOG_FILE))
    text = url.render_as_string(hide_password=False)
    engine = create_engine(text, **engine_options(text))
    try:
        prepare_engine(engine)
        migrate(engine)
    finally:
        engine.dispose()
    return text


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
    )
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
