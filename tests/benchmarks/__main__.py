"""`python3 tests/benchmarks [part ...]`: how fast the shed is, beside what the machine can do.

Prints ratios to a reference of the same run. Nothing passes or fails by its time; what is not
stored, or not in order, ends it.
"""

import argparse
import importlib
import sys
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).resolve().parents[2]
# `tests` is found from the project's folder, and nothing by accident from beside this file.
sys.path[:1] = [str(ROOT), str(ROOT / "server")]

from bootstrap import run_where  # noqa: E402

if TYPE_CHECKING:
    from tests.benchmarks.reference import Row

# Every part is a module of this folder with a function `measure`, which gives its rows. What needs
# a browser is run by name only.
PARTS = {
    "push": "tests.benchmarks.push",
    "pull": "tests.benchmarks.pull",
    "nothing": "tests.benchmarks.nothing",
    "phones": "tests.benchmarks.phones",
    "findings": "tests.benchmarks.findings",
    "memory": "tests.benchmarks.memory",
}
BY_NAME_ONLY = {"phone": "tests.benchmarks.phone"}
HEADINGS = ("what", "measured", "reference", "ratio", "aim")


def main() -> int:
    """Run in an environment that has Shedbook's packages, this one if it has them."""
    return run_where("flask_sqlalchemy", measure_parts, Path(__file__).parent)


def measure_parts() -> int:
    """Measure the parts that were asked for, each in a process state of its own making."""
    parts = PARTS | BY_NAME_ONLY
    reader = argparse.ArgumentParser(prog="python3 tests/benchmarks", description=__doc__)
    reader.add_argument("parts", nargs="*", metavar="part", help=f"of: {', '.join(parts)}")
    asked = reader.parse_args().parts
    if unknown := set(asked) - set(parts):
        reader.error(f"no such part: {', '.join(sorted(unknown))}; there are {', '.join(parts)}")
    rows = []
    for name in asked or PARTS:
        print(f"measuring {name} ...", file=sys.stderr, flush=True)
        rows += importlib.import_module(parts[name]).measure()
    print(table_of(rows))
    return 0


def table_of(rows: "list[Row]") -> str:
    """The rows as a Markdown table, which docs/performance.md can take as it is."""
    lines = [HEADINGS, *((row[0], row[1], row[2], f"{row[3]:.3f}", row[4]) for row in rows)]
    widths = [max(len(line[place]) for line in lines) for place in range(len(HEADINGS))]
    lines.insert(1, tuple("-" * width for width in widths))
    return "\n".join(
        "| "
        + " | ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        + " |"
        for line in lines
    )


if __name__ == "__main__":
    sys.exit(main())
