"""The rulebook: every row, checked, with crops and kinds of hand work, under one digest."""

import functools
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from shedbook.crops import load_crops
from shedbook.log.kinds import KINDS
from shedbook.rules.rows import load_rows
from shedbook.rules.rows.check import check_row

# What every row may say beside the numbers of its shape.
COMMON = (
    "shape",
    "subject",
    "source",
    "caution",
    "urgency",
    "settles",
    "crops",
    "families",
    "bed_where",
)


@functools.cache
def load_rulebook() -> dict[str, Any]:
    """The rulebook that ships, as plain JSON."""
    return build_rulebook(load_rows())


def build_rulebook(rows: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """Check the rows and put them together; RowError names the row and what would be right."""
    crops = load_crops()
    families = {crop["family"] for crop in crops.values()}
    for rule_id, row in rows.items():
        check_row(rule_id, row, kinds=set(KINDS), crops=set(crops), families=families)
    rulebook: dict[str, Any] = {
        "rules": [_rule(rule_id, rows[rule_id]) for rule_id in sorted(rows)],
        "crops": crops,
        "hand_work": sorted(name for name, kind in KINDS.items() if kind.hand_work),
    }
    return {"digest": digest_of(rulebook), **rulebook}


def digest_of(rulebook: Mapping[str, Any]) -> str:
    """SHA-256 of the canonical JSON of everything but the digest itself."""
    content = {key: value for key, value in rulebook.items() if key != "digest"}
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def _rule(rule_id: str, row: Mapping[str, Any]) -> dict[str, Any]:
    params = {key: value for key, value in row.items() if key not in COMMON}
    common = {key: row[key] for key in COMMON if key in row}
    return {"id": rule_id, **common, "params": params}
