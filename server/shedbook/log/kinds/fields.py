"""Strict marshmallow fields: what JSON carries is taken as it is, never converted.

A phone that sends "5" where 5 is meant has a fault that must be seen, so no field here reads a
number out of a text. Each field's metadata is what the phone's forms are built from.
"""

import re
from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields

from shedbook.log.identity import is_id
from shedbook.log.kinds.texts import say
from shedbook.log.moment import DAYS_BEFORE_MONTH, month_days, parse_day, parse_moment

SHORT_TEXT = 120
LONG_TEXT = 4000
LONGEST_LIST = 1000
LARGEST = 1_000_000

_NAME = re.compile(r"[a-z0-9_]{1,40}", re.ASCII)
_SHA256 = re.compile(r"[0-9a-f]{64}", re.ASCII)
_MONTH_DAY = re.compile(r"(\d\d)-(\d\d)", re.ASCII)
_LEAP_YEAR = 2000

Deserialized = Any


def _fail(key: str, **values: Any) -> ValidationError:
    return ValidationError(say(key, **values))


class StrictField(fields.Field[Any]):
    """A field with our own words for what is missing, and a name for its type in the forms."""

    # marshmallow declares this per instance, so it cannot be marked as a class variable.
    default_error_messages: dict[str, str | list[Any] | dict[Any, Any]] = {  # noqa: RUF012
        "required": say("needed"),
        "null": say("not_empty"),
    }
    form_type = "text"

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> Deserialized:
        self.check(value)
        return value

    def check(self, value: Any) -> None:
        """Raise ValidationError when the value is not what this field holds."""
        raise NotImplementedError


class NumberField(StrictField):
    """A number between two bounds, in the unit of the metadata."""

    form_type = "number"

    def check(self, value: Any) -> None:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise _fail("not_a_number")
        low, high = self.metadata["min"], self.metadata["max"]
        # Written so that NaN, which compares false with everything, fails too.
        if not low <= value <= high:
            unit = self.metadata.get("unit")
            if unit is None:
                raise _fail("between", min=low, max=high)
            raise _fail("between_unit", min=low, max=high, unit=unit)


class IntegerField(NumberField):
    """A whole number; 5.0 counts as whole, since JSON has one kind of number."""

    form_type = "integer"

    def check(self, value: Any) -> None:
        super().check(value)
        if value != int(value):
            raise _fail("not_whole")


class TextField(StrictField):
    """A text of at least one character and at most as many as the metadata says."""

    def check(self, value: Any) -> None:
        if not isinstance(value, str):
            raise _fail("not_a_text")
        longest = self.metadata["max_length"]
        if not 1 <= len(value) <= longest:
            raise _fail("text_length", max=longest)


class LongTextField(TextField):
    """A text that is written in a box of several lines."""

    form_type = "long_text"


class ChoiceField(StrictField):
    """One of a few fixed words."""

    form_type = "choice"

    def check(self, value: Any) -> None:
        choices = self.metadata["choices"]
        if not isinstance(value, str) or value not in choices:
            raise _fail("not_a_choice", choices=", ".join(choices))


class BooleanField(StrictField):
    """True or false."""

    form_type = "boolean"

    def check(self, value: Any) -> None:
        if not isinstance(value, bool):
            raise _fail("not_yes_or_no")


class DateField(StrictField):
    """A day of the calendar, `YYYY-MM-DD`."""

    form_type = "date"

    def check(self, value: Any) -> None:
        try:
            parse_day(value)
        except (TypeError, ValueError):
            raise _fail("not_a_date") from None


class MomentField(StrictField):
    """A moment in the one form of this log."""

    form_type = "moment"

    def check(self, value: Any) -> None:
        try:
            parse_moment(value)
        except (TypeError, ValueError):
            raise _fail("not_a_moment") from None


class MonthDayField(StrictField):
    """A day of any year, `MM-DD`."""

    form_type = "month_day"

    def check(self, value: Any) -> None:
        found = _MONTH_DAY.fullmatch(value) if isinstance(value, str) else None
        if found is None:
            raise _fail("not_a_month_day")
        month, day = int(found[1]), int(found[2])
        is_month = 1 <= month < len(DAYS_BEFORE_MONTH)
        if not is_month or not 1 <= day <= month_days(_LEAP_YEAR, month):
            raise _fail("not_a_month_day")


class IdField(StrictField):
    """The id of an entry, and so of a bed or planting."""

    form_type = "id"

    def check(self, value: Any) -> None:
        if not isinstance(value, str) or not is_id(value):
            raise _fail("not_an_id")


class Sha256Field(StrictField):
    """The SHA-256 of some bytes, by which they are found again."""

    form_type = "sha256"

    def check(self, value: Any) -> None:
        if not is_sha256(value):
            raise _fail("not_a_sha256")


class IdListField(StrictField):
    """Ids in a chosen order, each once."""

    form_type = "id_list"

    def check(self, value: Any) -> None:
        if not isinstance(value, list) or len(value) > LONGEST_LIST:
            raise _fail("not_ids")
        if not all(isinstance(item, str) and is_id(item) for item in value):
            raise _fail("not_ids")
        if len(set(value)) != len(value):
            raise _fail("not_ids")


class NumberListField(StrictField):
    """Numbers in the order they were read, none below 0."""

    form_type = "number_list"

    def check(self, value: Any) -> None:
        is_list = isinstance(value, list) and 1 <= len(value) <= LONGEST_LIST
        if not is_list or not all(_is_number(item) and 0 <= item <= LARGEST for item in value):
            raise _fail("not_numbers")


class NameListField(StrictField):
    """Short names, each once."""

    form_type = "name_list"

    def check(self, value: Any) -> None:
        is_list = isinstance(value, list) and 1 <= len(value) <= LONGEST_LIST
        if not is_list or not all(is_kind_name(item) for item in value):
            raise _fail("not_names")
        if len(set(value)) != len(value):
            raise _fail("not_names")


class KindField(StrictField):
    """The name of a kind, known to this version or not."""

    form_type = "kind"

    def check(self, value: Any) -> None:
        if not is_kind_name(value):
            raise _fail("not_a_kind")


class MapField(StrictField):
    """A JSON object of any content."""

    form_type = "map"

    def check(self, value: Any) -> None:
        if not isinstance(value, dict):
            raise _fail("not_a_map")


class NumberMapField(StrictField):
    """Names with numbers, such as thresholds of one's own."""

    form_type = "number_map"

    def check(self, value: Any) -> None:
        if not isinstance(value, dict) or not all(_is_number(item) for item in value.values()):
            raise _fail("not_number_map")


class ObjectMapField(StrictField):
    """Short names with fields of their own, such as crops that a grower adds."""

    form_type = "object_map"

    def check(self, value: Any) -> None:
        if not isinstance(value, dict):
            raise _fail("not_object_map")
        for name, item in value.items():
            if _NAME.fullmatch(name) is None or not isinstance(item, dict):
                raise _fail("not_object_map")


def is_kind_name(value: object) -> bool:
    """Whether a value has the form of a kind's name."""
    return isinstance(value, str) and _NAME.fullmatch(value) is not None


def is_sha256(value: object) -> bool:
    """Whether a value is a SHA-256 as this log writes it."""
    return isinstance(value, str) and _SHA256.fullmatch(value) is not None


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
