"""The kinds as plain JSON, which the phone builds its forms and its own check from."""

from typing import Any

from shedbook.log.kinds import KINDS, Kind
from shedbook.log.kinds.fields import StrictField


def describe_kinds() -> dict[str, Any]:
    """`{"kinds": [...]}`, in the order of the registry."""
    return {"kinds": [describe_kind(kind) for kind in KINDS.values()]}


def describe_kind(kind: Kind) -> dict[str, Any]:
    """One kind: what it is about, its fields, and what they must be together."""
    schema = kind.schema
    declared = schema().fields
    # The note that all work shares is inherited, so it would come first; it is read last.
    ordered = sorted(declared, key=lambda name: name == "note" and len(declared) > 1)
    return {
        "name": kind.name,
        "version": kind.version,
        "group": kind.group,
        "hand_work": kind.hand_work,
        "structural": kind.structural,
        "subjects": dict(kind.subjects),
        "at_least_one": [list(group) for group in schema.at_least_one],
        "not_above": [list(pair) for pair in schema.not_above],
        "needs": [list(pair) for pair in schema.needs],
        "needed_at_making": list(schema.needed_at_making),
        "fields": [describe_field(name, declared[name]) for name in ordered],
    }


def describe_field(name: str, field: Any) -> dict[str, Any]:
    """One field: its type in a form, its bounds and its unit."""
    assert isinstance(field, StrictField)
    described: dict[str, Any] = {
        "name": field.data_key or name,
        "type": field.form_type,
        "required": field.required,
        "primary": bool(field.metadata.get("primary")),
    }
    for key in ("unit", "min", "max", "unusual_above", "unusual_below", "step", "max_length"):
        if key in field.metadata:
            described[key] = field.metadata[key]
    if "choices" in field.metadata:
        described["choices"] = list(field.metadata["choices"])
    return described
