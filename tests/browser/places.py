"""Every screen of the app in the demo garden, by its address."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.demo import DemoShed
from tests.browser.photos import choose
from tests.browser.pictures import a_camera_picture
from tests.browser.screens import go, part, title


def addresses(page: Page, shed: DemoShed) -> dict[str, str]:
    """One address for each screen, and for each look that a screen can have."""
    bed, peppers = shed.bed("Long bed"), shed.planting("long mild red")
    both = f"bed={bed}&planting={peppers}"
    return {
        "round": "#/",
        "bed": f"#/bed/{bed}",
        "empty bed": f"#/bed/{shed.bed('Herb box')}",
        "planting": f"#/planting/{peppers}",
        "plan": f"#/planting/{shed.last_planned()}",
        "kinds": f"#/record?{both}",
        "water": f"#/record/water?bed={bed}",
        "treat": f"#/record/treat?{both}&plants=1,2,3",
        "stage": f"#/record/stage?{both}",
        "change planting": f"#/record/planting?{both}",
        "correction": f"#/record/treat?correct={shed.last('treat')}",
        "entry": f"#/entry/{shed.last('treat')}",
        "correction entry": f"#/entry/{shed.last('correct')}",
        "log": "#/log",
        "attention": "#/attention",
        "phone": "#/phone",
        "shed": "#/shed",
        "new bed": "#/new/bed",
        "new planting": f"#/new/planting?bed={shed.bed('Back bed')}",
        "walk": "#/walk",
        "garden": "#/garden",
        "evening": "#/evening",
        "evening of a bed": f"#/evening?bed={shed.bed('Wall bed')}",
        "evening of a planting": f"#/evening?planting={peppers}",
        "join": "#/join",
        "lost": "#/nowhere",
        "lost finding": "#/finding/none",
        **of_the_first_hour(),
        **of_every_day(both),
        **of_the_rule_book(shed, bed, peppers),
        **of_paper(page, bed),
        **of_a_photo(page, peppers),
        **{address: address for address in a_finding_of_each_part(page)},
    }


def of_the_first_hour() -> dict[str, str]:
    """The steps by which a garden is begun, which can be called again."""
    return {
        f"first {step or 'steps'}": f"#/start/{step}" for step in ("", "place", "beds", "planting")
    }


def of_every_day(place: str) -> dict[str, str]:
    """The forms that a helper fills in on any day."""
    return {
        "feed": f"#/record/feed?{place}&plants=1,2,3",
        "scout": f"#/record/scout?{place}&plants=3",
        "pick": f"#/record/pick?{place}",
        "rain": "#/record/rain",
    }


def of_the_rule_book(shed: DemoShed, bed: str, peppers: str) -> dict[str, str]:
    """The screens that reckon, ask the shed, or write down what those need."""
    return {
        "seed bath": f"#/seed-bath?planting={shed.last_planned()}",
        "seed bath that is over": (
            f"#/seed-bath?planting={shed.last_planned()}&water=50&minutes=25&until=1"
        ),
        "reckon": "#/reckon",
        "reckon for a planting": f"#/reckon?planting={peppers}",
        "could be": f"#/could-be?planting={peppers}",
        "could be in a bed": f"#/could-be?bed={shed.bed('Herb box')}",
        "next season": "#/next-season",
        "review": "#/review",
        "scouting": "#/scouting",
        "scouting walk": f"#/scouting-walk?planting={peppers}",
        "plant": f"#/plant/{peppers}/3",
        "wish": "#/record/wish",
        "mark a place": f"#/record/spot?bed={bed}",
    }


def of_paper(page: Page, bed: str) -> dict[str, str]:
    """Pages to print, and what tags lead to. Their code comes when it is asked for: it is, here."""
    told = {
        "#/paper/tags": "Tags",
        "#/scan": "Scan a tag",
        "#/t/ABC": "Tag",
        "#/paper": "Paper and tags",
    }
    for address, words in told.items():
        go(page, address)
        expect(title(page)).to_have_text(words)
    return {
        **{words.lower(): address for address, words in told.items()},
        "week on paper": "#/paper/round",
        "history of a bed": f"#/paper/bed?bed={bed}",
        "treatment record": "#/paper/treatments?from=2020-01-01&until=2100-01-01",
    }


def of_a_photo(page: Page, planting: str) -> dict[str, str]:
    """The screens of a photo, which is taken for them."""
    go(page, f"#/planting/{planting}")
    choose(page, "Add a photo", a_camera_picture())
    thumb = part(page, "Pictures").locator("a.thumb").first
    address = thumb.get_attribute("href") or ""
    correction = address.replace("#/photo/", "#/record/photo?correct=")
    return {"photo": address, "note on a photo": correction, "log of photos": "#/log?kind=photo"}


def a_finding_of_each_part(page: Page) -> list[str]:
    """The addresses of the first finding in each part of the dashboard."""
    go(page, "#/shed")
    page.wait_for_selector(".leaf-part")
    addresses: list[str] = page.locator(".leaf-part").evaluate_all(
        """(parts) => parts.flatMap((part) =>
          part.querySelector("a[href^='#/finding/']")?.getAttribute('href') ?? [])"""
    )
    return addresses
