"""`python3 tests/fuzz [--cases N] [--seed S]`: spoilt batches, straight through the shed's door.

Ends with 1 when the shed failed at a case, stored what it had not said, or can't read its log any
more. `--first-block` begins at a later block of the same seed: the one that a failure names.
"""

import argparse
import secrets
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# `tests` is found from the project's folder, and nothing by accident from beside this file.
sys.path[:1] = [str(ROOT), str(ROOT / "server")]

from bootstrap import run_where  # noqa: E402

CASES = 100_000


def main() -> int:
    """Run in an environment that has Shedbook's packages, this one if it has them."""
    return run_where("flask_sqlalchemy", send_cases, Path(__file__).parent)


def send_cases() -> int:
    """Send them, print what failed, and last one line that counts everything."""
    from tests.fuzz.run import fuzz

    reader = argparse.ArgumentParser(prog="tests/fuzz", description=__doc__)
    reader.add_argument("--cases", type=int, default=CASES)
    reader.add_argument("--seed", type=int, default=secrets.randbelow(10**6))
    reader.add_argument("--first-block", type=int, default=0)
    asked = reader.parse_args()
    outcome = fuzz(asked.cases, asked.seed, asked.first_block)
    for failure in outcome.failures:
        print(failure, end="\n\n")
    print(outcome.line())
    return 1 if outcome.failures else 0


if __name__ == "__main__":
    sys.exit(main())
