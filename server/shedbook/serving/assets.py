"""The client's files, under one digest of the whole tree.

`/a/<digest>/main.js` never changes its content, so browsers keep it for good and modules import
each other by relative addresses. The page and the service worker name the digest and are asked for
each time.
"""

import functools
import gzip
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Any

import brotli
from flask import Flask, Response, request
from werkzeug.exceptions import NotFound

from shedbook import places
from shedbook.log.describe import describe_kinds
from shedbook.rules.rulebook import load_rulebook

PAGE = "index.html"
WORKER = "service-worker.js"
ENTRY_MODULE = "main.js"
IMMUTABLE = "public, max-age=31536000, immutable"
LEAST_BYTES_TO_PACK = 512
# Of 11: the last step saves a hundredth and takes three times as long, at every start.
BROTLI_QUALITY = 10

# Named here and not asked of the system, whose tables differ: on some .js is text/plain.
_TYPES = {
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
}
_PACKED_BY_ITSELF = frozenset({".png", ".woff2"})
# At the start of a line or after another statement, as minified modules have it; a comment or a
# dynamic import() is none.
_IMPORT = re.compile(
    r"""(?:^|[;}])\s*(?:import|export)\b\s*(?:[\w$*{][^'"();]*?\bfrom\s*)?["'](\.[^"']+)["']""",
    re.MULTILINE,
)


@dataclass(frozen=True)
class Asset:
    """One file as it goes out, and packed by each encoding, the smallest first."""

    content: bytes
    mimetype: str
    packed: Mapping[str, bytes]


@dataclass(frozen=True)
class Tree:
    """All that a phone needs to run: the files by address, and the three that name the digest."""

    digest: str
    files: Mapping[str, Asset]
    page: Asset
    worker: Asset
    manifest: Asset
    precached: list[str] = field(default_factory=list)
    kept_later: list[str] = field(default_factory=list)


@functools.cache
def load_tree() -> Tree:
    """The tree as it is when the process first asks: a change of the files needs a new start."""
    contents = {address: path.read_bytes() for address, path in places.client_files().items()}
    return build_tree(contents, load_rulebook())


def build_tree(files: Mapping[str, bytes], rulebook: Mapping[str, Any]) -> Tree:
    """Put the tree together; what the shed generates for the phone counts in the digest too."""
    words = {PurePosixPath(name).stem: name for name in sorted(files) if _is_words(name)}
    contents = {**files, **_made(files, words, rulebook)}
    digest = _digest_of(contents)
    page, worker = contents.pop(PAGE), contents.pop(WORKER)
    # The system fetches the large icons by itself when a person puts the page on the home screen.
    kept = [
        name
        for name in sorted(contents)
        if PurePosixPath(name).suffix != ".png" and not _is_words(name)
    ]
    reachable = reachable_modules(contents, ENTRY_MODULE)
    # Modules that the page imports only when a person opens what they are for.
    later = [name for name in kept if name.endswith(".js") and name not in reachable]
    at_first = [name for name in kept if name not in later]
    precached = ["/manifest.webmanifest", *(f"/a/{digest}/{name}" for name in at_first)]
    kept_later = [f"/a/{digest}/{name}" for name in later]
    preloads = "\n".join(
        f'<link rel="modulepreload" href="/a/{digest}/{module}">' for module in reachable
    )
    filled_page = _fill(page, {"digest": digest, "modulepreloads": preloads})
    own_words = {code: f"/a/{digest}/{name}" for code, name in words.items()}
    filled_worker = _fill(
        worker,
        {
            "digest": digest,
            "precache": json.dumps(precached),
            "kept_later": json.dumps(kept_later),
            "words": json.dumps(own_words),
        },
    )
    return Tree(
        digest=digest,
        files={name: _asset(name, content) for name, content in contents.items()},
        page=_asset(PAGE, filled_page),
        worker=_asset(WORKER, filled_worker),
        manifest=_asset("manifest.webmanifest", _json(_manifest(digest, sorted(contents)))),
        precached=precached,
        kept_later=kept_later,
    )


def _made(
    files: Mapping[str, bytes], words: Mapping[str, str], rulebook: Mapping[str, Any]
) -> dict[str, bytes]:
    """What the shed makes for the phone: kinds of entry, rules, and which languages there are."""
    names = {code: json.loads(files[name])["language.name"] for code, name in words.items()}
    return {
        "kinds.json": _json(describe_kinds()),
        "rulebook.json": _json(rulebook),
        "languages.json": _json(names),
    }


def register(app: Flask, tree: Tree) -> None:
    """Serve the tree."""

    def page() -> Response:
        return _respond(tree.page, "no-cache")

    def worker() -> Response:
        return _respond(tree.worker, "no-cache")

    def manifest() -> Response:
        return _respond(tree.manifest, "no-cache")

    def asset(digest: str, name: str) -> Response:
        found = tree.files.get(name) if digest == tree.digest else None
        if found is None:
            raise NotFound
        return _respond(found, IMMUTABLE)

    app.add_url_rule("/", "page", page)
    app.add_url_rule("/service-worker.js", "worker", worker)
    app.add_url_rule("/manifest.webmanifest", "manifest", manifest)
    app.add_url_rule("/a/<digest>/<path:name>", "asset", asset)


def reachable_modules(contents: Mapping[str, bytes], start: str) -> list[str]:
    """The modules that `start` imports, and those that they import; in the order they are met."""
    found: list[str] = []
    waiting = [start]
    while waiting:
        module = waiting.pop(0)
        if module in found or module not in contents:
            continue
        found.append(module)
        imports = _IMPORT.findall(contents[module].decode("utf-8"))
        waiting += [_resolve(module, imported) for imported in imports]
    return found


def _resolve(module: str, imported: str) -> str:
    parts: list[str] = []
    for part in (PurePosixPath(module).parent / imported).parts:
        if part == "..":
            parts = parts[:-1]
        else:
            parts.append(part)
    return "/".join(parts)


def _is_words(name: str) -> bool:
    return PurePosixPath(name).parent == PurePosixPath("words")


def _digest_of(contents: Mapping[str, bytes]) -> str:
    whole = hashlib.sha256()
    for address in sorted(contents):
        whole.update(f"{address}\0{len(contents[address])}\0".encode())
        whole.update(contents[address])
    return whole.hexdigest()[:20]


def _fill(template: bytes, values: Mapping[str, str]) -> bytes:
    text = template.decode("utf-8")
    for name, value in values.items():
        text = text.replace("{{" + name + "}}", value)
    return text.encode("utf-8")


def _manifest(digest: str, names: list[str]) -> dict[str, Any]:
    return {
        "id": "/",
        "name": "Shedbook",
        "short_name": "Shedbook",
        "description": "A grower's logbook that works without a network.",
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": "#f6f4ee",
        "theme_color": "#f6f4ee",
        "icons": [
            _icon(digest, name)
            for name in names
            if name.startswith("icons/") and PurePosixPath(name).suffix in {".png", ".svg"}
        ],
    }


def _icon(digest: str, name: str) -> dict[str, str]:
    """Size and purpose stand in the file's name: `icon-192.png`, `icon-512-maskable.png`."""
    path = PurePosixPath(name)
    size = next((part for part in path.stem.split("-") if part.isdigit()), None)
    return {
        "src": f"/a/{digest}/{name}",
        "type": _TYPES[path.suffix],
        "sizes": f"{size}x{size}" if size else "any",
        "purpose": "maskable" if "maskable" in path.stem else "any",
    }


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode("utf-8")


def _asset(name: str, content: bytes) -> Asset:
    suffix = PurePosixPath(name).suffix
    packed: dict[str, bytes] = {}
    if suffix not in _PACKED_BY_ITSELF and len(content) >= LEAST_BYTES_TO_PACK:
        # Browsers take brotli over HTTPS and from their own computer: a seventh less than gzip.
        packed["br"] = brotli.compress(content, quality=BROTLI_QUALITY)
        # A fixed time stamp: the same content packs to the same bytes.
        packed["gzip"] = gzip.compress(content, 9, mtime=0)
    return Asset(content, _TYPES[suffix], packed)


def _respond(asset: Asset, cache: str) -> Response:
    taken = next((name for name in asset.packed if request.accept_encodings[name] > 0), None)
    content = asset.packed[taken] if taken else asset.content
    response = Response(content, content_type=asset.mimetype)
    response.headers["Cache-Control"] = cache
    if asset.packed:
        response.headers["Vary"] = "Accept-Encoding"
    if taken:
        response.headers["Content-Encoding"] = taken
    return response
