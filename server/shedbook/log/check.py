"""Checks one entry as it came over the wire, the part of `client/log/check.js` and its envelope.

Three answers are kept apart, because they lead to three places. `unreadable`: it cannot even be
stored under a number, so it is refused. `problems`: it can be read but not believed, so it is set
aside with its reason. `remarks`: it is odd; the log takes it and says so, a form asks again.
"""

import functools
import zoneinfo
from dataclasses import dataclass, field
from typing import Any

from shedbook.log.clock import is_clock
from shedbook.log.evident import YEAR_2000, is_evident
from shedbook.log.kinds import KINDS, Details, Kind
from shedbook.log.kinds.fields import NumberField, is_kind_name
from shedbook.log.kinds.texts import say
from shedbook.log.moment import DAY_SECONDS, parse_moment
from shedbook.log.plain import Messages, forbidden_values, overlong_texts
from shedbook.log.subjects import check_shapes, check_subjects, is_an_id, is_counting
from shedbook.log.telling import MENDING_KINDS

LONGEST_ANSWERS = 200


@dataclass
class Checked:
    """What was found wrong or odd, texts by the path of the field."""

    unreadable: Messages = field(default_factory=dict)
    problems: Messages = field(default_factory=dict)
    remarks: Messages = field(default_factory=dict)

    @property
    def is_accepted(self) -> bool:
        """Whether the log takes the entry, with or without remarks."""
        return not self.unreadable and not self.problems


def check_entry(raw: object, now: int | None = None) -> Checked:
    """Check an entry; `now` (an instant) lets a date that lies ahead be remarked on."""
    if isinstance(raw, dict) and is_evident(raw, now):
        return Checked()
    return check_closely(raw, now)


def check_closely(raw: object, now: int | None = None) -> Checked:
    """The whole check, of any value that JSON can carry."""
    if not isinstance(raw, dict):
        return Checked(unreadable={"": [say("not_an_entry")]})
    checked = Checked(unreadable=forbidden_values(raw))
    for name in ("id", "garden", "notebook"):
        if not is_an_id(raw.get(name)):
            checked.unreadable[name] = [say("not_an_id")]
    if not is_counting(raw.get("number")):
        checked.unreadable["number"] = [say("not_a_count")]
    if checked.unreadable:
        return checked
    _check_envelope(raw, checked)
    _check_moment(raw.get("happened_at"), now, checked)
    subjects, details = raw.get("subjects"), raw.get("details")
    if not isinstance(subjects, dict):
        checked.problems["subjects"] = [say("not_subjects")]
    if not isinstance(details, dict):
        checked.problems["details"] = [say("not_a_map")]
    elif isinstance(subjects, dict) and "kind" not in checked.problems:
        checked.problems |= overlong_texts(details, "details")
        _check_kind(raw, subjects, details, checked)
    return checked


def check_details(
    kind: Kind, subjects: dict[str, Any], details: dict[str, Any], *, making: bool = False
) -> Checked:
    """The part that a form on the phone checks too, line for line, in `client/log/check.js`."""
    checked = Checked(problems=check_subjects(kind, subjects))
    for name, texts in schema_of(kind.name).validate(details).items():
        checked.problems["details" if name == "_schema" else f"details.{name}"] = list(texts)
    for name, form in _numbers_of(kind.name):
        text = _unusual(form, details.get(name))
        if text is not None and f"details.{name}" not in checked.problems:
            checked.remarks[f"details.{name}"] = [text]
    if making:
        for name in kind.schema.needed_at_making:
            if details.get(name) is None and f"details.{name}" not in checked.problems:
                checked.remarks[f"details.{name}"] = [say("needed")]
    return checked


@functools.cache
def schema_of(name: str) -> Details:
    """The one instance of a kind's schema; building it costs more than a check does."""
    return KINDS[name].schema()


@functools.cache
def _numbers_of(name: str) -> tuple[tuple[str, NumberField], ...]:
    declared = schema_of(name).fields
    return tuple(
        (key, form)
        for key, form in declared.items()
        if isinstance(form, NumberField)
        and ("unusual_above" in form.metadata or "unusual_below" in form.metadata)
    )


def _unusual(form: NumberField, value: Any) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    unit = form.metadata.get("unit")
    suffix = "_unit" if unit is not None else ""
    above, below = form.metadata.get("unusual_above"), form.metadata.get("unusual_below")
    if above is not None and value > above:
        return say(f"unusual_above{suffix}", limit=above, unit=unit)
    if below is not None and value < below:
        return say(f"unusual_below{suffix}", limit=below, unit=unit)
    return None


def _check_envelope(raw: dict[str, Any], checked: Checked) -> None:
    problems = checked.problems
    if not is_kind_name(raw.get("kind")):
        problems["kind"] = [say("not_a_kind")]
    if not is_counting(raw.get("version")):
        problems["version"] = [say("not_a_count")]
    for name in ("device", "person"):
        if not is_an_id(raw.get(name)):
            problems[name] = [say("not_an_id")]
    if "mends" in raw and not is_an_id(raw["mends"]):
        problems["mends"] = [say("not_an_id")]
    clock = raw.get("clock")
    if not isinstance(clock, str) or not is_clock(clock):
        problems["clock"] = [say("not_a_clock")]
    if not _is_moment(raw.get("recorded_at")):
        problems["recorded_at"] = [say("not_a_moment")]
    if "answers" in raw:
        answers = raw["answers"]
        if not isinstance(answers, str):
            problems["answers"] = [say("not_a_text")]
        elif not 1 <= len(answers) <= LONGEST_ANSWERS:
            problems["answers"] = [say("text_length", max=LONGEST_ANSWERS)]


def _check_moment(text: object, now: int | None, checked: Checked) -> None:
    if not isinstance(text, str) or not _is_moment(text):
        checked.problems["happened_at"] = [say("not_a_moment")]
        return
    instant = parse_moment(text).instant
    if instant < YEAR_2000:
        checked.remarks["happened_at"] = [say("long_ago")]
    elif now is not None and instant > now + DAY_SECONDS:
        checked.remarks["happened_at"] = [say("in_the_future")]


def _check_kind(
    raw: dict[str, Any], subjects: dict[str, Any], details: dict[str, Any], checked: Checked
) -> None:
    kind = KINDS.get(raw["kind"])
    if kind is None:
        checked.problems |= check_shapes(subjects)
        checked.remarks["kind"] = [say("unknown_kind")]
        return
    if "version" not in checked.problems and raw["version"] > kind.version:
        checked.problems |= check_shapes(subjects)
        checked.remarks["version"] = [say("newer_version")]
        return
    making = kind.structural and raw["id"] == subjects.get(kind.name)
    _take(checked, check_details(kind, subjects, details, making=making), "details")
    checked.problems |= _check_zone(kind.name, details, "details")
    told = kind.name
    if kind.name == "correct" and not checked.problems:
        told = details["kind"]
        _check_restated(subjects, details, checked)
    if told == "decline" and "answers" not in raw:
        checked.problems["answers"] = [say("no_answer")]


def _check_restated(subjects: dict[str, Any], details: dict[str, Any], checked: Checked) -> None:
    """A correction must be as good as the entry that it tells again."""
    if details["kind"] in MENDING_KINDS:
        checked.problems["details.kind"] = [say("not_a_root")]
        return
    kind = KINDS.get(details["kind"])
    if kind is None:
        checked.remarks["details.kind"] = [say("unknown_kind")]
        return
    _take(checked, check_details(kind, subjects, details["restated"]), "details.restated")
    checked.problems |= _check_zone(kind.name, details["restated"], "details.restated")


def _take(checked: Checked, found: Checked, below: str) -> None:
    """Add what was found in details, under the path where those details lie."""
    for target, source in ((checked.problems, found.problems), (checked.remarks, found.remarks)):
        for path, texts in source.items():
            moved = below + path.removeprefix("details") if path.startswith("details") else path
            target[moved] = texts


def _check_zone(kind_name: str, details: dict[str, Any], path: str) -> Messages:
    """A zone that this machine doesn't know; only the shed asks, since it tells the days."""
    zone = details.get("zone")
    if kind_name != "setting" or not isinstance(zone, str) or zone in _known_zones():
        return {}
    return {f"{path}.zone": [say("unknown_zone")]}


@functools.cache
def _known_zones() -> frozenset[str]:
    """The names of all time zones; reading them goes through a folder, so it is done once."""
    return frozenset(zoneinfo.available_timezones())


def _is_moment(value: object) -> bool:
    try:
        parse_moment(value)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return False
    return True
