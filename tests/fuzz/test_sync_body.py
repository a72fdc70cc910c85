"""A bounded part of `python3 tests/fuzz`, and proof that the fuzz sees what it looks for."""

from collections.abc import Mapping

import pytest

from shedbook.sync import accept
from shedbook.sync.accept import Answer
from tests.fuzz.run import fuzz

CASES = 1500
SEED = 20_260_601


def test_spoilt_batches_never_fail_the_shed_nor_spoil_its_log() -> None:
    outcome = fuzz(CASES, SEED)
    assert outcome.failures == []
    assert outcome.cases == CASES
    # Enough of every fate was met, or the cases would prove little.
    fates = ("200", "400", "415", "422", "accepted", "known", "set_aside", "refused")
    assert all(outcome.tally[fate] >= 5 for fate in fates), outcome.line()


def test_a_shed_that_fails_at_some_entry_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_store: object, entry: Mapping[str, object], *_: object) -> dict[str, list[str]]:
        if entry["kind"] == "note":
            return {}
        raise TypeError("at every entry but a note")

    monkeypatch.setattr(accept, "_remarks_on_references", broken)
    outcome = fuzz(60, SEED)
    assert "at every entry but a note" in outcome.failures[0]
    assert "sent: " in outcome.failures[0]


def test_a_shed_that_acknowledges_what_it_did_not_store_is_found_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def forgetful(*given: object) -> Answer:
        store = given[0]
        answer = taken(*given)  # type: ignore[arg-type]
        if len(store.new) == 2:  # type: ignore[attr-defined]
            store.new.pop()  # type: ignore[attr-defined]
        return answer

    taken = accept._take_in
    monkeypatch.setattr(accept, "_take_in", forgetful)
    assert fuzz(250, SEED).failures
