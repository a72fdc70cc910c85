"""The one module that knows where the files beside the Python code lie.

They lie in one of two trees with the same names inside:

* the checkout: the repository's own folders, and `build/client-packages/vendor` for the files that
  come from npm (the build hook puts them there, `client/` itself is never written to);
* the wheel: `shedbook/_tree`, where the npm files already lie in `client/vendor`.

A client module imports an npm package by a relative address: `./vendor/lit-html/lit-html.js` from
`client/main.js`, `../vendor/idb/index.js` from `client/store/`. The packages' own imports are
relative too (`../directive.js`), so the files are served unchanged and no import map is needed.
"""

import os
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_IN_WHEEL = (_PACKAGE / "_tree").is_dir()

ROOT = _PACKAGE / "_tree" if _IN_WHEEL else _PACKAGE.parents[1]
CLIENT = ROOT / "client"
MIGRATIONS = ROOT / "migrations"
SEED_DEMO = ROOT / "seed_demo"
# What a data folder holds: the log and all else of a shed that keeps it in SQLite.
LOG_FILE = "shedbook.sqlite3"
VENDOR = CLIENT / "vendor" if _IN_WHEEL else ROOT / "build" / "client-packages" / "vendor"

_SERVED_SUFFIXES = frozenset({".js", ".css", ".html", ".json", ".svg", ".png", ".woff2"})


def client_files() -> dict[str, Path]:
    """Every file that the phone may ask for, by its address below the client's root, sorted.

    `{"index.html": ..., "words/en.json": ..., "vendor/lit-html/lit-html.js": ...}`
    """
    own = {file.relative_to(CLIENT).as_posix(): file for file in CLIENT.rglob("*")}
    vendored = {f"vendor/{file.relative_to(VENDOR).as_posix()}": file for file in VENDOR.rglob("*")}
    found = own | vendored
    return {address: found[address] for address in sorted(found) if _is_served(found[address])}


def default_data_folder() -> Path:
    """Where a shed keeps its garden when nobody says otherwise; SHEDBOOK_DATA says otherwise."""
    chosen = os.environ.get("SHEDBOOK_DATA")
    if chosen:
        return Path(chosen).expanduser()
    # Imported here because the build hook reads this file where nothing is installed yet.
    from platformdirs import user_data_path

    return user_data_path("shedbook", appauthor=False)


def _is_served(file: Path) -> bool:
    """Words are JSON that the phone reads; the JSON beside index.html configures npm and tsc."""
    if file.suffix not in _SERVED_SUFFIXES or not file.is_file():
        return False
    if "node_modules" in file.parts:
        return False
    return not (file.suffix == ".json" and file.parent == CLIENT)
