"""The demo season through the public entry path: taken whole, with each trouble found as meant."""

from collections import Counter
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from flask import Flask

from seed_demo.place import BEDS, DEVICE_NAMES, GARDEN_NAME
from seed_demo.send import QUIET_MS, QUIET_WAITING, Demo, build_demo
from shedbook.records.people import invite
from shedbook.serving.app import Config, create_app, open_data

ZONE = "Europe/Paris"
# A leap day, a new year, the days on which clocks go forward and back, and the day after the first.
TODAYS = (
    date(2028, 2, 29),
    date(2027, 1, 1),
    date(2026, 3, 29),
    date(2026, 3, 30),
    date(2026, 10, 25),
)

# Every trouble of the season, as (rule, state, bed, plants); None: all plants, or the bed itself.
TROUBLES = Counter(
    {
        ("side_dress", "overdue", "Gate bed", None): 1,
        ("side_dress", "overdue", "South box", tuple(range(10, 19))): 1,
        ("side_dress", "due", "Long bed", None): 1,
        # The bed and what stands in it.
        ("even_water", "flagged", "Wall bed", None): 2,
        ("soap_again", "due", "Long bed", (6, 7, 8)): 1,
        ("harvest_wait", "unknown", "Long bed", (6, 7, 8)): 1,
        ("reentry_wait", "unknown", "Long bed", None): 1,
        ("harvest_wait", "blocked", "Gate bed", None): 1,
        ("harvest_wait", "flagged", "Gate bed", (4, 5)): 1,
        ("harvest_wait", "blocked", "North box", None): 1,
        ("reentry_wait", "blocked", "North box", None): 1,
        # The cucumbers and the summer squash, both within reach of the dust.
        ("pick_again", "blocked", "North box", None): 2,
        ("harvest_wait", "unknown", "Stream bed", None): 1,
        ("reentry_wait", "unknown", "Stream bed", None): 1,
        ("rotation_rest", "flagged", "Back bed", None): 1,
        # The tubs are new this year, so nothing is known of the years before.
        ("rotation_rest", "unknown", "Three tubs", None): 1,
        ("keep_apart", "flagged", "South box", None): 1,
        ("keep_apart", "flagged", "Herb box", None): 1,
        # The beans and the kale, ordinary work of the day.
        ("pick_again", "due", "Stream bed", None): 2,
        ("thin_seedlings", "overdue", "Back bed", None): 1,
        # A tray that stands too cool; it has no bed yet.
        ("emergence", "flagged", None, None): 1,
        ("soil_rest", "flagged", "Long bed", None): 1,
        ("under_film", "flagged", "Back bed", None): 1,
        ("even_water_first", "flagged", "Wall bed", None): 1,
        ("season_nitrogen", "flagged", "South box", None): 1,
        ("season_nitrogen", "unknown", "Herb box", None): 1,
        ("store_lot", "due", "Gate bed", None): 1,
        ("store_lot", "unknown", "Stream bed", None): 1,
        ("store_lot", "unknown", "Wall bed", None): 1,
    }
)
# What each group of rules tells beside the troubles, and where.
SHOWN = {
    ("catch_cans", "noted", "Gate bed"),
    ("container_water", "noted", "Three tubs"),
    ("fruit_set", "noted", "Long bed"),
    ("manure_wait", "blocked", "Herb box"),
    ("scouting", "noted", "Back bed"),
    ("scouting", "unknown", "Wall bed"),
    ("soil_spots", "noted", "Long bed"),
    ("soil_water", "noted", "Wall bed"),
    ("soil_water", "unknown", "Herb box"),
    ("trap_catch", "unknown", "Stream bed"),
    ("weed_weekly", "overdue", "Stream bed"),
}


def noon_ms(today: date) -> int:
    return (
        int(datetime(today.year, today.month, today.day, 12, tzinfo=ZoneInfo(ZONE)).timestamp())
        * 1000
    )


def a_demo(folder: Path, today: date) -> tuple[Demo, Flask]:
    """The demo, and a shed over it whose clock stands at noon of that day."""
    url = open_data(folder)
    demo = build_demo(url, today, noon_ms(today), ZONE)
    return demo, create_app(Config(url, clock_ms=lambda: noon_ms(today)))


def ask(app: Flask, demo: Demo, today: date, resource: str) -> dict[str, Any]:
    """What a lead of the garden is answered."""
    client = app.test_client()
    with app.app_context():
        code = invite(demo.garden_id, "lead", "Visitor", 60, at_ms=noon_ms(today)).code
    spent = client.post(
        "/api/session", json={"code": code, "device_name": "Test"}, headers={"X-Shedbook": "1"}
    )
    assert spent.status_code == 201, spent.get_data(as_text=True)
    answer: dict[str, Any] = client.get(f"/api/gardens/{demo.garden_id}/{resource}").get_json()
    return answer


def beds_by_id(demo: Demo) -> dict[str, str]:
    return {
        entry["id"]: entry["details"]["name"]
        for entry in demo.notebooks["lead"].entries
        if entry["kind"] == "bed" and entry["id"] == entry["subjects"]["bed"]
    }


@pytest.mark.parametrize("today", TODAYS, ids=str)
def test_build_demo_on_any_date_gives_each_trouble_its_finding(tmp_path: Path, today: date) -> None:
    demo, app = a_demo(tmp_path, today)
    answer = ask(app, demo, today, "findings")
    assert answer["today"] == today.isoformat()
    beds = beds_by_id(demo)
    assert set(beds.values()) == set(BEDS)
    troubling = {rule for rule, *_ in TROUBLES}
    found = Counter(
        (
            one["rule"],
            one["state"],
            beds.get(one["subject"].get("bed")),
            tuple(one["subject"]["plants"]) if "plants" in one["subject"] else None,
        )
        for one in answer["findings"]
        if one["state"] not in {"upcoming", "noted"} and one["rule"] in troubling
    )
    assert found == TROUBLES
    told = {
        (one["rule"], one["state"], beds.get(one["subject"].get("bed")))
        for one in answer["findings"]
    }
    assert told >= SHOWN


def test_build_demo_stores_every_entry_and_sets_none_aside(tmp_path: Path) -> None:
    today = date(2026, 7, 15)
    demo, app = a_demo(tmp_path, today)
    sent = sum(len(notebook.entries) for notebook in demo.notebooks.values())
    assert ask(app, demo, today, "findings")["head"] == sent
    assert ask(app, demo, today, "set-aside")["entries"] == []


def test_build_demo_leaves_one_phone_unheard_for_days(tmp_path: Path) -> None:
    today = date(2026, 7, 15)
    demo, app = a_demo(tmp_path, today)
    devices = {one["name"]: one for one in ask(app, demo, today, "devices")["devices"]}
    quiet = devices[DEVICE_NAMES["quiet"]]
    assert (quiet["heard_at_ms"], quiet["waiting"]) == (noon_ms(today) - QUIET_MS, QUIET_WAITING)
    for name in ("lead", "helper"):
        heard = devices[DEVICE_NAMES[name]]
        assert (heard["heard_at_ms"], heard["waiting"]) == (noon_ms(today), 0)


def test_build_demo_twice_for_a_day_writes_the_same_entries(tmp_path: Path) -> None:
    today = date(2026, 7, 15)
    given_by_pairing = {"garden", "device", "person"}
    once, again = (
        {
            phone: [
                {name: value for name, value in entry.items() if name not in given_by_pairing}
                for entry in notebook.entries
            ]
            for phone, notebook in a_demo(tmp_path / nth, today)[0].notebooks.items()
        }
        for nth in ("once", "again")
    )
    assert once == again


def test_build_demo_names_the_garden_by_its_own_entry(tmp_path: Path) -> None:
    today = date(2026, 7, 15)
    demo, app = a_demo(tmp_path, today)
    entries = ask(app, demo, today, "entries?after=0&limit=5")["entries"]
    assert [one["details"] for one in entries if one["kind"] == "garden"] == [{"name": GARDEN_NAME}]
