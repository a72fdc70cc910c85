"""Writes JSON as a broken or hostile program may: what `json.dumps` cannot say, this can."""

import json
from random import Random
from typing import Any


class Raw(str):
    """A text that goes into the body as it is."""

    __slots__ = ()


def text_of(value: Any, random: Random, doubling: float = 0.0) -> str:
    """A value as JSON; `doubling` is how often an object gets one of its names a second time."""
    if isinstance(value, Raw):
        return str(value)
    if isinstance(value, list):
        return f"[{','.join(text_of(item, random, doubling) for item in value)}]"
    if isinstance(value, dict):
        pairs = [
            f"{json.dumps(name)}:{text_of(item, random, doubling)}" for name, item in value.items()
        ]
        if pairs and random.random() < doubling:
            pairs.insert(random.randrange(len(pairs) + 1), _again(value, random))
        return f"{{{','.join(pairs)}}}"
    return json.dumps(value)


def _again(value: dict[str, Any], random: Random) -> str:
    """One of the names with another value: which of the two counts is the reader's choice."""
    name = random.choice(list(value))
    return f"{json.dumps(name)}:{random.choice(['null', '1', '[]', '{}', json.dumps(name)])}"


def damaged(body: bytes, random: Random) -> bytes:
    """The body after something went wrong between the phone and the shed."""
    place = random.randrange(len(body) + 1)
    match random.randrange(6):
        case 0:
            return body[:place]
        case 1:
            return body[:place] + random.randbytes(random.randint(1, 4)) + body[place:]
        case 2:
            return body[:place] + random.randbytes(1) + body[place + 1 :]
        case 3:
            return b"\xef\xbb\xbf" + body
        case 4:
            return body + body
        case _:
            return body.decode("utf-8").encode(random.choice(["utf-16", "utf-32", "utf-16-be"]))
