"""Reads the tables beside the published tests."""

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"


def rows_of(name: str) -> list[dict[str, str]]:
    """The rows of one table; lines that begin with # say where it is from."""
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
