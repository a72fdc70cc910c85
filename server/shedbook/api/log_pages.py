"""Answers that carry entries of the log."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from flask import Response


def with_entries(answer: Mapping[str, Any], entries: Sequence[str]) -> Response:
    """The answer as JSON with the entries put in as the texts that they are."""
    rest = json.dumps(answer, separators=(",", ":"))
    text = f'{{"entries":[{",".join(entries)}],{rest[1:]}'
    return Response(text, mimetype="application/json")
