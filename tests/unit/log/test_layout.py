"""How plants stand in a bed."""

import pytest

from shedbook.log.layout import plants_of_row, position_of, row_of


def test_rows_of_ten_plants_in_three_rows_are_four_four_and_two() -> None:
    assert [plants_of_row(row, 10, 3) for row in (1, 2, 3)] == [
        [1, 2, 3, 4],
        [5, 6, 7, 8],
        [9, 10],
    ]
    assert [row_of(plant, 10, 3) for plant in (1, 4, 5, 10)] == [1, 1, 2, 3]


def test_position_of_known_spacing_is_centred_in_the_bed() -> None:
    planting = {"plants": 4, "rows": 2, "in_row_m": 0.5, "between_rows_m": 0.4}
    bed = {"length_m": 2.5, "width_m": 1.0}
    assert position_of(1, planting, bed) == pytest.approx((1.0, 0.3))
    assert position_of(2, planting, bed) == pytest.approx((1.5, 0.3))
    assert position_of(3, planting, bed) == pytest.approx((1.0, 0.7))


@pytest.mark.parametrize("bed", [{}, {"length_m": 2.0, "width_m": 1.0}], ids=["unsized", "sized"])
@pytest.mark.parametrize("spacing", [{}, {"in_row_m": 3.0, "between_rows_m": 3.0}])
def test_position_with_sizes_unknown_or_too_wide_stays_apart_and_inside(
    bed: dict[str, float], spacing: dict[str, float]
) -> None:
    planting = {"plants": 6, "rows": 2} | spacing
    places = {position_of(plant, planting, bed) for plant in range(1, 7)}
    assert len(places) == 6
    for x_m, y_m in places:
        assert 0 < x_m < bed.get("length_m", 9)
        assert 0 < y_m < bed.get("width_m", 9)
