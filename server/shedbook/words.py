"""Turns message keys with values into text: the one place where Python meets prose.

The phone has a twin, `client/words.js`; `tests/corpus/words.json` holds both to the same text.
"""

import functools
import json
import math
import re
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from shedbook import places

Words = Mapping[str, str]
Names = Mapping[str, str]

_SLOT = re.compile(r"\{([a-z0-9_]+)(?::([^{}|]*)\|([^{}|]*))?\}")
_ID_WORDS = frozenset({"id", "bed", "planting", "person", "device", "entry"})
_ONE_DECIMAL = frozenset({"hours", "days", "mm", "l", "g", "c", "percent", "ha", "acre"})
# What is looked up as `<prefix>.<value>` when the last part of a value's name says so.
_VOCABULARIES = frozenset(
    ("crop", "family", "kind", "state", "field", "unit")
    + ("organism", "trouble", "sign", "material", "source")
)
_SPAN_IN_DAYS_FROM_HOURS = 48
_RUN_LENGTH = 3
_SCALES = (1, 10, 100)


ENGLISH = "en"


@functools.cache
def languages() -> Mapping[str, str]:
    """The languages there are, one for each file of words: code and own name."""
    codes = sorted(file.stem for file in (places.CLIENT / "words").glob("*.json"))
    return {code: load_words(code)["language.name"] for code in codes}


@functools.cache
def load_words(language: str = ENGLISH) -> Words:
    """All texts of one language, by key."""
    text = (places.CLIENT / "words" / f"{language}.json").read_text(encoding="utf-8")
    loaded: dict[str, str] = json.loads(text)
    return loaded


def compose(
    words: Words,
    key: str,
    values: Mapping[str, Any] | None = None,
    names: Names | None = None,
    zone: str = "UTC",
) -> str:
    """The text of a key with its values filled in; an unknown key comes back in brackets."""
    template = words.get(key)
    if template is None:
        return f"[{key}]"
    given = values or {}

    def fill(match: re.Match[str]) -> str:
        name, singular, plural = match.groups()
        if singular is None and _is_span(name, given.get(name)):
            return _span(words, given[name])
        text = format_value(words, name, given.get(name), names or {}, zone)
        if singular is None:
            return text
        return f"{text} {singular if text == '1' else plural}"

    return _SLOT.sub(fill, template)


def planting_name(words: Words, crop: str | None, variety: str | None) -> str | None:
    """How a planting is called: its variety and crop, or the one of them that is known."""
    crop_word = words.get(f"crop.{crop}", crop) if crop else None
    if not (crop_word and variety):
        return crop_word or variety
    form = words.get("value.planting", "{variety} ({crop})")
    return form.replace("{variety}", variety).replace("{crop}", crop_word)


def finding_text(
    words: Words,
    finding: Mapping[str, Any],
    rule: Mapping[str, Any],
    names: Names | None = None,
    zone: str = "UTC",
) -> dict[str, Any]:
    """Everything a person reads about one finding: title, message, reasons, source, caution."""

    def text(message: Mapping[str, Any], prefix: str) -> str:
        return compose(words, f"{prefix}.{message['key']}", message.get("values"), names, zone)

    caution = rule.get("caution")
    return {
        "title": compose(words, f"rule.{finding['rule']}.title"),
        "message": text(finding["message"], "message"),
        "reasons": [text(reason, "reason") for reason in finding["reasons"]],
        "source": rule.get("source"),
        "caution": compose(words, f"caution.{caution}") if caution else None,
    }


def _is_span(name: str, value: Any) -> bool:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return name.endswith("_hours") and is_number and math.isfinite(value)


def _span(words: Words, hours: float) -> str:
    """Hours as a person says them: in days from two days on."""
    if abs(hours) < _SPAN_IN_DAYS_FROM_HOURS:
        return compose(words, "value.hours", {"hours": hours})
    return compose(words, "value.days", {"days": hours / 24})


def format_value(words: Words, name: str, value: Any, names: Names, zone: str) -> str:
    """One value as text; the last part of its name says what it is."""
    last = name.rsplit("_", 1)[-1]
    if last == "plants":
        return _plants(words, value)
    if value is None:
        return words.get("value.missing", "?")
    if isinstance(value, bool):
        return words.get("value.yes" if value else "value.no", "yes" if value else "no")
    if isinstance(value, int | float):
        return _number(words, last, value, zone)
    if isinstance(value, str):
        return _word(words, name, last, value, names)
    if isinstance(value, Sequence):
        singular = last.removesuffix("s")
        return ", ".join(format_value(words, singular, item, names, zone) for item in value)
    return words.get("value.missing", "?")


def _word(words: Words, name: str, last: str, value: str, names: Names) -> str:
    if last in _ID_WORDS:
        return names.get(value, words.get("value.unnamed", "?"))
    if last in _VOCABULARIES:
        return words.get(f"{last}.{value}", value)
    if last == "rule":
        return words.get(f"rule.{value}.title", value)
    return words.get(f"choice.{name}.{value}", value)


def _number(words: Words, last: str, value: float, zone: str) -> str:
    if not math.isfinite(value):
        return words.get("value.missing", "?")
    if last == "day":
        return _date(words, date(1970, 1, 1) + timedelta(days=int(value)))
    if last == "instant":
        return _moment(words, value, zone)
    if last == "share":
        return f"{plain_number(value * 100, 0)}%"
    text = plain_number(value, 1 if last in _ONE_DECIMAL else 2)
    # The mark before decimals, as the language writes it.
    return text.replace(".", words.get("value.decimal_mark", "."))


def plain_number(value: float, decimals: int) -> str:
    """At most so many decimals (0, 1 or 2), halves away from zero, no trailing zeros."""
    scale = _SCALES[decimals]
    units = math.floor(abs(value) * scale + 0.5)
    whole, rest = divmod(units, scale)
    text = str(whole)
    if rest:
        text += "." + str(rest).rjust(decimals, "0").rstrip("0")
    return f"-{text}" if value < 0 and units else text


def _date(words: Words, day: date) -> str:
    month = words.get(f"date.month.{day.month}")
    form = words.get("date.day")
    if month is None or form is None:
        return day.isoformat()
    return (
        form.replace("{day}", str(day.day))
        .replace("{month}", month)
        .replace("{year}", str(day.year))
    )


def _moment(words: Words, instant: float, zone: str) -> str:
    moment = datetime.fromtimestamp(math.floor(instant), UTC).astimezone(_zone(zone))
    form = words.get("date.moment", "{date} {time}")
    return form.replace("{date}", _date(words, moment.date())).replace(
        "{time}", f"{moment.hour:02d}:{moment.minute:02d}"
    )


@functools.lru_cache(maxsize=64)
def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        return ZoneInfo("UTC")


def _plants(words: Words, value: Any) -> str:
    if value is None:
        return words.get("value.all_plants", "all plants")
    if isinstance(value, int | float):
        return plain_number(value, 0)
    listed = ", ".join(_runs(sorted(int(ordinal) for ordinal in value)))
    key, fallback = (
        ("value.one_plant", "plant {list}")
        if len(value) == 1
        else ("value.some_plants", "plants {list}")
    )
    return words.get(key, fallback).replace("{list}", listed)


def _runs(ordinals: list[int]) -> list[str]:
    """3, 4, 5, 6, 9 -> "3–6", "9"; fewer than three in a row are listed singly."""
    runs: list[list[int]] = []
    for ordinal in ordinals:
        if runs and ordinal == runs[-1][-1] + 1:
            runs[-1].append(ordinal)
        else:
            runs.append([ordinal])
    texts: list[str] = []
    for run in runs:
        if len(run) >= _RUN_LENGTH:
            texts.append(f"{run[0]}–{run[-1]}")
        else:
            texts.extend(str(ordinal) for ordinal in run)
    return texts
