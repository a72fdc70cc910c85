"""Questions to the store that are put together once, and may ask about many values at a time.

Most of what a small statement costs is SQLAlchemy putting it together (measured: 0.25 ms each where
a push has twenty, and half of that so).
"""

import json
from collections.abc import Callable, Collection
from typing import Any

from sqlalchemy import ColumnElement, Executable, Result, bindparam, func, select
from sqlalchemy.orm import Session

# The condition that a row's value is one of those which are given under this name.
Among = Callable[[Any, str], ColumnElement[bool]]


class Asked:
    """A statement whose values are named, such as `bindparam("garden")`.

    `build` is given `among(column, name)`, for a value that is a set or a list. On SQLite the many
    go over as one JSON text: a batch of 500 entries would else bring thousands of parameters, which
    SQLAlchemy writes into each statement anew (measured: 1.5 µs for each value, and 0.9 so).
    """

    def __init__(self, build: Callable[[Among], Executable]) -> None:
        self._for_sqlite = build(_among_json)
        self._for_others = build(_among_many)

    def __call__(self, session: Session, **values: Any) -> Result[*tuple[Any, ...]]:
        """Ask it with these values."""
        if session.get_bind().dialect.name != "sqlite":
            return session.execute(self._for_others, values)
        told = {name: _told(value) for name, value in values.items()}
        return session.execute(self._for_sqlite, told)


def _among_json(column: Any, name: str) -> ColumnElement[bool]:
    each = func.json_each(bindparam(name)).table_valued("value")
    found: ColumnElement[bool] = column.in_(select(each.c.value))
    return found


def _among_many(column: Any, name: str) -> ColumnElement[bool]:
    found: ColumnElement[bool] = column.in_(bindparam(name, expanding=True))
    return found


def _told(value: Any) -> Any:
    is_many = isinstance(value, Collection) and not isinstance(value, str | bytes)
    return json.dumps(list(value)) if is_many else value
