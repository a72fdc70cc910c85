"""The demo season before it is sent: the same on every run, whole on every date."""

from collections import Counter
from datetime import date

import pytest

from seed_demo import draft_season
from seed_demo.draft import HELPER, LEAD, QUIET
from seed_demo.notebook import Identity, Notebook, write_notebooks
from seed_demo.place import BEDS, CROPS, PAST_CROPS, PEPPER
from shedbook.log.check import check_entry

ZONE = "Europe/Paris"
# A leap day, a new year, and the days after clocks went forward and back.
TODAYS = (
    date(2028, 2, 29),
    date(2027, 1, 1),
    date(2026, 3, 30),
    date(2026, 10, 26),
    date(2026, 7, 15),
)


def an_id(nth: int) -> str:
    return f"00000000-0000-7000-8000-{nth:012d}"


def notebooks_of(today: date) -> dict[str, Notebook]:
    identities = {
        phone: Identity(an_id(0), an_id(2 * nth), an_id(2 * nth + 1))
        for nth, phone in enumerate((LEAD, HELPER, QUIET), start=1)
    }
    return write_notebooks(draft_season(today, ZONE).drafts, identities, ZONE)


def test_draft_season_of_the_same_day_is_the_same() -> None:
    today = date(2026, 7, 15)
    assert draft_season(today, ZONE).drafts == draft_season(today, ZONE).drafts
    once, again = notebooks_of(today), notebooks_of(today)
    assert {name: book.entries for name, book in once.items()} == {
        name: book.entries for name, book in again.items()
    }


def test_draft_season_differs_between_days_by_dates_alone() -> None:
    summer, winter = (draft_season(day, ZONE).drafts for day in (TODAYS[4], TODAYS[1]))
    assert [draft.kind for draft in summer] == [draft.kind for draft in winter]
    assert summer != winter


def test_draft_season_has_the_size_that_was_promised() -> None:
    drafts = draft_season(TODAYS[0], ZONE).drafts
    assert 1200 <= len(drafts) <= 2000
    assert sum(crop.count for crop in CROPS) == 200
    assert {crop.bed for crop in CROPS} == set(BEDS)
    assert {past.years_ago for past in PAST_CROPS} == {1, 2, 3}
    assert all(count >= 1 for count in Counter(draft.phone for draft in drafts).values())


@pytest.mark.parametrize("today", TODAYS, ids=str)
def test_write_notebooks_on_any_date_gives_entries_without_problem_or_remark(today: date) -> None:
    for notebook in notebooks_of(today).values():
        assert [entry["number"] for entry in notebook.entries] == list(
            range(1, len(notebook.entries) + 1)
        )
        clocks = [entry["clock"] for entry in notebook.entries]
        assert clocks == sorted(set(clocks))
        for entry in notebook.entries:
            checked = check_entry(entry)
            assert (checked.problems, checked.remarks) == ({}, {}), entry


@pytest.mark.parametrize("today", TODAYS, ids=str)
def test_draft_season_ends_the_evening_before_today(today: date) -> None:
    assert max(draft.at for draft in draft_season(today, ZONE).drafts).date() < today


def test_row_of_a_crop_counts_as_the_log_counts() -> None:
    assert PEPPER.row(1) == tuple(range(1, 10))
    assert PEPPER.row(2) == tuple(range(10, 19))
