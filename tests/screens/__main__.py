"""`python3 tests/screens`: a picture of every screen, in each language, at phone and desk size.

They lie in `build/screens/<language>/<size>/`; `build/screens/index.html` shows them side by side.
Nothing passes or fails by them: they are for eyes.
"""

import argparse
import importlib
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# `tests` is found from the project's folder, and nothing by accident from beside this file.
sys.path[:1] = [str(ROOT), str(ROOT / "server")]

from bootstrap import run_where  # noqa: E402
from shedbook.words import languages  # noqa: E402

LANGUAGES = tuple(languages())
SIZES = ("phone", "desk")
LOOKS = ("light", "dark", "sun")


def main() -> int:
    """Run in an environment that has the test packages, this one if it has them."""
    return run_where("playwright", take_asked, Path(__file__).parent)


def take_asked() -> int:
    """Take the pictures that were asked for: all languages and sizes, in the light look."""
    reader = argparse.ArgumentParser(prog="python3 tests/screens", description=__doc__)
    reader.add_argument("--language", choices=LANGUAGES, action="append")
    reader.add_argument("--size", choices=SIZES, action="append")
    reader.add_argument("--look", choices=LOOKS, default="light")
    reader.add_argument("--only", metavar="name", help="screens whose name has this in it")
    asked = reader.parse_args()
    take = importlib.import_module("tests.screens.take")
    sheet = take.take(
        asked.language or LANGUAGES, asked.size or SIZES, asked.look, asked.only or ""
    )
    print(sheet)
    return 0


if __name__ == "__main__":
    sys.exit(main())
