"""The rulebook: every row, checked, with crops and kinds of hand work, under one digest."""

import functools
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from shedbook.crops import load_crops, load_fertilizers, load_organisms, load_soils, load_sources
from shedbook.crops.hosts import load_hosts
from shedbook.crops.troubles_load import load_ranking, load_signs, load_troubles
from shedbook.log.describe import describe_kinds
from shedbook.log.kinds import KINDS
from shedbook.rules.rows import load_rows
from shedbook.rules.rows.check import check_row
from shedbook.rules.rows.forms import COMMON, COMMON_OPTIONAL
from shedbook.rules.rows.names import Known, check_names

# What any row may say; the rest are the numbers of its shape.
_ANY_ROW = [*COMMON, *COMMON_OPTIONAL]


@functools.cache
def load_rulebook() -> dict[str, Any]:
    """The rulebook that ships, as plain JSON."""
    return build_rulebook(load_rows())


def build_rulebook(rows: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """Check the rows and put them together; RowError names the row and what would be right."""
    crops = load_crops()
    known = _known(crops)
    for rule_id, row in rows.items():
        check_row(rule_id, row)
        check_names(rule_id, row, known)
    rulebook: dict[str, Any] = {
        "rules": [_rule(rule_id, rows[rule_id]) for rule_id in sorted(rows)],
        "crops": crops,
        "fertilizers": load_fertilizers(),
        "hosts": load_hosts(),
        "organisms": load_organisms(),
        "ranking": load_ranking(),
        "signs": load_signs(),
        "troubles": load_troubles(),
        "soils": load_soils(),
        "sources": load_sources(),
        "hand_work": sorted(name for name, kind in KINDS.items() if kind.hand_work),
    }
    return {"digest": digest_of(rulebook), **rulebook}


def digest_of(rulebook: Mapping[str, Any]) -> str:
    """SHA-256 of the canonical JSON of everything but the digest itself."""
    content = {key: value for key, value in rulebook.items() if key != "digest"}
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def _known(crops: Mapping[str, Mapping[str, Any]]) -> Known:
    fields = {
        kind["name"]: {
            field["name"]: frozenset(field["choices"]) if "choices" in field else None
            for field in kind["fields"]
        }
        for kind in describe_kinds()["kinds"]
    }
    families = {crop["family"] for crop in crops.values()}
    facts = {fact for crop in crops.values() for fact in crop}
    return Known(fields, set(crops), families, facts, set(load_hosts()))


def _rule(rule_id: str, row: Mapping[str, Any]) -> dict[str, Any]:
    params = {key: value for key, value in row.items() if key not in _ANY_ROW}
    common = {key: row[key] for key in _ANY_ROW if key in row}
    return {"id": rule_id, **common, "params": params}
