"""The shipped facts on water, emergence and soils are of one shape and can be counted with."""

import pytest

from shedbook.agronomy.crop_stage import crop_coefficient
from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.soil_water import total_available_water
from shedbook.crops import add_facts, load_crops, load_soils

CROPS = load_crops()
WATERED = sorted(crop for crop, facts in CROPS.items() if "kc_mid" in facts)
SOWN = sorted(crop for crop, facts in CROPS.items() if "emergence_days" in facts)
# The choices of a bed's texture.
TEXTURES = [
    "sand",
    "loamy_sand",
    "sandy_loam",
    "loam",
    "silt_loam",
    "silt",
    "silty_clay_loam",
    "silty_clay",
    "clay",
]


@pytest.mark.parametrize("crop", WATERED)
def test_water_facts_of_a_crop_can_be_counted_with(crop: str) -> None:
    facts = CROPS[crop]
    assert 0 < facts["root_depth_low_m"] < facts["root_depth_high_m"] <= 3
    assert 0.1 <= facts["depletion_share"] <= 0.8
    assert facts["water_source"].startswith("fao56, tables ")
    assert ("stage_days" in facts) == ("stage_row" in facts) == ("11" in facts["water_source"])
    stages = facts.get("stage_days", [1, 1, 1, 1])
    kc = [facts[name] for name in ("kc_ini", "kc_mid", "kc_end")]
    assert crop_coefficient(*kc, stages, sum(stages)) == facts["kc_end"]


@pytest.mark.parametrize("crop", SOWN)
def test_emergence_table_of_a_crop_is_whole(crop: str) -> None:
    facts = CROPS[crop]
    temps, days = facts["emergence_soil_c"], facts["emergence_days"]
    assert len(temps) == len(days)
    assert temps == sorted(set(temps))
    assert all(day == -1 or day >= 0 for day in days)
    assert any(day > 0 for day in days)
    assert facts["emergence_source"] == "harrington-minges-1954"


def test_most_crops_that_ship_have_water_and_emergence_facts() -> None:
    assert len(WATERED) >= 30
    assert len(SOWN) >= 20


def test_every_texture_of_a_bed_has_its_soil() -> None:
    assert list(load_soils()) == TEXTURES


@pytest.mark.parametrize("texture", TEXTURES)
def test_soil_of_a_texture_holds_water_even_at_the_ends_of_its_span(texture: str) -> None:
    soil = load_soils()[texture]
    assert soil["soil_source"] == "fao56, table 19, read second-hand"
    for end in ("low", "high"):
        capacity, wilting = soil[f"field_capacity_{end}"], soil[f"wilting_point_{end}"]
        # Between 5 and 20 percent of the volume is water that roots can take.
        assert 49 < total_available_water(capacity, wilting, 1) < 201


def test_a_fact_told_twice_names_its_file_and_itself() -> None:
    crops = {"pepper": {"family": "solanaceae", "kc_mid": 1.05}}
    with pytest.raises(ValueError, match=r"water\.toml: pepper has kc_mid already"):
        add_facts(crops, "water", {"pepper": {"kc_mid": 1.1}})


def test_a_fact_of_an_unknown_crop_names_its_file_and_the_crop() -> None:
    with pytest.raises(ValueError, match=r"water\.toml: triffid is not in crops\.toml"):
        add_facts({}, "water", {"triffid": {"kc_mid": 1.1}})


def test_a_wilting_point_above_field_capacity_would_be_refused() -> None:
    with pytest.raises(OutOfRange):
        total_available_water(0.1, 0.2, 1)
