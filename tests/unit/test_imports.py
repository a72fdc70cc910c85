"""Imports point one way, from what serves towards what is pure."""

import ast
from pathlib import Path

import pytest

from shedbook import places

PACKAGE = places.ROOT / "server" / "shedbook"
# What a package may import of the others; every package may import itself, places and words.
ALLOWED = {
    "agronomy": set(),
    "crops": set(),
    "log": set(),
    "rules": {"log", "agronomy", "crops"},
    "reports": {"rules", "log", "agronomy", "crops"},
    "records": {"rules", "log", "crops"},
    "sync": {"records", "rules", "log"},
    "keeping": {"sync", "records", "rules", "log"},
    "api": {"reports", "crops", "agronomy", "sync", "records", "rules", "log"},
    "serving": {"api", "keeping", "sync", "records", "rules", "log"},
    "cli": {
        "reports",
        "agronomy",
        "serving",
        "api",
        "keeping",
        "sync",
        "records",
        "rules",
        "log",
        "crops",
    },
}
ANYWHERE = {"places", "words", "version"}
# The pure packages know nothing of the web, of SQL or of time of day; marshmallow defines kinds.
PURE = {"agronomy": set(), "crops": set(), "log": {"marshmallow"}, "rules": set(), "reports": set()}
OUTSIDE = {"flask", "sqlalchemy", "flask_sqlalchemy", "alembic", "waitress", "click", "apispec"}


def imported(file: Path) -> set[str]:
    """Full names of the modules that a file imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {f"{node.module}.{name.name}" for name in node.names}
    return found


def packages_used(files: list[Path]) -> set[str]:
    names = {name.split(".")[1] for file in files for name in imported(file) if is_own(name)}
    return names - ANYWHERE


def is_own(name: str) -> bool:
    return name.startswith("shedbook.")


def test_every_package_of_the_server_has_a_place_in_the_order() -> None:
    packages = {file.parent.name for file in PACKAGE.glob("*/__init__.py")}
    assert packages == set(ALLOWED)


@pytest.mark.parametrize("package", ALLOWED)
def test_a_package_imports_only_what_lies_further_in(package: str) -> None:
    used = packages_used(sorted((PACKAGE / package).rglob("*.py"))) - {package}
    assert used <= ALLOWED[package]


@pytest.mark.parametrize("package", PURE)
def test_a_pure_package_knows_nothing_of_the_web_or_of_sql(package: str) -> None:
    files = sorted((PACKAGE / package).rglob("*.py"))
    outside = {name.split(".")[0] for file in files for name in imported(file)}
    assert not outside & OUTSIDE
    assert "marshmallow" not in outside - PURE[package]


def test_what_any_package_may_import_imports_no_package() -> None:
    files = [PACKAGE / f"{name}.py" for name in ANYWHERE if (PACKAGE / f"{name}.py").exists()]
    assert not packages_used(files)
