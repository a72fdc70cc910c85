"""The one module that knows where the files beside the Python code lie.

They lie in one of two trees with the same names inside:

* the checkout: the repository's own folders, and `build/client-packages/vendor` for the files that
  come from npm (`client/` itself is never written to). `build/client-bundle` holds the client as a
  phone gets it, joined and shortened; while a source is newer, or SHEDBOOK_CLIENT=sources asks for
  it, the sources themselves are served;
* the wheel: `shedbook/_tree`, whose `client` is the bundle.

A client module imports an npm package by a relative address: `./vendor/lit-html/lit-html.js` from
`client/main.js`, `../vendor/idb/index.js` from `client/store/`. The packages' own imports are
relative too (`../directive.js`), so the files can be served unchanged and no import map is needed.
"""

import hashlib
import os
from collections.abc import Mapping
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
BUNDLE = ROOT / "build" / "client-bundle"
# In the bundle: the digest of the sources that it was made of.
MADE_OF = "made-of"

_SERVED_SUFFIXES = frozenset({".js", ".css", ".html", ".json", ".svg", ".png", ".woff2"})


def client_files() -> dict[str, Path]:
    """Every file that the phone may ask for, by its address below the client's root, sorted.

    `{"index.html": ..., "main.js": ..., "words/en.json": ...}`
    """
    sources = source_files()
    is_asked_for = os.environ.get("SHEDBOOK_CLIENT") == "sources"
    if _IN_WHEEL or is_asked_for or not bundle_is_made_of(digest_of(sources)):
        return sources
    return _served_below({BUNDLE: ""})


def source_files() -> dict[str, Path]:
    """The client as it is written, with the modules of the npm packages that it imports."""
    return _served_below({CLIENT: "", VENDOR: "vendor/"})


def digest_of(files: Mapping[str, Path]) -> str:
    """One digest for the addresses and contents of all files."""
    whole = hashlib.sha256()
    for address, file in files.items():
        content = file.read_bytes()
        whole.update(f"{address}\0{len(content)}\0".encode())
        whole.update(content)
    return whole.hexdigest()


def bundle_is_made_of(digest: str) -> bool:
    """Whether the bundle was made of the sources with this digest."""
    stamp = BUNDLE / MADE_OF
    return stamp.is_file() and stamp.read_text(encoding="utf-8") == digest


def _served_below(folders: Mapping[Path, str]) -> dict[str, Path]:
    found = {
        f"{below}{file.relative_to(folder).as_posix()}": file
        for folder, below in folders.items()
        for file in folder.rglob("*")
    }
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
