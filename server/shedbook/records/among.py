"""Asks whether a column holds one of many values, without naming each of them in the statement."""

import json
from collections.abc import Collection
from typing import Any

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import InstrumentedAttribute, Session


def among(
    session: Session, column: InstrumentedAttribute[Any], values: Collection[str | int]
) -> ColumnElement[bool]:
    """The condition that a row's value is one of these.

    On SQLite the values go over as one JSON text: a batch of 500 entries would else bring thousands
    of parameters, which SQLAlchemy writes into each statement anew (measured: 1.5 µs for each
    value, and 0.9 so; a new entry is looked for in four places).
    """
    if session.get_bind().dialect.name != "sqlite":
        return column.in_(set(values))
    each = func.json_each(json.dumps(list(values))).table_valued("value")
    return column.in_(select(each.c.value))
