"""The client's files: one digest for all, kept for good, and the three that are asked for anew."""

import gzip
import json
import re

import brotli
from flask import Flask

from shedbook.rules.rulebook import load_rulebook
from shedbook.serving.assets import build_tree, reachable_modules
from shedbook.serving.headers import CONTENT_SECURITY_POLICY

FILES = {
    "index.html": b'<script src="/a/{{digest}}/main.js"></script>{{modulepreloads}}',
    "service-worker.js": b"const FILES = JSON.parse(`{{precache}}`), "
    b"LATER = JSON.parse(`{{kept_later}}`), "
    b"DIGEST = '{{digest}}';",
    "main.js": b'import { a } from "./parts/a.js";\nimport "./b.js";\n',
    "parts/a.js": b'export { b } from "../b.js";\nimport * as lit from "../vendor/lit/lit.js";\n',
    "b.js": b'import {\n  one,\n  two,\n} from "./c.js";\n',
    "c.js": b'const late = () => import("./late.js");\n// import "./never.js"\n',
    "late.js": b"",
    "never.js": b"",
    "vendor/lit/lit.js": b'import{x}from"./x.js";',
    "vendor/lit/x.js": b"export const x = 1;",
    "icons/icon-192.png": b"\x89PNG",
    "icons/icon-512-maskable.png": b"\x89PNG",
    "icons/mark.svg": b"<svg/>",
}


def test_one_digest_covers_all_files_and_what_is_generated() -> None:
    tree = build_tree(FILES, load_rulebook())
    assert build_tree(FILES, load_rulebook()).digest == tree.digest
    assert build_tree(FILES | {"c.js": b"changed"}, load_rulebook()).digest != tree.digest
    assert build_tree(FILES, {**load_rulebook(), "rules": []}).digest != tree.digest


def test_page_and_worker_name_the_digest_and_every_file() -> None:
    tree = build_tree(FILES, load_rulebook())
    page = tree.page.content.decode()
    assert f'src="/a/{tree.digest}/main.js"' in page
    preloaded = re.findall(r'modulepreload" href="/a/\w+/([^"]+)"', page)
    modules = ["main.js", "parts/a.js", "b.js", "vendor/lit/lit.js", "c.js", "vendor/lit/x.js"]
    assert preloaded == modules
    worker = tree.worker.content.decode()
    listed, later = map(json.loads, re.findall(r"JSON\.parse\(`(.*?)`\)", worker))
    assert later == [f"/a/{tree.digest}/{name}" for name in ("late.js", "never.js")]
    expected = {*FILES, "kinds.json", "languages.json", "rulebook.json"} - {
        "index.html",
        "service-worker.js",
        "late.js",
        "never.js",
    }
    expected = {name for name in expected if not name.endswith(".png")}
    assert set(listed) == {
        "/manifest.webmanifest",
        *(f"/a/{tree.digest}/{name}" for name in expected),
    }


def test_the_manifest_lists_icons_with_their_sizes() -> None:
    manifest = json.loads(build_tree(FILES, load_rulebook()).manifest.content)
    icons = {icon["src"].rsplit("/", 1)[1]: icon for icon in manifest["icons"]}
    assert icons["icon-192.png"]["sizes"] == "192x192"
    assert icons["icon-512-maskable.png"]["purpose"] == "maskable"
    assert icons["mark.svg"]["sizes"] == "any"
    assert manifest["start_url"] == "/"
    assert manifest["display"] == "standalone"


def test_the_real_page_leaves_no_place_unfilled_and_its_files_are_served(app: Flask) -> None:
    client = app.test_client()
    page = client.get("/")
    assert page.mimetype == "text/html"
    assert page.headers["Cache-Control"] == "no-cache"
    text = page.get_data(as_text=True)
    assert "{{" not in text
    addresses = set(re.findall(r'(?:src|href)="(/[^"]+)"', text))
    assert any(address.endswith("/main.js") for address in addresses)
    for address in addresses:
        assert client.get(address).status_code == 200, address


def test_the_real_worker_lists_only_files_that_are_served(app: Flask) -> None:
    client = app.test_client()
    worker = client.get("/service-worker.js")
    assert worker.mimetype == "text/javascript"
    assert worker.headers["Cache-Control"] == "no-cache"
    text = worker.get_data(as_text=True)
    assert "{{digest}}" not in text
    assert "{{precache}}" not in text
    found = re.search(r"JSON\.parse\(`(\[.*?\])`\)", text)
    assert found is not None
    for address in json.loads(found[1]):
        assert client.get(address).status_code == 200, address


def test_files_are_kept_for_good_under_their_digest_and_gone_under_another(app: Flask) -> None:
    digest = app.extensions["shedbook"].assets_digest
    client = app.test_client()
    response = client.get(f"/a/{digest}/main.js")
    assert response.mimetype == "text/javascript"
    assert response.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert client.get("/a/0123456789abcdef0123/main.js").status_code == 404
    assert client.get(f"/a/{digest}/../app.py").status_code == 404
    assert client.get(f"/a/{digest}/index.html").status_code == 404


def test_files_go_out_packed_to_whom_takes_that(app: Flask) -> None:
    digest = app.extensions["shedbook"].assets_digest
    client = app.test_client()
    plain = client.get(f"/a/{digest}/kinds.json")
    packed = client.get(f"/a/{digest}/kinds.json", headers={"Accept-Encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert packed.headers["Vary"] == "Accept-Encoding"
    smaller = client.get(f"/a/{digest}/kinds.json", headers={"Accept-Encoding": "gzip, br"})
    assert smaller.headers["Content-Encoding"] == "br"
    assert brotli.decompress(smaller.get_data()) == plain.get_data()
    assert gzip.decompress(packed.get_data()) == plain.get_data()
    assert json.loads(plain.get_data())["kinds"]


def test_every_answer_carries_the_strict_headers(app: Flask) -> None:
    for url in ("/", "/api/session", "/nothing", "/healthz"):
        headers = app.test_client().get(url).headers
        assert headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
        assert "geolocation=()" in headers["Permissions-Policy"]
    assert app.test_client().get("/api/session").headers["Cache-Control"] == "no-store"
    assert "unsafe" not in CONTENT_SECURITY_POLICY
    assert "require-trusted-types-for 'script'" in CONTENT_SECURITY_POLICY


def test_modules_that_import_each_other_are_met_once() -> None:
    ring = {"a.js": b'import "./b.js";', "b.js": b'import "./a.js";'}
    assert reachable_modules(ring, "a.js") == ["a.js", "b.js"]
