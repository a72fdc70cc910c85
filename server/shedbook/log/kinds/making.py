"""Short makers for the fields of a kind, so that a schema reads like a form."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from marshmallow import EXCLUDE, Schema, ValidationError, validates_schema

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.texts import say
from shedbook.log.moment import parse_moment

MOST_PLANTS = 10_000

Pairs = tuple[tuple[str, str], ...]
Groups = tuple[tuple[str, ...], ...]


class Details(Schema):
    """The details of one kind; names it does not know are kept by the log and not looked at."""

    class Meta:
        unknown = EXCLUDE

    kind_name: ClassVar[str] = ""
    # At least one field of each group; (lower, higher) pairs; (field, what it needs) pairs.
    at_least_one: ClassVar[Groups] = ()
    not_above: ClassVar[Pairs] = ()
    needs: ClassVar[Pairs] = ()
    # Usually given by the entry that makes the bed or planting.
    needed_at_making: ClassVar[tuple[str, ...]] = ()

    @validates_schema
    def check_fields_together(self, data: dict[str, Any], **kwargs: Any) -> None:
        """What no field can say alone."""
        errors: dict[str, list[str]] = {}
        for group in self.at_least_one:
            if not any(field in data for field in group):
                errors["_schema"] = [say(f"at_least_one.{self.kind_name}")]
        for low, high in self.not_above:
            # A field of a place that is cleared is null, and above nothing.
            if data.get(low) is None or data.get(high) is None:
                continue
            if comparable(data[low]) > comparable(data[high]):
                errors[low] = [say(f"not_above.{low}")]
        for field, needed in self.needs:
            if data.get(field) is not None and data.get(needed) is None:
                errors[needed] = [say(f"needs.{needed}")]
        if errors:
            raise ValidationError(errors)


class Place(Details):
    """Details of a bed, a planting, a plant or the garden, where null clears a field."""

    def on_bind_field(self, field_name: str, field_obj: Any) -> None:
        """Every field of a place may be cleared."""
        field_obj.allow_none = True


class Work(Details):
    """Details of something done or measured; a few words fit beside the figures of any kind."""

    note = f.LongTextField(metadata={"max_length": f.LONG_TEXT})


@dataclass(frozen=True)
class Kind:
    """One kind of entry: its form, what it is about, and how the log treats it.

    `hand_work` is work with the hands among the plants, which a re-entry time forbids.
    """

    schema: type[Details]
    group: str
    subjects: Mapping[str, str]
    version: int = 1
    hand_work: bool = False

    @property
    def name(self) -> str:
        """The kind's name on the wire."""
        return self.schema.kind_name

    @property
    def structural(self) -> bool:
        """Whether its fields change a bed, planting or plant instead of recording an event."""
        return issubclass(self.schema, Place)


def comparable(value: Any) -> float:
    """A number as it is, a moment by its instant, so that offsets do not mislead."""
    return parse_moment(value).instant if isinstance(value, str) else value


def work_on(bed: str, planting: str, plants: str, *, place: bool = False) -> dict[str, str]:
    """What a kind is about, slot by slot; `place` asks for a bed or a planting at least."""
    slots = {"bed": bed, "planting": planting, "plants": plants}
    return slots | {"place": "required"} if place else slots


ANY_PLACE = work_on("optional", "optional", "optional", place=True)
ANYTHING = work_on("optional", "optional", "optional")
A_PLANTING = work_on("optional", "required", "optional")
A_BED = work_on("required", "none", "none")
NO_PLANTS = work_on("optional", "optional", "none")
PERHAPS_A_BED = work_on("optional", "none", "none")
THE_GARDEN = work_on("none", "none", "none")


def number(unit: str | None, low: float, high: float, **more: Any) -> f.NumberField:
    """A number from low to high; `above` and `below` bound what is usual, `step` is the form's."""
    return f.NumberField(**_options(more), metadata=_limits(unit, low, high, more))


def count(low: int, high: int, **more: Any) -> f.IntegerField:
    """A whole number without a unit."""
    more.setdefault("step", 1)
    return f.IntegerField(**_options(more), metadata=_limits(None, low, high, more))


def text(longest: int = f.SHORT_TEXT, **more: Any) -> f.TextField:
    """A line of text."""
    return f.TextField(**_options(more), metadata=_shown(more) | {"max_length": longest})


def long_text(**more: Any) -> f.LongTextField:
    """Several lines of text."""
    metadata = _shown(more) | {"max_length": f.LONG_TEXT}
    return f.LongTextField(**_options(more), metadata=metadata)


def choice(*choices: str, **more: Any) -> f.ChoiceField:
    """One of these words."""
    return f.ChoiceField(**_options(more), metadata=_shown(more) | {"choices": choices})


def field(cls: type[f.StrictField], **more: Any) -> f.StrictField:
    """A field that needs no bounds: a date, a moment, an id, yes or no."""
    return cls(**_options(more), metadata=_shown(more))


def _options(more: Mapping[str, Any]) -> dict[str, Any]:
    names = ("required", "allow_none", "data_key")
    return {name: more[name] for name in names if name in more}


def _shown(more: Mapping[str, Any]) -> dict[str, Any]:
    return {"primary": True} if more.get("primary") else {}


def _limits(unit: str | None, low: float, high: float, more: Mapping[str, Any]) -> dict[str, Any]:
    limits: dict[str, Any] = {"min": low, "max": high} | _shown(more)
    optional = {
        "unit": unit,
        "step": more.get("step"),
        "unusual_above": more.get("above"),
        "unusual_below": more.get("below"),
    }
    return limits | {name: value for name, value in optional.items() if value is not None}
