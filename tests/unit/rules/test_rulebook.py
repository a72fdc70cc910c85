"""Every row that ships can be run, says where its numbers come from and has its words."""

import copy
import json
import re
from typing import Any

import pytest

from shedbook import places
from shedbook.crops import load_crops
from shedbook.log.kinds import KINDS
from shedbook.rules.evaluate import SHAPES
from shedbook.rules.rows import add_rows, load_rows
from shedbook.rules.rows.check import RowError
from shedbook.rules.rows.forms import REQUIRED
from shedbook.rules.rulebook import build_rulebook, digest_of, load_rulebook
from shedbook.words import load_words

RULES = load_rulebook()["rules"]
NO_SOURCE = "common practice, no source"
LABEL = "the product's label, as written down with the treatment"
SAID = {"reason": "growers_say", "grade": "growers_say", "source": NO_SOURCE}
PAIR = {"crop": "tomato", "against_crop": "potato", **SAID}
FOLLOWED = {"crop": "tomato", "after_family": "fabaceae", **SAID}
BY_ID = pytest.mark.parametrize("rule", RULES, ids=[rule["id"] for rule in RULES])


@BY_ID
def test_rule_has_its_words(rule: dict[str, Any]) -> None:
    words = load_words()
    assert f"rule.{rule['id']}.title" in words
    assert "caution" not in rule or f"caution.{rule['caution']}" in words
    for pair in rule["params"].get("pairs", []):
        assert f"reason.beside.{pair['reason']}" in words


@BY_ID
def test_rule_names_a_source_of_the_list_or_says_that_it_has_none(rule: dict[str, Any]) -> None:
    listed = (places.ROOT / "docs" / "sources.md").read_text(encoding="utf-8")
    keys = re.findall(r"^\| `([a-z0-9-]+)` \|", listed, re.MULTILINE)
    assert keys
    assert rule["source"] in (NO_SOURCE, LABEL) or rule["source"].split(",")[0] in keys


@BY_ID
def test_rule_that_can_hurt_someone_carries_a_caution(rule: dict[str, Any]) -> None:
    after = rule["params"].get("after", [])
    kinds = {one["kind"] for one in (after if isinstance(after, list) else [after])}
    kinds.add(rule.get("settles", {}).get("kind"))
    assert not kinds & {"treat", "feed"} or "caution" in rule


def test_caution_of_a_label_defers_to_the_label_and_to_local_rules() -> None:
    text = load_words()["caution.label"]
    assert "label" in text
    assert "local rules" in text


def test_crops_have_words_families_and_a_source_for_each_number() -> None:
    words = load_words()
    for crop_id, crop in load_crops().items():
        assert f"crop.{crop_id}" in words
        assert f"family.{crop['family']}" in words
        assert crop["botanical_name"]
        assert ("pick_every_days" in crop) == (crop.get("pick_source") == NO_SOURCE)


def test_no_word_of_a_finding_promises_that_something_is_safe() -> None:
    prefixes = ("message.", "reason.", "caution.", "rule.", "state.")
    told = [text for key, text in load_words().items() if key.startswith(prefixes)]
    assert len(told) > 100
    for text in told:
        assert not {"safe", "safely", "clear", "okay"} & set(text.casefold().split())


def test_every_shape_of_a_row_can_be_evaluated() -> None:
    assert set(REQUIRED) == set(SHAPES)


def test_every_kind_of_event_has_the_words_that_arithmetic_needs() -> None:
    words = load_words()
    mending = {"correct", "void"}
    kinds = [name for name, kind in KINDS.items() if not kind.structural and name not in mending]
    assert len(kinds) > 20
    for name in kinds:
        assert {f"reason.{told}.{name}" for told in ("done", "last", "did")} <= set(words)


def test_new_row_of_a_known_shape_is_all_that_a_new_rule_needs() -> None:
    row = load_rows()["side_dress"] | {"due_after_days": [10], "crops": ["tomato"]}
    rulebook = build_rulebook({"tomato_feed": row})
    assert [rule["id"] for rule in rulebook["rules"]] == ["tomato_feed"]
    assert rulebook["rules"][0]["params"]["due_after_days"] == [10]


def test_digest_of_a_changed_number_is_another() -> None:
    rulebook = load_rulebook()
    assert rulebook["digest"] == digest_of(rulebook)
    changed = copy.deepcopy(rulebook)
    changed["rules"][0]["urgency"] += 1
    assert digest_of(changed) != rulebook["digest"]


def test_rulebook_is_plain_json() -> None:
    rulebook = load_rulebook()
    assert json.loads(json.dumps(rulebook)) == rulebook


@pytest.mark.parametrize(
    ("rule_id", "change", "param"),
    [
        ("side_dress", {"shape": "spiral"}, "shape"),
        ("side_dress", {"subject": "garden"}, "subject"),
        ("side_dress", {"source": ""}, "source"),
        ("side_dress", {"due_after_days": [28.5]}, "due_after_days"),
        ("side_dress", {"due_after_days": []}, "due_after_days"),
        ("side_dress", {"opens_before_days": -1}, "opens_before_days"),
        ("side_dress", {"anchor": {"kind": "transplnat"}}, "kind"),
        ("side_dress", {"anchor": {"where": []}}, "anchor"),
        ("side_dress", {"crops": ["peper"]}, "crops"),
        ("side_dress", {"families": ["pepper"]}, "families"),
        ("side_dress", {"colour": "red"}, "colour"),
        ("side_dress", {"settles": {"kind": "feed"}}, "settles"),
        ("side_dress", {"urgency": True}, "urgency"),
        ("harvest_wait", {"span": {"field": "days_to_harvest", "unit": "week"}}, "span"),
        ("harvest_wait", {"blocks": ["pickle"]}, "kind"),
        ("harvest_wait", {"span_days": 3}, "span"),
        ("harvest_wait", {"after": [{"kind": "treat"}]}, "after"),
        ("harvest_wait", {"flagged_days": 3}, "flagged_days"),
        ("manure_wait", {"ended_by": [{"kind": "water"}]}, "ended_by"),
        ("manure_wait", {"choose": {"fact": "touches_sol", "span_days": 120}}, "choose"),
        ("manure_wait", {"reach": "field"}, "reach"),
        ("even_water_first", {"blocks_where": [{"field": "n", "above": 0}]}, "blocks_where.n"),
        ("even_water_first", {"softly": False}, "softly"),
        ("label_season", {"most_field": "most"}, "most_field.most"),
        ("label_season", {"per": ["produkt"]}, "per.produkt"),
        ("rain_after", {"after_field": "rain_hours"}, "after_field.rain_hours"),
        ("rain_after", {"near": [{"kind": "rian"}]}, "kind"),
        ("side_dress", {"advises": {"tablespoons": "few"}}, "advises"),
        ("harvest_wait", {"no_label": [{"field": "method"}]}, "no_label"),
        ("harvest_wait", {"no_label": [{"field": "n", "above": 1, "is": ["x"]}]}, "no_label"),
        (
            "harvest_wait",
            {"span": {"field": "days_to_harvst", "unit": "day"}},
            "span.days_to_harvst",
        ),
        ("harvest_wait", {"no_label": [{"field": "method", "is": ["soup"]}]}, "no_label.method"),
        (
            "side_dress",
            {"settled_by": {"kind": "feed", "where": [{"field": "n", "above": 0}]}},
            "settled_by.n",
        ),
        (
            "side_dress",
            {"settles": {"kind": "feed", "details": {"placment": "side"}}},
            "settles.placment",
        ),
        (
            "side_dress",
            {"settles": {"kind": "feed", "details": {"placement": "sde"}}},
            "settles.placement",
        ),
        ("water_gap", {"bed_where": [{"field": "tpe", "is": ["raised"]}]}, "bed_where.tpe"),
        ("water_gap", {"closes_after_hours": 10}, "closes_after_hours"),
        ("pick_again", {"every_days_of_crop": "pick_evry_days"}, "every_days_of_crop"),
        ("even_water", {"shares_of": "watr"}, "kind"),
        ("keep_apart", {"pairs": [{"crop": "tomato", "reason": "x"}]}, "pairs"),
        ("keep_apart", {"pairs": [PAIR | {"grade": "hearsay"}]}, "pairs"),
        ("keep_apart", {"weights": {"trial": 1}}, "weights"),
        ("follow_on", {"pairs": [FOLLOWED | {"trouble": "moon_rot"}]}, "trouble"),
        ("follow_on", {"pairs": [FOLLOWED | {"after_family": "pepper"}]}, "family"),
        ("rotation_rest", {"match": "moon"}, "match"),
        ("soil_rest", {"years": 3}, "years"),
        ("rotation_rest", {"advised": [{"years": 2}]}, "advised"),
        (
            "keep_apart",
            {"pairs": [PAIR | {"against_crop": "potatoe"}]},
            "crop",
        ),
    ],
    ids=str,
)
def test_row_with_a_slip_is_refused_by_name(
    rule_id: str, change: dict[str, Any], param: str
) -> None:
    rows = {rule_id: load_rows()[rule_id] | change}
    with pytest.raises(RowError) as refused:
        build_rulebook(rows)
    assert refused.value.rule_id == rule_id
    assert refused.value.param == param
    assert rule_id in str(refused.value)


@pytest.mark.parametrize("param", ["source", "urgency", "settled_by", "due_after_days"])
def test_row_that_lacks_a_part_is_refused_by_name(param: str) -> None:
    row = {key: value for key, value in load_rows()["side_dress"].items() if key != param}
    with pytest.raises(RowError) as refused:
        build_rulebook({"side_dress": row})
    assert refused.value.param == param


def test_repeat_every_without_days_is_refused() -> None:
    row = {key: value for key, value in load_rows()["scout_weekly"].items() if key != "every_days"}
    with pytest.raises(RowError, match="every_days"):
        build_rulebook({"scout_weekly": row})


def test_rule_in_two_files_is_refused() -> None:
    with pytest.raises(ValueError, match="another file"):
        add_rows({"twice": {}}, "second.toml", "[twice]\nshape = 'gap'\n")
