"""Two phones that change the same bed without hearing of each other end up with one bed."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed
from tests.browser.soundness import FOLDED, assert_sound

CHANGE_BED = """async ([bed, details]) =>
  (await garden.record({kind: 'bed', subjects: {bed}, details})).id"""
CORRECT = """async ([id, volume_l]) => (await actions.correct(id, {volume_l})).id"""
UNDO = "async (id) => (await actions.undo(id)).id"
RESTORE = "async (id) => (await actions.restore(id)).id"


def change_bed(page: Page, bed: str, **details: object) -> str:
    made: str = page.evaluate(CHANGE_BED, [bed, details])
    return made


def test_bed_that_two_phones_changed_apart_is_the_same_on_both_and_on_a_third(
    shed: Shed, new_phone: Callable[[], Phone]
) -> None:
    one = new_phone().garden(shed.lead_link())
    two = new_phone().garden(shed.lead_link())
    bed = make_bed(one)
    water = record(one, "water", {"volume_l": 20}, {"bed": bed})
    slip = record(one, "water", {"volume_l": 30}, {"bed": bed})
    ids = [bed, water, slip]
    sync(one)
    sync(two)
    shed.kill()
    ids += [
        change_bed(one, bed, name="By the wall", length_m=4),
        change_bed(two, bed, name="By the hedge", width_m=1),
        one.evaluate(CORRECT, [water, 12]),
        two.evaluate(CORRECT, [water, 14]),
        one.evaluate(UNDO, slip),
        two.evaluate(CORRECT, [slip, 31]),
        change_bed(one, bed, length_m=5),
        two.evaluate(UNDO, bed),
        record(one, "note", {"text": "weeds at the end"}, {"bed": bed}),
        one.evaluate(RESTORE, bed),
    ]
    apart = [page.evaluate(FOLDED) for page in (one, two)]
    assert apart[0] != apart[1]

    shed.start()
    log = assert_sound(shed, [one, two], ids)
    third = new_phone().garden(shed.helper_link())
    log = assert_sound(shed, [one, two, third], ids)
    fields: dict[str, object] = {}
    for entry in sorted(log, key=lambda entry: (entry["order"], entry["id"])):
        if entry["kind"] == "bed":
            fields.update(entry["details"])
    [shown] = third.evaluate("garden.state.beds")
    assert {name: shown[name] for name in fields} == fields
    assert (fields["length_m"], fields["width_m"]) == (5, 1)
