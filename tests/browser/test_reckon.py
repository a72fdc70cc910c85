"""The calculator of feeds beside the bed, with no shed in reach."""

from __future__ import annotations

from playwright.sync_api import Browser, expect

from tests.browser.demo import DemoShed
from tests.browser.screens import PHONE, Thumb, enter, go, part


def test_a_rate_becomes_grams_and_spoons_with_no_shed_in_reach(
    browser: Browser, demo_shed: DemoShed
) -> None:
    page = enter(browser, demo_shed.lead_link(), **PHONE)
    page.context.set_offline(True)
    go(page, f"#/planting/{demo_shed.planting('long mild red')}")
    thumb = Thumb(page)
    thumb.link("Reckon a feed")
    answer = part(page, "Fertilizer")
    expect(answer).to_contain_text("Write down the first number of the grade on the bag.")
    thumb.fill("Nitrogen on the bag", "34")
    thumb.choice("Nitrogen, lb an acre")
    thumb.fill("How much", "30")
    thumb.choice("Ammonium nitrate")
    thumb.fill("Apart in the row", "0.4572")
    thumb.fill("Between rows", "0.9144")
    expect(answer).to_contain_text("33.6 kg of nitrogen a hectare, that is 30 lb an acre")
    expect(answer).to_contain_text("For each plant: 4.13 g of product, with 1.41 g of nitrogen.")
    expect(answer).to_contain_text("0.36 tablespoons for each plant, as weighed by Wang")
    expect(answer).to_contain_text("0.32 tablespoons for each plant, as weighed by Colorado")
    thumb.choice("Product, tablespoons a plant")
    thumb.fill("How much", "0.25")
    expect(answer).to_contain_text("For each plant: 2.88 to 3.19 g of product")
    thumb.fill("Area", "9")
    compost = part(page, "Compost")
    expect(compost).to_contain_text("450 L of compost lie 50 mm deep on 9 m²")
    page.context.close()
