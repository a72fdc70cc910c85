"""Spoils a body: changes its structure at a few random places, as no phone of ours ever would."""

from copy import deepcopy
from random import Random
from typing import Any

from tests.fuzz.entries import KINDS
from tests.fuzz.wire import Raw

ODD_NUMBERS: tuple[Any, ...] = (
    *(0, -1, 1, 0.5, -0.0, 5.0, 1e-320, 1e21, 1.7976931348623157e308),
    *(2**31 - 1, 2**31, 2**53 - 1, 2**53, 2**63, 2**64, -(2**63) - 1, 10**30),
    *(Raw(text) for text in ("NaN", "Infinity", "-Infinity", "1e400", "-1e400", "-0", "1E5")),
    *(Raw("9" * 400), Raw("9" * 4300), Raw("9" * 5000), Raw("0." + "1" * 5000)),
)
ODD_TEXTS = (
    *("", " ", "\x00", "a\x00b", "\ud800", "\udc00x", "\udfff\ud800", "\U0001f336", "\ufeff"),
    *("x" * 41, "x" * 121, "x" * 4000, "x" * 4001, "é" * 60_000, "\u202e\u2066", "\r\n", "\x7f"),
    *("=1+1", "<script>alert(1)</script>", "'; DROP TABLE entries; --", "%s%n{0}", "../../etc"),
    *("__proto__", "constructor", "toString", "correct", "void", "garden", "unheard_of", "Note"),
)
ODD_MOMENTS = (
    *("2026-06-01T07:40:00+02:00", "2026-02-29T00:00:00+00:00", "2026-06-01T24:00:00+00:00"),
    *("9999-12-31T23:59:59+14:00", "0000-00-00T00:00:00+00:00", "1970-01-01T00:00:00+14:00"),
    *("2199-12-31T23:59:59-14:00", "2026-06-01T07:40:60+02:00", "2026-06-01T07:40:00Z"),
    *("2026-06-01T07:40:00-00:00", "２０２６-06-01T07:40:00+02:00", "2026-06-01 07:40:00+02:00"),
    *("2026-06-01T07:40:00.5+02:00", "2026-06-01", "2026-W23-1", "1969-12-31", "20260601"),
)
ODD_IDS = (
    "00000000-0000-0000-0000-000000000000",
    "ffffffff-ffff-ffff-ffff-ffffffffffff",
    "0190E8A0-0000-7000-8000-00000000ABCD",
    "{0190e8a0-0000-7000-8000-00000000abcd}",
    "0190e8a0-0000-7000-8000-00000000abcd\n",
)
ODD_CLOCKS = ("0" * 16, "f" * 16, "F" * 16, "0" * 15, "0" * 17, "g" * 16, "٣" * 16)
ODD_WHOLES: tuple[Any, ...] = (
    *(None, True, False, [], {}, [[]], [None], {"": ""}, {"a": {"b": {"c": 1}}}),
    *([0] * 3000, {f"k{place}": place for place in range(2000)}, ["x" * 4000] * 20),
)
DEPTHS = (7, 8, 9, 10, 11, 40, 200, 900, 3000, 100_000)
NEW_NAMES = (
    "extra",
    "",
    "id",
    "seq",
    "order",
    "received_at",
    "mends",
    "answers",
    "__proto__",
    "\ud800",
)

Place = tuple[Any, Any]


def spoil(body: Any, random: Random, ids: list[str]) -> Any:
    """The body with one to four changes; `ids` are those that mean something to the shed."""
    root = {"": body}
    for _ in range(random.choice([1, 1, 1, 2, 2, 3, 4])):
        places = list(_places(root))
        holder, key = random.choice(places)
        _change(holder, key, random, places, ids)
        if "" not in root:
            return Raw("")
    return root[""]


def odd(random: Random, ids: list[str]) -> Any:
    """Any value at all that JSON, or what passes for it, can hold."""
    source = random.choice(
        [ODD_NUMBERS, ODD_TEXTS, ODD_MOMENTS, ODD_IDS, ODD_CLOCKS, ODD_WHOLES, ids, DEPTHS, KINDS]
    )
    chosen = random.choice(list(source))
    if source is DEPTHS:
        opening, closing = random.choice([("[", "]"), ('{"a":', "}")])
        return Raw(opening * chosen + "1" + closing * chosen)
    # A copy: what is put in here may be spoilt further, and must be whole for the next case.
    return deepcopy(chosen)


def _places(value: Any) -> Any:
    """Each spot of a tree, as what holds it and its name or index there."""
    items = list(value.items()) if isinstance(value, dict) else list(enumerate(value))
    for key, item in items:
        yield value, key
        # A long list is one oddity, not a thousand places to choose from.
        if isinstance(item, dict | list) and len(item) < 200:
            yield from _places(item)


def _change(holder: Any, key: Any, random: Random, places: list[Place], ids: list[str]) -> None:
    here = holder[key]
    match random.randrange(12):
        case 0:
            del holder[key]
        case 1:
            holder[key] = [here]
        case 2:
            holder[key] = {"value": here}
        case 3:
            holder[key] = str(here) if isinstance(here, int | float) else len(str(here))
        case 4:
            other, name = random.choice(places)
            # A copy of another part; never a part within itself, which has no end.
            holder[key] = other[name] if not isinstance(other[name], dict | list) else "part"
        case 5 if isinstance(here, dict):
            here[random.choice(NEW_NAMES)] = odd(random, ids)
        case 6 if isinstance(here, list):
            here += [odd(random, ids)] if random.random() < 0.5 else here[:1]
            random.shuffle(here)
        case 7 if isinstance(holder, dict):
            holder[random.choice([*NEW_NAMES, *map(str, holder)])] = holder.pop(key)
        case 8:
            holder[key] = random.choice(ids)
        case _:
            holder[key] = odd(random, ids)
