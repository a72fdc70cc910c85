"""When two entries are the same."""

import pytest

from shedbook.log.content import canonical, content_hash
from tests.builders import an_entry, an_id


@pytest.mark.parametrize(
    "elsewhere",
    [
        {"number": 99},
        {"notebook": an_id(77)},
        {"seq": 5, "order": "0" * 16, "received_at": 1},
        {"details": {"mass_g": 250.0, "count": 5}},
    ],
    ids=["renumbered", "other-notebook", "as-stored", "other-order-and-number-form"],
)
def test_content_is_the_same_wherever_an_entry_is_numbered_and_stored(
    elsewhere: dict[str, object],
) -> None:
    entry = an_entry(details={"count": 5, "mass_g": 250})
    assert content_hash(entry | elsewhere) == content_hash(entry)


@pytest.mark.parametrize(
    "other",
    [{"details": {"count": 6}}, {"details": {"count": True}}, {"clock": "0" * 16}, {"unheard": 1}],
    ids=["details", "type", "clock", "unknown-name"],
)
def test_content_differs_when_anything_else_differs(other: dict[str, object]) -> None:
    entry = an_entry(details={"count": 1})
    assert content_hash(entry | other) != content_hash(entry)


def test_canonical_sorts_names_at_every_depth_and_keeps_text() -> None:
    entry = {"b": {"z": [1.0, {"y": "é", "x": None}], "a": 0.5}, "a": -0.0}
    assert canonical(entry) == '{"a":0,"b":{"a":0.5,"z":[1,{"x":null,"y":"é"}]}}'.encode()
