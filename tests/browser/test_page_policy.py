"""The page's policy: nothing on the walk through all screens offends it, and it really bites."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.places import addresses
from tests.browser.screens import PHONE, enter, go, title

LISTEN = """
globalThis.violations = [];
addEventListener('securitypolicyviolation',
  (event) => violations.push(`${event.effectiveDirective} ${event.blockedURI}`));
"""
# Each is what an injected text would need; each must be refused, or be without effect.
REFUSED_AS_TYPE = {
    "innerHTML": "document.body.innerHTML = '<b>a</b>'",
    "outerHTML": "document.querySelector('main').outerHTML = '<b>a</b>'",
    "insertAdjacentHTML": "document.body.insertAdjacentHTML('beforeend', '<b>a</b>')",
    "document.write": "document.write('<b>a</b>')",
    "text of a script": "document.createElement('script').text = 'ran()'",
    "address of a script": "document.createElement('script').src = '/a.js'",
    "listener as a text": "document.body.setAttribute('onclick', 'ran()')",
    "srcdoc": "document.createElement('iframe').srcdoc = '<b>a</b>'",
    "parsed document": "new DOMParser().parseFromString('<b>a</b>', 'text/html')",
    "another worker": "navigator.serviceWorker.register('/other.js')",
    "a policy of its own": "trustedTypes.createPolicy('mine', { createHTML: (text) => text })",
}
BLOCKED = {
    "script-src-elem": """
        const link = document.createElement('link');
        link.rel = 'modulepreload'; link.href = 'https://elsewhere.example/a.js';
        document.head.append(link);""",
    "connect-src": "fetch('https://elsewhere.example/').catch(() => undefined);",
    "img-src": "new Image().src = 'https://elsewhere.example/a.png';",
    "style-src-elem": """
        const style = document.createElement('style');
        style.textContent = 'body { display: none }';
        document.head.append(style);""",
    "frame-src": """
        const frame = document.createElement('iframe');
        frame.src = 'https://elsewhere.example/';
        document.body.append(frame);""",
    "form-action": """
        const form = document.createElement('form');
        form.action = 'https://elsewhere.example/'; form.method = 'post';
        document.body.append(form); form.submit();""",
}


@pytest.fixture(scope="module")
def page(browser: Browser, demo_shed: DemoShed) -> Iterator[Page]:
    page = enter(browser, demo_shed.lead_link(), **PHONE)
    page.add_init_script(LISTEN)
    page.reload()
    expect(title(page)).to_be_visible()
    yield page
    page.context.close()


def violations(page: Page) -> list[str]:
    found: list[str] = page.evaluate("globalThis.violations")
    return found


def test_no_screen_offends_the_policy(page: Page, demo_shed: DemoShed) -> None:
    walked = addresses(page, demo_shed)
    for address in walked.values():
        go(page, address)
        expect(title(page)).not_to_be_empty()
    assert len(walked) > 30
    assert violations(page) == []


@pytest.mark.parametrize("sink", REFUSED_AS_TYPE)
def test_a_plain_string_never_becomes_markup_or_code(page: Page, sink: str) -> None:
    told = page.evaluate(
        f"async () => {{ try {{ await ({REFUSED_AS_TYPE[sink]}); return 'it went through'; }}"
        " catch (error) { return error.name; } }"
    )
    assert told in {"TypeError", "SecurityError"}
    assert [one for one in violations(page) if "trusted-types" in one], sink


@pytest.mark.parametrize("directive", BLOCKED)
def test_what_is_not_the_shed_s_own_is_not_loaded(page: Page, directive: str) -> None:
    page.reload()
    expect(title(page)).to_be_visible()
    told = page.evaluate(
        f"""() => new Promise((resolve) => {{
          addEventListener('securitypolicyviolation', (event) => {{
            if (event.effectiveDirective === '{directive}') resolve(event.disposition);
          }});
          {BLOCKED[directive]}
        }})"""
    )
    assert told == "enforce"
