"""Water in litres and minutes, plants in rows, roots and thirst by stage, cans, emergence."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.agronomy import crop_stage, spacing, uniformity, watering
from shedbook.agronomy.emergence import days_to_emergence
from shedbook.agronomy.errors import NotEnoughData, OutOfRange

STAGES = [30, 35, 40, 20]
amounts = st.floats(1e-6, 1e5)
sizes = st.floats(0.01, 1e4)


@given(amounts, sizes)
def test_depth_and_volume_are_inverse(depth: float, area: float) -> None:
    there = watering.volume_of_depth(depth, area)
    assert math.isclose(watering.depth_of_volume(there, area), depth, rel_tol=1e-12)


@given(amounts, sizes)
def test_minutes_and_volume_are_inverse(volume: float, flow: float) -> None:
    minutes = watering.minutes_to_give(volume, flow)
    assert math.isclose(watering.volume_given(minutes, flow), volume, rel_tol=1e-12)


def test_drip_refills_only_the_ground_that_it_wets() -> None:
    assert watering.litres_to_refill(20, 6, 1) == 120
    assert math.isclose(watering.litres_to_refill(20, 6, 0.3), 36)


@pytest.mark.parametrize(
    ("day", "stage", "roots"),
    [
        (0, "initial", 0.25),
        (29, "initial", 0.25),
        (30, "development", 0.25),
        (47.5, "development", 0.5),
        (65, "mid", 0.75),
        (105, "late", 0.75),
        (400, "late", 0.75),
    ],
)
def test_stage_and_roots_follow_the_days_since_planting(
    day: float, stage: str, roots: float
) -> None:
    assert crop_stage.stage_of(STAGES, day) == stage
    assert math.isclose(crop_stage.root_depth(0.25, 0.75, STAGES, day), roots)


@given(st.integers(0, 300), st.integers(0, 300))
def test_roots_never_grow_back(one: int, other: int) -> None:
    early, late = sorted((one, other))
    roots = [crop_stage.root_depth(0.2, 1.0, STAGES, day) for day in (early, late)]
    assert roots == sorted(roots)


def test_a_crop_without_late_stage_ends_at_its_end_value() -> None:
    # Faba bean picked green has no late stage in table 11.
    assert crop_stage.crop_coefficient(0.5, 1.15, 1.1, [90, 45, 40, 0], 175) == 1.1


@pytest.mark.parametrize(
    ("stages", "day"), [([30, 35, 40], 3), ([30, -1, 40, 20], 3), (STAGES, -1), (STAGES, math.nan)]
)
def test_stages_that_can_not_be_are_refused(stages: list[float], day: float) -> None:
    with pytest.raises(OutOfRange):
        crop_stage.stage_of(stages, day)


@pytest.mark.parametrize(
    ("bed", "per_row"),
    [
        # Length, width, in the row, between rows, margin, pattern.
        ((3.0, 1.2, 0.45, 0.6, 0.15, "square"), [7, 7]),
        ((3.0, 1.2, 0.45, 0.6, 0.15, "staggered"), [7, 6]),
        ((3.0, 1.2, 0.4, 0.3, 0.15, "staggered"), [7, 7, 7, 7]),
        # 0.3 + 0.3 + 0.3 is a hair more than 0.9, and still fits.
        ((0.9, 0.1, 0.3, 0.3, 0.0, "square"), [4]),
        ((0.2, 0.2, 0.45, 0.6, 0.1, "square"), [1]),
        ((0.2, 0.2, 0.45, 0.6, 0.11, "square"), []),
        ((0.2, 1.2, 0.45, 0.6, 0.11, "square"), []),
        ((0.1, 2.0, 0.45, 0.6, 0.0, "staggered"), [1, 0, 1, 0]),
        ((3.0, 0.9, 0.3, 0.5, 0.15, "square"), [10, 10]),
        # 0.6 / 0.2 is a last bit short of 3, and the fourth plant must not be lost to it.
        ((0.6, 1.0, 0.2, 0.5, 0.0, "square"), [4, 4, 4]),
        ((1.0, 1.0, 0.5, 0.5, 0.0, "square"), [3, 3, 3]),
        ((0.2, 0.2, 0.3, 0.3, 0.1, "square"), [1]),
        ((0.1, 1.0, 0.3, 0.3, 0.1, "square"), []),
    ],
)
def test_plants_in_a_bed_stand_in_rows_within_the_margins(
    bed: tuple[float, float, float, float, float, str], per_row: list[int]
) -> None:
    plan = spacing.plants_in_bed(*bed)
    assert plan == (len(per_row), per_row, sum(per_row))


@pytest.mark.parametrize(
    ("across_m", "plants"),
    [(0.34, 0), (0.35, 1), (0.69, 1), (0.70, 2), (0.76, 3), (0.85, 4), (0.95, 5), (1.05, 7)],
)
def test_plants_per_container_by_the_round_each_needs(across_m: float, plants: int) -> None:
    assert spacing.plants_per_container(across_m, 0.35) == plants


def test_a_container_wider_than_three_rounds_is_a_bed() -> None:
    with pytest.raises(OutOfRange):
        spacing.plants_per_container(1.2, 0.35)


def test_rows_of_another_pattern_are_refused() -> None:
    with pytest.raises(OutOfRange):
        spacing.plants_in_bed(3, 1, 0.4, 0.6, 0.1, "spiral")


@given(st.lists(st.floats(0.1, 100), min_size=4, max_size=40), st.floats(0.1, 10))
def test_uniformity_is_a_share_that_no_scale_changes(cans: list[float], scale: float) -> None:
    even = uniformity.distribution_uniformity_low_quarter(cans)
    assert 0 < even <= 1 + 1e-12
    again = uniformity.distribution_uniformity_low_quarter([can * scale for can in cans])
    assert math.isclose(even, again, rel_tol=1e-9)


def test_cans_alike_are_wholly_even() -> None:
    assert uniformity.distribution_uniformity_low_quarter([20] * 6) == 1
    assert uniformity.christiansen([20] * 6) == 1


def test_three_cans_are_not_enough() -> None:
    with pytest.raises(NotEnoughData):
        uniformity.christiansen([10, 12, 11])


@pytest.mark.parametrize("cans", [[0, 0, 0, 0], [10, -1, 10, 10]], ids=["empty", "below-nothing"])
def test_cans_that_can_not_be_are_refused(cans: list[float]) -> None:
    with pytest.raises(OutOfRange):
        uniformity.distribution_uniformity_low_quarter(cans)


@pytest.mark.parametrize("soil_c", [5, 12, 25, 30])
def test_emergence_knows_no_day_where_none_was_tried(soil_c: float) -> None:
    # A gap within the table: at 20 days are known, on both sides of it none.
    with pytest.raises(OutOfRange):
        days_to_emergence([10, 15, 20, 25], [0, -1, 8, -1], soil_c)
    assert days_to_emergence([10, 15, 20, 25], [0, -1, 8, -1], 20) == 8
