"""The hybrid clock: never backwards, never below what it has seen, never far above its arrival."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.log.clock import FIRST_CLOCK, advance, clock_text, is_clock, order_of, tick

MS = st.integers(0, 2**44)
CLOCKS = st.builds(clock_text, MS, st.integers(0, 0xFFFF))


@given(CLOCKS, MS)
def test_tick_is_above_the_last_clock_and_not_below_the_wall(last: str, now_ms: int) -> None:
    ticked = tick(last, now_ms)
    assert ticked > last
    assert ticked >= clock_text(now_ms, 0)
    assert is_clock(ticked)


@given(CLOCKS, CLOCKS, MS)
def test_advance_is_above_both_clocks(last: str, seen: str, now_ms: int) -> None:
    assert advance(last, seen, now_ms) > max(last, seen)


@given(CLOCKS, MS)
def test_order_is_the_clock_unless_it_lies_more_than_five_minutes_ahead(
    clock: str, received_ms: int
) -> None:
    order = order_of(clock, received_ms)
    ceiling = clock_text(received_ms + 300_000, 0)
    assert order == (clock if clock < ceiling else ceiling)


def test_tick_with_a_full_counter_carries_into_the_next_millisecond() -> None:
    assert tick(clock_text(7, 0xFFFF), 7) == clock_text(8, 0)


def test_tick_above_the_last_clock_of_all_raises() -> None:
    with pytest.raises(ValueError, match="10889"):
        tick("f" * 16, 0)


@pytest.mark.parametrize("text", ["", FIRST_CLOCK[1:], "G" * 16, "A" * 16, FIRST_CLOCK + "\n"])
def test_is_clock_of_another_form_is_false(text: str) -> None:
    assert not is_clock(text)
