"""What must hold for a share and its limits, whatever the numbers."""

from random import Random

import pytest

from shedbook.agronomy.errors import NotEnoughData, OutOfRange
from shedbook.agronomy.proportion import wilson_interval
from tests.unit.agronomy.twin import Call, differing

QUESTIONS = 2000


def _some(random: Random) -> tuple[int, int]:
    looked = random.choice([1, 2, 10, random.randint(1, 20_000)])
    return random.randint(0, looked), looked


def test_limits_hold_the_share_found_and_stay_among_shares() -> None:
    random = Random(1)
    for _ in range(QUESTIONS):
        affected, looked = _some(random)
        low, high = wilson_interval(affected, looked)
        assert 0 <= low <= affected / looked <= high <= 1


def test_limits_when_more_are_looked_at_draw_closer() -> None:
    for looked in (10, 20, 40, 80):
        low, high = wilson_interval(looked / 5, looked)
        closer = wilson_interval(looked * 2 / 5, looked * 2)
        assert closer.high - closer.low < high - low


def test_limits_of_the_affected_mirror_those_of_the_sound() -> None:
    random = Random(2)
    for _ in range(QUESTIONS):
        affected, looked = _some(random)
        one, other = wilson_interval(affected, looked), wilson_interval(looked - affected, looked)
        assert one.low == pytest.approx(1 - other.high, abs=1e-12)


def test_limits_at_none_and_all_are_exact() -> None:
    assert wilson_interval(0, 7).low == 0
    assert wilson_interval(7, 7).high == 1


@pytest.mark.parametrize(("affected", "looked", "z"), [(3, 2, 2), (-1, 2, 2), (1, 2, 0), (1, 2, 7)])
def test_odd_numbers_are_refused(affected: int, looked: int, z: float) -> None:
    with pytest.raises(OutOfRange):
        wilson_interval(affected, looked, z)


def test_nothing_looked_at_is_not_enough() -> None:
    with pytest.raises(NotEnoughData):
        wilson_interval(0, 0)


def test_both_halves_agree_to_the_bit() -> None:
    random = Random(3)
    calls: list[Call] = []
    for _ in range(QUESTIONS):
        affected, looked = _some(random)
        odd = random.choice([0, 0, 0, 0.5, -1, looked])
        calls.append(("proportion", "wilson_interval", [affected + odd, looked]))
    assert not differing(calls)
