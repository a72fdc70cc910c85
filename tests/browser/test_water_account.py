"""A bed's water account on the phone, with no shed in reach: litres, minutes and their reasons."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.phone import Phone, make_bed, sync
from tests.browser.screens import Thumb, expect_told, go, part
from tests.browser.shed import Shed

GROUND = {
    "type": "ground",
    "length_m": 4,
    "width_m": 1.25,
    "field_capacity_percent": 20,
    "wilting_point_percent": 12,
    "flow_l_per_min": 5,
}
# Peppers that went in twelve days ago, well watered, then two dry weeks that were all measured.
DRY_DAYS = """async ({bed, ground}) => {
  const write = (kind, subjects, details, ago) =>
    garden.record({kind, subjects, details, happened_at: noonAgo(ago)});
  await garden.record({kind: 'bed', subjects: {bed}, details: ground});
  await garden.record({
    kind: 'setting', subjects: {}, details: {latitude_deg: 40.4, longitude_deg: -3.7},
  });
  const planting = (await actions.makePlanting({crop: 'pepper', plants: 12}, bed)).id;
  await write('transplant', {bed, planting}, {}, 12);
  await write('water', {bed}, {volume_l: 150}, 11);
  for (let ago = 13; ago > 0; ago -= 1) {
    await write('air_temperature', {}, {low_c: 15, high_c: 29}, ago);
  }
  await write('rain', {}, {depth_mm: 0}, 12);
  await write('rain', {}, {depth_mm: 0}, 4);
}"""


def dry_bed(phone: Phone, shed: Shed) -> Page:
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    bare.evaluate(DRY_DAYS, {"bed": bed, "ground": GROUND})
    sync(bare)
    bare.close()
    page = phone.open(shed.origin)
    go(page, f"#/bed/{bed}")
    return page


def test_dry_bed_asks_for_litres_and_minutes_and_one_tap_gives_them(
    phone: Phone, shed: Shed
) -> None:
    page = dry_bed(phone, shed)
    page.context.set_offline(True)
    water = part(page, "Water in the soil").first
    litres = water.get_by_text(re.compile(r"^\d+ L$"))
    expect(litres).to_be_visible()
    expect(water).to_contain_text("at the bed's flow")
    given = litres.inner_text()
    expect(water.get_by_role("img")).to_have_accessible_description(
        re.compile("^Water gone from the root zone over 13 days: .* mm now, of .* mm that may go")
    )
    water.get_by_text("The same as a table").tap()
    expect(water.get_by_role("row")).to_have_count(1 + 13)
    thumb = Thumb(page)
    thumb.tap(page.get_by_role("button", name=re.compile(f"^{re.escape(given)}: ")))
    expect_told(page, given)
    expect(water).to_contain_text("Do not water:")
    assert thumb.taps == 1
