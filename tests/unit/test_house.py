"""The house rules that a program can see, held for every file of ours."""

from __future__ import annotations

import ast
import posixpath
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from shedbook import places

ROOT = places.ROOT
OURS = ("server", "client", "migrations", "seed_demo", "tests", "docs", ".ci")
MADE = {"__pycache__", "build", "node_modules"}

LONGEST_FILE = {".py": 400, ".js": 300, ".css": 250}
LONGEST_FUNCTION = 40

LOG, RULES = "server/shedbook/log", "server/shedbook/rules"
AGRONOMY = "server/shedbook/agronomy"
# Read files, describe forms, or judge what arrives: on the server alone.
# The phone checks one form at a time: `subjects` has its other half in client/log/check.js too.
LOG_WITHOUT_TWIN = {"__init__", "content", "describe", "evident", "plain", "subjects"}
RULES_WITHOUT_TWIN = {"__init__", "rulebook"}
# These need more than the arithmetic both sides share; their results reach the phone as figures.
AGRONOMY_WITHOUT_TWIN = {
    "__init__",
    "degree_days_more",
    "disease_progress",
    "dispersion",
    "humidity",
    "join_counts",
    "penman_monteith",
    "radiation",
    "wind",
}
# These handle what a person typed, or make what no rule counts with.
LOG_WITHOUT_ARITHMETIC = LOG_WITHOUT_TWIN | {"check", "identity"}

BANNED_CALLS_PY = {"sum", "round", "pow"}
BANNED_METHODS_PY = {"lower", "upper", "casefold", "title", "strip", "lstrip", "rstrip"}
BANNED_MODULES_PY = {"datetime", "locale", "time", "statistics", "zoneinfo"}
# What IEEE 754 fixes to the bit; every other function of a library may differ in the last one.
EXACT_MATHS_PY = {"sqrt", "floor", "ceil", "inf"}
BANNED_JS = re.compile(
    r"\bMath\.(?!(?:sqrt|floor|ceil|abs|min|max)\b)\w+|\.toFixed\b|\bIntl\b|\bDate\b|\.localeCompare\b"
    r"|\.toLowerCase\b|\.toUpperCase\b|\.trim(?:Start|End)?\b|\*\*|\bsum\(|\bround\("
)
JS_COMMENT_OR_STRING = re.compile(
    r"//[^\n]*|/\*.*?\*/|\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\\\n]|\\.)*'", re.DOTALL
)
JS_IMPORT = re.compile(
    r"(?:(?:^|;)\s*(?:import|export)\b(?:[\s\w{},*$]*\bfrom)?|\bimport\()\s*[\"']([^\"'\n]+)[\"']",
    re.MULTILINE,
)
# In pieces, or this file would find itself.
ELSEWHERE = re.compile(
    "|".join(
        [
            r"registry\." + r"npmjs",
            r"pypi\." + r"org",
            r"files\." + r"pythonhosted",
            r"index" + r"-url",
            r"/home/" + r"\w+/",
            r"/Users/" + r"\w+/",
            r"(?<![\w.-])/work" + r"/",
            r"(?<![\w.-])/tmp" + r"/",
            re.escape(f"{ROOT}/"),
        ]
    )
)


def our_files(*suffixes: str) -> list[Path]:
    """Every file of the project that people write, or only those with one of these endings."""
    beside = [file for file in ROOT.iterdir() if file.is_file()]
    within = [file for folder in OURS for file in (ROOT / folder).rglob("*") if file.is_file()]
    written = [file for file in beside + within if not is_made(file.relative_to(ROOT))]
    return sorted(file for file in written if not suffixes or file.suffix in suffixes)


def is_made(file: Path) -> bool:
    """Whether a program put it there: caches begin with a dot, and so does .ci, which is ours."""
    folders = set(file.parts[:-1])
    return bool(folders & MADE) or any(name.startswith(".") for name in folders - {".ci"})


def name_of(file: Path) -> str:
    return file.relative_to(ROOT).as_posix()


def twinned(folder: str, without: set[str]) -> list[str]:
    """The names of a folder's Python modules that must exist in JavaScript too."""
    return sorted({file.stem for file in (ROOT / folder).glob("*.py")} - without)


def imports_of(module: str) -> list[str]:
    """The addresses that a JavaScript module imports; those in its comments are types alone."""
    code = re.sub(r"/\*.*?\*/", "", module, flags=re.DOTALL)
    return JS_IMPORT.findall(code)


def lines_of_functions(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """Each function with its length; what documents it does not count."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[1] if ast.get_docstring(node) and len(node.body) > 1 else node.body[0]
            yield node.name, (node.end_lineno or 0) - first.lineno + 1


def banned_in_python(source: str) -> list[str]:
    found = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Call(func=ast.Name(id=name)) if name in BANNED_CALLS_PY:
                found.append(f"{node.lineno}: {name}()")
            case ast.Call(func=ast.Attribute(attr=name)) if name in BANNED_METHODS_PY:
                found.append(f"{node.lineno}: .{name}()")
            case ast.Attribute(value=ast.Name(id="math"), attr=name) if name not in EXACT_MATHS_PY:
                found.append(f"{node.lineno}: math.{name}")
            case ast.BinOp(op=ast.Pow()) | ast.AugAssign(op=ast.Pow()):
                found.append(f"{node.lineno}: **")
            case ast.Import(names=names) if {n.name for n in names} & BANNED_MODULES_PY:
                found.append(f"{node.lineno}: import {names[0].name}")
            case ast.ImportFrom(module=name) if name in BANNED_MODULES_PY:
                found.append(f"{node.lineno}: from {name}")
    return found


def banned_in_javascript(source: str) -> list[str]:
    def blank(hidden: re.Match[str]) -> str:
        return "\n" * hidden.group().count("\n")

    code = JS_COMMENT_OR_STRING.sub(blank, source)
    return [
        f"{code.count(chr(10), 0, hit.start()) + 1}: {hit.group()}"
        for hit in BANNED_JS.finditer(code)
    ]


def test_files_stay_within_their_size() -> None:
    lengths = {
        name_of(file): (len(file.read_text(encoding="utf-8").splitlines()), file.suffix)
        for file in our_files(*LONGEST_FILE)
    }
    too_long = {name: size for name, (size, kind) in lengths.items() if size > LONGEST_FILE[kind]}
    assert not too_long
    assert len(lengths) > 50


def test_python_functions_stay_within_their_size() -> None:
    too_long = [
        f"{name_of(file)}: {function} {length}"
        for file in our_files(".py")
        # A migration is one list of what it makes, and is never changed again.
        if "versions" not in file.parts
        for function, length in lines_of_functions(ast.parse(file.read_text(encoding="utf-8")))
        if length > LONGEST_FUNCTION
    ]
    assert not too_long


def test_no_file_names_a_registry_or_a_folder_of_one_machine() -> None:
    hits = [
        f"{name_of(file)}: {hit.group()}"
        for file in our_files()
        for hit in ELSEWHERE.finditer(file.read_text(encoding="utf-8", errors="ignore"))
    ]
    assert not hits


def test_lock_file_names_no_host() -> None:
    lock = (ROOT / "client" / "package-lock.json").read_text(encoding="utf-8")
    assert "integrity" in lock
    assert "://" not in lock


def test_every_module_of_the_client_is_type_checked() -> None:
    modules = our_files(".js")
    unchecked = [
        name_of(file)
        for file in modules
        if "client" in file.relative_to(ROOT).parts
        and not file.read_text(encoding="utf-8").startswith("// @ts-check\n")
    ]
    assert modules
    assert not unchecked


def test_every_import_of_the_client_is_a_served_file() -> None:
    served = places.source_files()
    assert "vendor/lit-html/lit-html.js" in served
    lost = [
        f"{address}: {wanted}"
        for address, file in served.items()
        if address.endswith(".js")
        for wanted in imports_of(file.read_text(encoding="utf-8"))
        if not wanted.startswith(".")
        or posixpath.normpath(f"{posixpath.dirname(address)}/{wanted}").lstrip("/") not in served
    ]
    assert not lost


@pytest.mark.parametrize(
    ("folder", "without"),
    [
        (LOG, LOG_WITHOUT_TWIN),
        (RULES, RULES_WITHOUT_TWIN),
        (AGRONOMY, AGRONOMY_WITHOUT_TWIN),
    ],
    ids=["log", "rules", "agronomy"],
)
def test_every_twin_has_its_other_half(folder: str, without: set[str]) -> None:
    names = twinned(folder, without)
    mirror = ROOT / "client" / Path(folder).name
    assert names == sorted(file.stem for file in mirror.glob("*.js"))


def test_python_twins_use_only_the_arithmetic_both_sides_share() -> None:
    names = [f"{LOG}/{name}.py" for name in twinned(LOG, LOG_WITHOUT_ARITHMETIC)]
    names += [f"{RULES}/{name}.py" for name in twinned(RULES, RULES_WITHOUT_TWIN)]
    names += [f"{AGRONOMY}/{name}.py" for name in twinned(AGRONOMY, AGRONOMY_WITHOUT_TWIN)]
    found = {name: banned_in_python((ROOT / name).read_text(encoding="utf-8")) for name in names}
    assert not {name: hits for name, hits in found.items() if hits}


def test_javascript_twins_use_only_the_arithmetic_both_sides_share() -> None:
    names = [f"client/log/{name}.js" for name in twinned(LOG, LOG_WITHOUT_ARITHMETIC)]
    names += [f"client/rules/{name}.js" for name in twinned(RULES, RULES_WITHOUT_TWIN)]
    names += [f"client/agronomy/{name}.js" for name in twinned(AGRONOMY, AGRONOMY_WITHOUT_TWIN)]
    found = {
        name: banned_in_javascript((ROOT / name).read_text(encoding="utf-8")) for name in names
    }
    assert not {name: hits for name, hits in found.items() if hits}


@pytest.mark.parametrize(
    "line",
    [
        "x = sum(y)",
        "x = round(y)",
        "x = y ** 2",
        "x = math.sin(y)",
        "x = y.strip()",
        "import datetime",
    ],
)
def test_banned_python_is_found(line: str) -> None:
    assert banned_in_python(line)


@pytest.mark.parametrize(
    "line",
    [
        "Math.round(x)",
        "Math.sin(x)",
        "x.toFixed(1)",
        "new Date()",
        "a.localeCompare(b)",
        "x ** 2",
        "`${x.trim()}`",
    ],
)
def test_banned_javascript_is_found(line: str) -> None:
    assert banned_in_javascript(f"const a = 'x';\n{line};")


@pytest.mark.parametrize("line", ["// a Date", "/** @type {Date} ** */", "'x.trim()'"])
def test_banned_javascript_is_not_found_in_what_does_not_run(line: str) -> None:
    assert not banned_in_javascript(f"{line}\nconst a = 1;")
