"""Says of most entries at once that nothing is wrong or odd about them; of the rest, nothing.

The full check in `check.py` takes longer than storing an entry does (measured: 51 µs, and 8 for
this look), and of nearly every entry it finds nothing to say. Here the same fields are asked by the
same `check`, taken from the schema of the kind, without the ways round them that a report needs.
Whatever is not evident goes to the full check, which alone decides and alone has words. So a kind
is still defined once, and a field, a subject or an envelope that this module does not know is
looked at closely.
"""

import functools
from collections.abc import Callable
from operator import itemgetter
from typing import Any, NamedTuple

from marshmallow import ValidationError

from shedbook.log.clock import is_clock
from shedbook.log.identity import is_id, is_id_again
from shedbook.log.kinds import KINDS, Details
from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import comparable
from shedbook.log.moment import DAY_SECONDS, parse_moment
from shedbook.log.plain import LARGEST_EXACT, LONGEST_TEXT, is_storable
from shedbook.log.subjects import LARGEST_NUMBER, check_subjects

YEAR_2000 = 946_684_800
ENVELOPE = (
    "id", "garden", "notebook", "number", "kind", "version", "subjects",
    "happened_at", "recorded_at", "clock", "device", "person", "details",
)  # fmt: skip
_parts_of = itemgetter(*ENVELOPE)
# Every order in which an entry may name its places. Plants are looked at closely.
_ORDERS = ((), ("bed",), ("planting",), ("bed", "planting"), ("planting", "bed"))
_AN_ID = "00000000-0000-7000-8000-000000000000"
_SECONDS = {f"{second:02d}": second for second in range(60)}
# Must name the finding that is decided against, in a part of the envelope that few entries have.
_NEVER = frozenset({"decline"})
# Their own check lets nothing pass that could not be stored.
_BOUNDED = frozenset(
    {
        f.ChoiceField,
        f.BooleanField,
        f.DateField,
        f.MomentField,
        f.MonthDayField,
        f.IdField,
        f.Sha256Field,
        f.IdListField,
        f.NumberListField,
        f.NameListField,
    }
)

# True for a value about which there is nothing to say; may raise ValidationError instead of False.
Test = Callable[[Any], bool]


class Form(NamedTuple):
    """What the details and subjects of one kind must be, taken from its definition."""

    version: int
    orders: frozenset[tuple[str, ...]]
    tests: dict[str, Test]
    required: tuple[str, ...]
    at_least_one: tuple[tuple[str, ...], ...]
    not_above: tuple[tuple[str, str], ...]
    needs: tuple[tuple[str, str], ...]


def is_evident(entry: dict[str, Any], now: int | None) -> bool:
    """Whether the full check would neither refuse the entry nor remark on anything in it."""
    if len(entry) != len(ENVELOPE):
        return False
    try:
        return _is_evident(_parts_of(entry), now)
    # A name that is missing, a value of another type: the full check says which.
    except (KeyError, TypeError, ValueError, ValidationError):
        return False


def _is_evident(parts: tuple[Any, ...], now: int | None) -> bool:
    (
        entry_id, garden, notebook, number, kind, version, subjects,
        happened_at, recorded_at, clock, device, person, details,
    ) = parts  # fmt: skip
    form = form_of(kind)
    if form is None or type(subjects) is not dict or tuple(subjects) not in form.orders:
        return False
    if not (type(number) is int and 1 <= number <= LARGEST_NUMBER):
        return False
    if not (type(version) is int and 1 <= version <= form.version):
        return False
    known_ids = (garden, notebook, device, person, *subjects.values())
    if not (is_id(entry_id) and all(map(is_id_again, known_ids)) and is_clock(clock)):
        return False
    instant, _ = _instant(happened_at), _instant(recorded_at)
    if instant < YEAR_2000 or (now is not None and instant > now + DAY_SECONDS):
        return False
    return type(details) is dict and are_evident(form, details)


def are_evident(form: Form, details: dict[str, Any]) -> bool:
    """Whether the schema, and what is usual, would pass these details. May raise what a test does.

    A name that the form does not have raises KeyError.
    """
    for name, value in details.items():
        if not form.tests[name](value):
            return False
    for name in form.required:
        if name not in details:
            return False
    for group in form.at_least_one:
        if details.keys().isdisjoint(group):
            return False
    for name, needed in form.needs:
        if name in details and needed not in details:
            return False
    for low, high in form.not_above:
        if low in details and high in details and not _in_order(details[low], details[high]):
            return False
    return True


def _in_order(low: Any, high: Any) -> bool:
    return comparable(low) <= comparable(high)


def _instant(text: str) -> int:
    """The instant of a moment. An entry is mostly recorded in the minute in which it happened, and
    reading a moment is the dearest part of the look (measured: 1.8 µs, and 0.3 in a minute known).
    """
    return _minute(f"{text[:17]}00{text[19:]}") + _SECONDS[text[17:19]]


@functools.lru_cache(maxsize=4096)
def _minute(text: str) -> int:
    return parse_moment(text).instant


def form_of(kind_name: str) -> Form | None:
    """The form of a kind, or None where every entry of it is looked at closely."""
    # Looked up before anything is kept: an entry may name any number of kinds, at any length.
    return _form_of(kind_name) if kind_name in KINDS else None


@functools.cache
def _form_of(kind_name: str) -> Form | None:
    kind = KINDS[kind_name]
    # What changes a bed or planting is rare, and may be remarked on when it makes one.
    if kind.structural or kind_name in _NEVER:
        return None
    schema: Details = kind.schema()
    key_of = {name: field.data_key or name for name, field in schema.fields.items()}
    tests = {key_of[name]: _test_of(field) for name, field in schema.fields.items()}
    if not all(tests.values()):
        return None
    return Form(
        version=kind.version,
        orders=frozenset(
            order for order in _ORDERS if not check_subjects(kind, dict.fromkeys(order, _AN_ID))
        ),
        tests={name: test for name, test in tests.items() if test is not None},
        required=tuple(key_of[name] for name, field in schema.fields.items() if field.required),
        at_least_one=tuple(tuple(key_of[name] for name in group) for group in schema.at_least_one),
        not_above=tuple((key_of[low], key_of[high]) for low, high in schema.not_above),
        needs=tuple((key_of[name], key_of[needed]) for name, needed in schema.needs),
    )


def _test_of(field: Any) -> Test | None:
    """The field's own check, and what the full check asks beyond it; None for any other field."""
    if type(field) in (f.NumberField, f.IntegerField):
        return _number_test(field)
    if type(field) in (f.TextField, f.LongTextField):
        return _text_test(field)
    if type(field) in _BOUNDED:
        return lambda value: field.check(value) is None
    return None


def _number_test(field: f.NumberField) -> Test | None:
    bounds = field.metadata
    if bounds["min"] < -LARGEST_EXACT or bounds["max"] > LARGEST_EXACT:
        return None
    low = bounds.get("unusual_below", bounds["min"])
    high = bounds.get("unusual_above", bounds["max"])

    def is_usual(value: Any) -> bool:
        field.check(value)
        return bool(low <= value <= high)

    return is_usual


def _text_test(field: f.TextField) -> Test | None:
    if field.metadata["max_length"] > LONGEST_TEXT:
        return None

    def is_plain(value: Any) -> bool:
        field.check(value)
        return is_storable(value)

    return is_plain
