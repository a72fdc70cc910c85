"""What every view has in common: who may call it, what it takes, what it answers.

The declaration is read three times: to guard and parse a request, to describe the view in
/api/openapi.json, and by the test that walks every route.
"""

import functools
import json
from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any

from flask import Response, jsonify, request
from marshmallow import Schema
from werkzeug.exceptions import RequestEntityTooLarge

from shedbook.api.access import require_access
from shedbook.api.context import shed
from shedbook.api.errors import ApiError
from shedbook.records.people import Paired

View = Callable[..., Any]


@dataclass(frozen=True)
class Media:
    """Bytes instead of JSON: of one of these types, and at most so many."""

    types: tuple[str, ...]
    most_bytes: int


@dataclass(frozen=True)
class Sent:
    """Bytes that came as a body, and the type that they were said to be."""

    type: str
    data: bytes


@dataclass(frozen=True)
class Endpoint:
    """One method of one address. `also` is another status than the usual one."""

    summary: str
    allow: tuple[str, ...]
    answer: type[Schema] | Media | None
    body: type[Schema] | Media | None
    query: type[Schema] | None
    status: int
    also: int | None
    errors: tuple[str, ...]


@dataclass(frozen=True)
class Call:
    """A request that has been let in and parsed."""

    caller: Paired | None
    body: Any
    query: Any
    now_ms: int

    @property
    def paired(self) -> Paired:
        """The paired device; there is one wherever a role is asked for."""
        assert self.caller is not None
        return self.caller


def endpoint(
    summary: str,
    *,
    allow: Collection[str],
    answer: type[Schema] | Media | None = None,
    body: type[Schema] | Media | None = None,
    query: type[Schema] | None = None,
    status: int = 200,
    also: int | None = None,
    errors: Collection[str] = (),
) -> Callable[[View], View]:
    """Declare a view. It gets a Call; it returns what the answer's schema dumps, or a Response."""
    declared = Endpoint(summary, tuple(allow), answer, body, query, status, also, tuple(errors))

    def decorate(view: View) -> View:
        @functools.wraps(view)
        def guarded(garden: str | None = None, **parts: str) -> Response:
            caller = require_access(declared.allow, garden)
            call = Call(
                caller=caller,
                body=_read_body(body),
                query=schema_of(query).load(request.args.to_dict()) if query else None,
                now_ms=shed().clock_ms(),
            )
            return _respond(declared, view(call, **parts))

        guarded.endpoint = declared  # type: ignore[attr-defined]
        return guarded

    return decorate


def endpoint_of(view: Any) -> Endpoint | None:
    """How a view was declared; None for what is not part of the interface."""
    found = getattr(view, "endpoint", None)
    return found if isinstance(found, Endpoint) else None


@functools.cache
def schema_of(declared: type[Schema]) -> Schema:
    """The one instance of a schema: to build it costs more than to use it on a small body."""
    return declared()


def _read_body(declared: type[Schema] | Media | None) -> Any:
    if isinstance(declared, Media):
        return _read_media(declared)
    return schema_of(declared).load(read_json()) if declared else None


def _read_media(declared: Media) -> Sent:
    """The bytes of the body; they are refused by their number before they are read."""
    if request.mimetype not in declared.types:
        raise ApiError("not_a_photo", f"The body must be of the type {_listed(declared.types)}.")
    request.max_content_length = declared.most_bytes
    try:
        return Sent(request.mimetype, request.get_data())
    except RequestEntityTooLarge as error:
        raise ApiError(
            "too_large",
            f"The body has more than {declared.most_bytes} bytes.",
            hint="Make the image smaller.",
        ) from error


def _listed(types: tuple[str, ...]) -> str:
    return " or ".join(types)


def read_json() -> Any:
    """The JSON value of the body, or the error that says what is wrong with it and where."""
    if not request.is_json:
        raise ApiError("not_json")
    try:
        text = request.get_data().decode("utf-8")
    except RequestEntityTooLarge as error:
        raise ApiError("too_large") from error
    except UnicodeDecodeError as error:
        raise ApiError("broken_json", f"Byte {error.start} of the body is not UTF-8.") from error
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise ApiError("broken_json", f"The body is not JSON: {error.msg} at {place}.") from error
    except RecursionError as error:
        raise ApiError("broken_json", "The body is nested too deeply.") from error
    except ValueError as error:
        raise ApiError("broken_json", "The body holds a number that is too long.") from error


def _respond(declared: Endpoint, result: Any) -> Response:
    if isinstance(result, Response):
        return result
    if declared.answer is None:
        return Response(status=204)
    assert not isinstance(declared.answer, Media), "A view that answers with bytes builds them."
    response = jsonify(schema_of(declared.answer).dump(result))
    response.status_code = declared.status
    return response
