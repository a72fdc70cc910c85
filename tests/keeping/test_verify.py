"""Verify finds every change behind the log's back, and calls a phone's delay no damage."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from shedbook.keeping.verify import MOST_TOLD, shortened, verify_file
from shedbook.places import LOG_FILE
from tests.api.builders import Phone
from tests.keeping.sheds import Season, change, closed, look

BODY = "UPDATE entries SET body = replace(body, '\"volume_l\":20', '\"volume_l\":21') WHERE seq = 6"


def test_a_sound_garden_has_no_difference_and_no_remark(season: Season) -> None:
    found = look(season.data, season.garden)
    assert (found.differences, found.remarks, found.entries) == ([], [], 14)


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("DELETE FROM entries WHERE seq = 5", "Entry 5 is missing."),
        ("DELETE FROM entries WHERE seq IN (4, 5)", "Entries 4 to 5 are missing."),
        ("DELETE FROM entries WHERE seq = 14", "Entry 14 is missing."),
        ("UPDATE gardens SET head = 12", "entry 12 is its last, the log has 14"),
        (BODY, "Entry 6 "),
        (BODY, "its content and its hash differ"),
        ("UPDATE entries SET body = substr(body, 1, 40) WHERE seq = 6", "can't be read"),
        ("UPDATE entries SET body = '{}' WHERE seq = 6", "breaks the rules of its kind: id: "),
        ("UPDATE entries SET \"order\" = '00' WHERE seq = 6", "has the order 00"),
        ("UPDATE entries SET bed_id = NULL WHERE seq = 6", "under bed_id None, but says"),
        ("UPDATE entries SET kind = 'feed' WHERE seq = 6", "under kind feed, but says water"),
        ("UPDATE entries SET number = 99 WHERE seq = 6", "number 99 of its notebook is not"),
        ("DELETE FROM arrivals WHERE number = 6", "number 6 of its notebook is not"),
        ("UPDATE notebooks SET unbroken = 3", "its numbers give (16, 16, 16)"),
        ("UPDATE homes SET bed_id = NULL WHERE crop IS NOT NULL", "Place and name of"),
        ("DELETE FROM neighbours", "Beds beside each other"),
        ("UPDATE standing SET findings = '[]' WHERE findings <> '[]'", "The findings kept for"),
        ("UPDATE set_aside SET raw = '{' WHERE mended_by IS NULL", "set aside, can't be read"),
        ("UPDATE set_aside SET raw = '{}' WHERE mended_by IS NULL", "was changed afterwards"),
        ("UPDATE set_aside SET mended_by = 'none'", "mended by one that is not in the log"),
    ],
)
def test_a_change_behind_the_logs_back_is_told(season: Season, statement: str, said: str) -> None:
    change(season.data, statement)
    found = look(season.data, season.garden)
    assert any(said in one for one in found.differences), found.differences


def test_the_name_and_zone_of_the_garden_follow_its_log(lead: Phone, data: Path) -> None:
    lead.sync([lead.entry("garden", {"name": "Long acre"})])
    lead.sync([lead.entry("setting", {"zone": "Europe/Paris"})])
    assert look(data, lead.garden).differences == []
    change(data, "UPDATE gardens SET name = 'Other', zone = 'UTC'")
    assert look(data, lead.garden).differences == [
        "The garden is kept as Other, its log calls it Long acre.",
        "The garden is kept in the zone UTC, its log says Europe/Paris.",
    ]


def test_numbers_that_have_not_arrived_are_remarked_and_no_difference(
    lead: Phone, data: Path
) -> None:
    lead.number = 3
    lead.sync([lead.entry()])
    found = look(data, lead.garden)
    assert found.differences == []
    assert len(found.remarks) == 1
    assert "have not arrived: 1, 2, 3." in found.remarks[0]


def test_a_refused_entry_is_remarked_and_no_difference(lead: Phone, data: Path) -> None:
    held = lead.entry()
    lead.sync([held])
    other = lead.entry() | {"id": held["id"]}
    assert lead.push_one(other)["result"] == "refused"
    lead.sync([], given_up=[other["number"]])
    found = look(data, lead.garden)
    assert found.differences == []
    assert len(found.remarks) == 1
    assert "were refused, or given up by the phone: 2." in found.remarks[0]


def test_a_corrupted_page_is_found_in_the_file_and_in_the_log(lead: Phone, data: Path) -> None:
    lead.sync([lead.entry() for _ in range(200)])
    closed(lead.client.application)
    log = data / LOG_FILE
    assert verify_file(log) == []
    spoil_page_of_entries(log)
    assert verify_file(log)[0].startswith("The file of the log ")
    assert look(data, lead.garden).differences != []


def spoil_page_of_entries(log: Path) -> None:
    """Overwrite one page that holds rows of the log."""
    with closing(sqlite3.connect(log)) as store:
        size = store.execute("PRAGMA page_size").fetchone()[0]
        store.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    content = bytearray(log.read_bytes())
    page = content.rindex(b"Dew until nine.") // size
    content[page * size : (page + 1) * size] = b"\xa5" * size
    log.write_bytes(bytes(content))


def test_a_file_that_is_no_store_is_told(tmp_path: Path) -> None:
    file = tmp_path / LOG_FILE
    file.write_bytes(b"\xa5" * 8192)
    assert "can't be read" in verify_file(file)[0]


def test_many_faults_of_one_sort_are_counted() -> None:
    told = shortened("The log", [f"fault {place}" for place in range(MOST_TOLD + 7)])
    assert told[-1] == "The log: 7 more of this sort."
    assert len(told) == MOST_TOLD + 1
