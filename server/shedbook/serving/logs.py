"""The shed's log: a line for each request and each failure, and nothing of what anyone wrote.

A line is put together from named facts that this module knows to be free of personal data. What a
library or an exception says in its own words may repeat a name, a note or an address, so a line
names the place in the code and the kind of the error, and leaves the words out.
"""

import json
import logging
import secrets
import sys
import threading
import time
import traceback
from contextlib import suppress
from datetime import UTC, datetime
from typing import Any

from flask import Flask, Response, g, has_request_context, request

from shedbook.log.identity import is_id

LEVELS = ("debug", "info", "warning", "error")
FORMATS = ("text", "json")
_METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"})
_OWN = "shedbook"
_log = logging.getLogger(__name__)


class Formatter(logging.Formatter):
    """One line for a record: a JSON object, or the same facts to be read by eye."""

    def __init__(self, form: str) -> None:
        super().__init__()
        self._is_json = form == "json"

    def format(self, record: logging.LogRecord) -> str:
        facts = _facts_of(record)
        if self._is_json:
            return json.dumps(facts)
        time_of_day, level, event = facts.pop("time"), facts.pop("level"), facts.pop("event")
        rest = " ".join(f"{name}={_as_text(value)}" for name, value in facts.items())
        return f"{time_of_day} {level} {event} {rest}".rstrip()


class _ErrorOutput(logging.Handler):
    """Writes to the error output of the moment; a log that can't be written stops nothing."""

    def emit(self, record: logging.LogRecord) -> None:
        with suppress(OSError, ValueError):
            print(self.format(record), file=sys.stderr, flush=True)


def start_logging(level: str, form: str) -> None:
    """Send the log of this process, and of its libraries, to the error output."""
    root = logging.getLogger()
    for earlier in [one for one in root.handlers if isinstance(one, _ErrorOutput)]:
        root.removeHandler(earlier)
    output = _ErrorOutput()
    output.setFormatter(Formatter(form))
    root.addHandler(output)
    root.setLevel(logging.WARNING)
    logging.getLogger(_OWN).setLevel(level.upper())
    logging.captureWarnings(True)
    threading.excepthook = _log_thread


def register(app: Flask) -> None:
    """Write a line for each request of the app."""
    app.before_request(_begin)
    app.after_request(_finish)


def _begin() -> None:
    g.request_id = secrets.token_hex(4)
    g.began_at = time.perf_counter()


def _finish(response: Response) -> Response:
    took_ms = round((time.perf_counter() - g.began_at) * 1000, 1)
    facts = {"status": response.status_code, "ms": took_ms}
    _log.log(_level_of(response.status_code), "request", extra={"facts": facts})
    return response


def _level_of(status: int) -> int:
    """The client's files, and the questions of whoever watches, come by the dozen."""
    if status >= 500:
        return logging.WARNING
    is_told = request.path.startswith("/api") or request.endpoint is None
    return logging.INFO if is_told else logging.DEBUG


def _facts_of(record: logging.LogRecord) -> dict[str, Any]:
    at = datetime.fromtimestamp(record.created, UTC)
    is_own = record.name.partition(".")[0] == _OWN
    facts: dict[str, Any] = {
        "time": f"{at:%Y-%m-%dT%H:%M:%S}.{at.microsecond // 1000:03d}Z",
        "level": record.levelname.lower(),
        # Our own events are fixed words; the text of a library may have anything in it.
        "event": record.msg if is_own else "library",
    }
    if not is_own:
        facts["place"] = f"{record.name}:{record.funcName}:{record.lineno}"
    if has_request_context():
        facts |= _facts_of_request()
    facts |= getattr(record, "facts", {})
    if record.exc_info and record.exc_info[1] is not None:
        facts["errors"] = _errors(record.exc_info[1])
    return facts


def _facts_of_request() -> dict[str, Any]:
    """The route as it is declared, never the address that was asked for."""
    garden = (request.view_args or {}).get("garden")
    facts = {
        "method": request.method if request.method in _METHODS else "other",
        "route": request.url_rule.rule if request.url_rule else "unknown",
        "request": g.get("request_id"),
    }
    # A random number that names nobody to who has not the store as well.
    return facts | ({"garden": garden} if garden and is_id(garden) else {})


def _errors(error: BaseException) -> list[dict[str, Any]]:
    """The error and what led to it: kinds and places in the code, without what they say."""
    told: list[dict[str, Any]] = []
    current: BaseException | None = error
    while current is not None and len(told) < 10:
        told.append({"kind": _kind(current), "trace": _trace(current)})
        current = current.__cause__ or (
            None if current.__suppress_context__ else current.__context__
        )
    return told


def _kind(error: BaseException) -> str:
    """The class, with the database's own code for what went wrong."""
    code = getattr(error, "sqlite_errorname", None) or getattr(error, "sqlstate", None)
    named = f"{type(error).__module__}.{type(error).__qualname__}".removeprefix("builtins.")
    return f"{named} ({code})" if code else named


def _trace(error: BaseException) -> list[str]:
    return [
        f"{frame.f_globals.get('__name__')}:{frame.f_code.co_name}:{line}"
        for frame, line in traceback.walk_tb(error.__traceback__)
    ]


def _as_text(value: Any) -> str:
    return value if isinstance(value, str) else json.dumps(value)


def _log_thread(failed: threading.ExceptHookArgs) -> None:
    """A thread that breaks would else print its error, words and all."""
    if failed.exc_value is not None:
        _log.error("thread failed", exc_info=failed.exc_value)
