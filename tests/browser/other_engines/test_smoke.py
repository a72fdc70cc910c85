"""The least that must work in every engine: join, write with a tap, Spanish, open with no shed."""

from __future__ import annotations

import json
import time

import pytest

from tests.browser.other_engines.conftest import Engine
from tests.browser.shed import Shed

PATIENCE_S = 60
RAIN = "section[aria-labelledby=rain] button"
LANGUAGE = "document.documentElement.lang"
KEPT = "navigator.serviceWorker.ready.then(() => true)"
KEPT_IN_SPANISH = """(async () => {
  const isSpanish = ({ url }) => url.endsWith('/words/es.json');
  for (;;) for (const name of await caches.keys())
    if ((await (await caches.open(name)).keys()).some(isSpanish)) return true;
})()"""
TEXT_OF = "document.querySelector({selector})?.textContent ?? ''"
# As a keyboard does, after which the app has what is written.
WRITE = """(() => {{
  const field = document.querySelector({selector});
  field.value = {text};
  for (const told of ['input', 'change']) field.dispatchEvent(new Event(told, {{ bubbles: true }}));
}})()"""
# What lies in the log on the device, whatever the page says of it.
STORED = """new Promise((done, failed) => indexedDB.databases().then(([{ name }]) => {
  const opening = indexedDB.open(name);
  opening.onerror = () => failed(opening.error);
  opening.onsuccess = () => {
    const asked = opening.result.transaction('entries').objectStore('entries').getAll();
    asked.onsuccess = () => {
      opening.result.close();
      done(asked.result.map((entry) => entry.kind));
    };
  };
}))"""


# Selenium says it of its own driver for WebKitGTK.
@pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
def test_what_a_tap_wrote_and_the_language_stay_when_the_page_is_loaded_without_the_shed(
    engine: Engine, shed: Shed
) -> None:
    engine.open(shed.lead_link())
    wait_for(engine, "nav", "")
    assert engine.run(KEPT)

    engine.run("location.hash = '#/new/bed'")
    wait_for(engine, "label[for=field-name]", "")
    engine.run(WRITE.format(selector="'#field-name'", text="'North bed'"))
    engine.press("form button[type=submit]")
    wait_for(engine, "h1", "North bed")
    engine.run("location.hash = '#/'")
    wait_for(engine, ".stop", "North bed")
    engine.press(RAIN)
    wait_for(engine, ".notices", "Measured rain")
    assert sorted(engine.run(STORED)) == ["bed", "rain"]

    engine.run("location.hash = '#/phone'")
    wait_for(engine, "#language-es + span", "Español")
    engine.press("#language-es + span")
    wait_for(engine, "nav", "Ronda")
    assert engine.run(LANGUAGE) == "es"
    assert engine.run(KEPT_IN_SPANISH)

    shed.kill()
    engine.open(f"{shed.origin}/?again#/log")
    wait_for(engine, "main", "Lluvia")
    assert engine.run(LANGUAGE) == "es"
    assert sorted(engine.run(STORED)) == ["bed", "rain"]
    engine.run("location.hash = '#/'")
    wait_for(engine, ".stop", "North bed")
    engine.press(RAIN)
    wait_for(engine, ".notices", "Lluvia medida")
    assert sorted(engine.run(STORED)) == ["bed", "rain", "rain"]


def wait_for(engine: Engine, selector: str, text: str) -> None:
    """Until something that the selector names is there and says this."""
    until = time.monotonic() + PATIENCE_S
    there = f"document.querySelector({json.dumps(selector)}) !== null"
    said = TEXT_OF.format(selector=json.dumps(selector))
    while not (engine.run(there) and text in engine.run(said)):
        assert time.monotonic() < until, (selector, text, engine.run("document.body.innerText"))
        time.sleep(0.05)
