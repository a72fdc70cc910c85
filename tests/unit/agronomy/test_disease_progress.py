"""The area under a curve of disease."""

from random import Random

import pytest

from shedbook.agronomy.disease_progress import area_under_progress, relative_area
from shedbook.agronomy.errors import NotEnoughData, OutOfRange


def test_looking_once_more_on_the_line_changes_nothing() -> None:
    assert area_under_progress([0, 5, 10], [0, 0.5, 1]) == area_under_progress([0, 10], [0, 1])


def test_more_disease_is_more_area() -> None:
    random = Random(3)
    days = [0, 3, 9, 16]
    for _ in range(200):
        shares = [random.random() / 2 for _ in days]
        more = [share + random.random() / 2 for share in shares]
        assert area_under_progress(days, more) >= area_under_progress(days, shares)
        assert 0 <= relative_area(days, more, 1) <= 1


def test_everything_affected_from_the_start_is_the_whole_area() -> None:
    assert relative_area([0, 7, 20], [1, 1, 1], 1) == pytest.approx(1)


@pytest.mark.parametrize(("days", "shares"), [([1], [0.5]), ([1, 2], [0.5])])
def test_one_look_makes_no_area(days: list[int], shares: list[float]) -> None:
    with pytest.raises(NotEnoughData):
        area_under_progress(days, shares)


@pytest.mark.parametrize(
    ("days", "shares"), [([2, 1], [0, 1]), ([1, 1], [0, 1]), ([1, 2], [0, -1])]
)
def test_days_out_of_order_and_shares_below_nothing_are_refused(
    days: list[int], shares: list[float]
) -> None:
    with pytest.raises(OutOfRange):
        area_under_progress(days, shares)
