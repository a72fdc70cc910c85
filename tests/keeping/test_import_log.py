"""An export comes back as the same log, byte for byte, or not at all."""

import json
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shedbook.keeping.export import log_lines
from shedbook.keeping.import_log import ImportRefused, import_log, read_export
from shedbook.records.gardens import all_gardens, create_garden
from shedbook.records.models import db
from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import NOW_MS, Clock, a_garden, a_phone
from tests.keeping.sheds import Season, a_season, cells_of, closed, lines_of, look, opened
from tests.storage.test_standing_random import Grower

Lines = list[dict[str, Any]]


def taken_in(lines: list[str], folder: Path, **given: Any) -> None:
    """Import these lines into a store in a new folder."""
    file = folder.parent / "log.jsonl"
    file.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    open_data(folder)
    with opened(folder):
        import_log(read_export(file), "Imported", "UTC", **given)


def test_everything_comes_back_what_was_set_aside_too(season: Season, tmp_path: Path) -> None:
    lines = lines_of(season.data, season.garden)
    assert sum("set_aside" in json.loads(line) for line in lines) == 2
    taken_in(lines, tmp_path / "again")
    assert lines_of(tmp_path / "again", season.garden) == lines
    found = look(tmp_path / "again", season.garden)
    assert (found.differences, found.remarks) == ([], [])
    for question in (
        "SELECT id, remarks, content_hash, person_id, device_id FROM entries ORDER BY seq",
        "SELECT entry_id, person_id, mended_by, content_hash FROM set_aside ORDER BY entry_id",
        "SELECT notebook_id, number, entry_id FROM arrivals ORDER BY 1, 2",
        "SELECT id, device_id, unbroken, highest, arrived FROM notebooks",
        "SELECT * FROM homes ORDER BY 1, 2",
        "SELECT * FROM neighbours",
    ):
        assert cells_of(tmp_path / "again", question) == cells_of(season.data, question)
    epochs = [
        cells_of(one, "SELECT epoch FROM gardens") for one in (season.data, tmp_path / "again")
    ]
    assert epochs[0] != epochs[1]


@settings(max_examples=6, suppress_health_check=[HealthCheck.too_slow])
@given(
    seed=st.integers(0, 10_000),
    jumps=st.lists(st.integers(-400_000, 400_000), min_size=3, max_size=3),
)
def test_an_export_of_an_import_of_an_export_is_the_export(seed: int, jumps: list[int]) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        clock = Clock()
        app = create_app(Config(open_data(folder / "one"), clock_ms=clock))
        garden = a_garden(app)
        phones = [a_phone(app, garden, "lead"), a_phone(app, garden, "lead", "Second")]
        growers = [Grower(phone, seed + place) for place, phone in enumerate(phones)]
        for place, jump in enumerate(jumps):
            # A clock behind the entries' own makes their order another one.
            clock.ms = NOW_MS + jump
            phones[place % 2].sync(growers[place % 2].batch())
            phones[0].sync([phones[0].entry("water", {"volume_l": "much"})])
        closed(app)
        lines = lines_of(folder / "one", garden)
        taken_in(lines, folder / "two")
        assert lines_of(folder / "two", garden) == lines


def test_the_zone_and_name_are_those_of_the_log(season: Season, tmp_path: Path) -> None:
    with opened(season.data) as app:
        lead = a_phone(app, season.garden, "lead", "Second")
        lead.sync([lead.entry("setting", {"zone": "Europe/Paris"})])
        lead.sync([lead.entry("garden", {"name": "Long acre"})])
    taken_in(lines_of(season.data, season.garden), tmp_path / "again")
    assert cells_of(tmp_path / "again", "SELECT name, zone FROM gardens") == [
        ("Long acre", "Europe/Paris")
    ]


def test_an_empty_garden_gives_its_place(season: Season, tmp_path: Path) -> None:
    folder = tmp_path / "again"
    open_data(folder)
    with opened(folder):
        replaced = create_garden("Mine", "UTC").id
    taken_in(lines_of(season.data, season.garden), folder, instead_of=replaced)
    assert cells_of(folder, "SELECT id FROM gardens") == [(season.garden,)]


def test_a_garden_in_use_takes_nothing_in(season: Season, tmp_path: Path) -> None:
    lines = lines_of(season.data, season.garden)
    with pytest.raises(ImportRefused, match="has entries already"):
        taken_in(lines, season.data)
    assert lines_of(season.data, season.garden) == lines
    other = tmp_path / "other"
    app = create_app(Config(open_data(other), clock_ms=Clock()))
    garden = a_garden(app)
    a_season(a_phone(app, garden, "lead"))
    closed(app)
    with pytest.raises(ImportRefused, match="is in use"):
        taken_in(lines, other, instead_of=garden)
    assert cells_of(other, "SELECT id FROM gardens") == [(garden,)]


def test_an_import_that_is_stopped_leaves_no_garden(season: Season, tmp_path: Path) -> None:
    def stop(done: int, _total: int) -> None:
        if done > 5:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        taken_in(lines_of(season.data, season.garden), tmp_path / "again", show=stop)
    with opened(tmp_path / "again"):
        assert all_gardens() == []


def change(place: int, **changed: Any) -> Callable[[Lines], None]:
    return lambda lines: lines[place].update(changed)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda lines: lines.pop(4), "Entry 5 should come next, but 6 does"),
        (lambda lines: lines.insert(5, lines[5]), "Entry 7 should come next, but 6 does"),
        (lambda lines: lines[7].update(id=lines[6]["id"]), "comes twice"),
        (lambda lines: lines.clear(), "holds no entry"),
        (change(3, garden="019dd2b0-7a41-7c3e-9f60-5b1e0c2d4a77"), "more than one garden"),
        (change(3, order="0000000000000000"), "Entry 4 .* can't be taken in as it was"),
        (change(3, received_at=None), "Line 4 does not say when it was received"),
        (change(3, person="Ana"), "Line 4 has no number, or names no person"),
        (change(3, id="4"), "Line 4 is no entry"),
        (change(5, details={"volume_l": -3}), "Entry 6 .* Must be between"),
        (lambda lines: lines[-1].pop("problems"), "does not say why it was set aside"),
    ],
)
def test_an_export_that_was_changed_is_refused_whole(
    season: Season, tmp_path: Path, spoil: Callable[[Lines], None], said: str
) -> None:
    lines = [json.loads(line) for line in lines_of(season.data, season.garden)]
    spoil(lines)
    with pytest.raises(ImportRefused, match=said):
        taken_in([json.dumps(line) for line in lines], tmp_path / "again")
    with opened(tmp_path / "again"):
        assert all_gardens() == []


def test_every_line_that_cannot_be_read_is_listed(tmp_path: Path) -> None:
    with pytest.raises(ImportRefused) as refused:
        taken_in(["{", "[]", '{"id": 3}'], tmp_path / "again")
    told = str(refused.value).splitlines()
    assert [line.partition(" can't")[0][:6] for line in told] == ["Line 1", "Line 2", "Line 3"]


def test_people_of_another_garden_are_not_taken_over(season: Season) -> None:
    lines = [json.loads(line) for line in lines_of(season.data, season.garden)]
    other = "019dd2b0-7a41-7c3e-9f60-5b1e0c2d4a77"
    for line in lines:
        line.get("set_aside", line)["garden"] = other
    with pytest.raises(ImportRefused, match="belongs to another garden"):
        taken_in([json.dumps(line) for line in lines], season.data)
    with opened(season.data):
        assert [garden.id for garden in all_gardens()] == [season.garden]
        assert list(log_lines(db.session(), other)) == []
