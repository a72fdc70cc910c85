"""The registry of kinds, what the phone is told of it, and the words that it is told in."""

import json
from typing import Any

import pytest

from shedbook import places
from shedbook.log import fold, telling
from shedbook.log.check import check_entry
from shedbook.log.describe import describe_kinds
from shedbook.log.kinds import KINDS
from shedbook.log.kinds.texts import TEXTS
from tests.builders import an_entry

DESCRIBED = {kind["name"]: kind for kind in describe_kinds()["kinds"]}
WORDS: dict[str, str] = json.loads((places.CLIENT / "words" / "en.json").read_text("utf-8"))


def test_fold_names_exactly_the_places_and_the_weather_of_the_registry() -> None:
    structural = {name for name, kind in KINDS.items() if kind.structural}
    assert structural == set(telling.PLACE_KINDS)
    weather = {name for name, kind in KINDS.items() if kind.group == "weather"}
    assert weather == set(telling.WEATHER_KINDS)


def test_fold_reads_the_highest_version_that_a_kind_has() -> None:
    assert max(kind.version for kind in KINDS.values()) == telling.KNOWN_VERSION


@pytest.mark.parametrize(
    ("names", "kinds"),
    [
        (fold.GARDEN_FIELDS, ["garden", "setting"]),
        (fold.BED_FIELDS, ["bed"]),
        (fold.PLANTING_FIELDS, ["planting"]),
        (fold.PLANT_FIELDS, ["plant"]),
    ],
    ids=["garden", "bed", "planting", "plant"],
)
def test_fold_takes_every_field_of_a_place(names: tuple[str, ...], kinds: list[str]) -> None:
    described = [field["name"] for kind in kinds for field in DESCRIBED[kind]["fields"]]
    assert list(names) == described


@pytest.mark.parametrize("name", KINDS)
def test_least_entry_of_every_kind_is_accepted_without_remark(name: str) -> None:
    checked = check_entry(an_entry(name))
    assert (checked.unreadable, checked.problems, checked.remarks) == ({}, {}, {})


@pytest.mark.parametrize("kind", DESCRIBED.values(), ids=DESCRIBED)
def test_description_speaks_only_of_fields_that_the_kind_has(kind: dict[str, Any]) -> None:
    names = {field["name"] for field in kind["fields"]}
    spoken = [*kind["at_least_one"], *kind["not_above"], *kind["needs"], kind["needed_at_making"]]
    assert {name for group in spoken for name in group} <= names
    assert any(field["primary"] for field in kind["fields"]) or kind["name"] == "correct"


@pytest.mark.parametrize("kind", DESCRIBED.values(), ids=DESCRIBED)
def test_bounds_of_numbers_enclose_what_is_usual(kind: dict[str, Any]) -> None:
    for field in kind["fields"]:
        if "min" in field:
            low, high = field["min"], field["max"]
            usual = (field.get("unusual_below", low), field.get("unusual_above", high))
            assert low <= usual[0] < usual[1] <= high


def test_every_kind_field_choice_and_unit_has_its_word() -> None:
    wanted = set()
    for kind in DESCRIBED.values():
        wanted |= {f"kind.{kind['name']}", f"kind.{kind['name']}.done"}
        for field in kind["fields"]:
            own, shared = f"field.{kind['name']}.{field['name']}", f"field.{field['name']}"
            wanted.add(own if own in WORDS else shared)
            wanted |= {f"choice.{field['name']}.{choice}" for choice in field.get("choices", [])}
            if "unit" in field:
                wanted.add(f"unit.{field['unit']}")
    assert wanted - set(WORDS) == set()


def test_phone_and_shed_say_the_same_when_they_refuse() -> None:
    said = {key: text for key, text in WORDS.items() if key.startswith("check.")}
    assert said == {f"check.{key}": text for key, text in TEXTS.items()}


def test_every_rule_over_several_fields_has_its_text() -> None:
    wanted = set()
    for kind in DESCRIBED.values():
        wanted |= {f"at_least_one.{kind['name']}" for group in kind["at_least_one"] if group}
        wanted |= {f"not_above.{low}" for low, _ in kind["not_above"]}
        wanted |= {f"needs.{needed}" for _, needed in kind["needs"]}
    assert wanted <= set(TEXTS)


def test_hand_work_is_work_among_the_plants_and_never_writing() -> None:
    by_hand = {name for name, kind in KINDS.items() if kind.hand_work}
    assert {"pick", "prune", "stake", "scout", "transplant"} <= by_hand
    assert not by_hand & {"water", "treat", "note", "void", "correct", "decline", "store"}
