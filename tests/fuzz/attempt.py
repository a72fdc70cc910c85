"""One case: whose phone sends it, what it says, and how it is spoilt on the way."""

import json
from dataclasses import dataclass
from random import Random
from typing import Any

from tests.api.builders import HEADERS
from tests.fuzz.entries import Writer
from tests.fuzz.spoil import spoil
from tests.fuzz.wire import damaged, text_of

CONTENT_TYPES = (
    "application/json",
    "application/json; charset=utf-16",
    "text/plain",
    "",
    "a/b+json",
)


@dataclass(frozen=True)
class Attempt:
    """A request that is ready to be sent by one of the phones."""

    writer: Writer
    body: bytes
    content_type: str

    @property
    def entries(self) -> list[Any]:
        """What the shed must answer one by one, once it has taken the request."""
        read = json.loads(self.body)
        return list(read.get("entries", []))

    @property
    def headers(self) -> dict[str, str]:
        return {**HEADERS, "Content-Type": self.content_type}


def next_attempt(random: Random, writers: list[Writer], ids: list[str]) -> Attempt:
    """A batch of a phone, new or sent before; nine of ten are changed in some way."""
    writer = random.choice(writers)
    entries = [writer.entry() for _ in range(random.randint(0, 4))]
    if writer.written and random.random() < 0.3:
        entries += random.choices(writer.written, k=2)
    body: Any = {
        "notebook": writer.phone.notebook,
        "entries": entries,
        "cursor": random.randrange(1000),
        "waiting": len(entries),
        "page": random.randint(1, 9),
    }
    if random.random() < 0.5:
        body["form"] = "columns"
    if random.random() < 0.1:
        body["given_up"] = [random.randint(1, writer.phone.number + 2)]
    # The entries stay as the phone has them: what is spoilt is a copy.
    body = json.loads(json.dumps(body))
    way = random.random()
    if way < 0.8:
        body = spoil(body, random, [*ids, writer.phone.notebook, *(one["id"] for one in entries)])
    sent = text_of(body, random, doubling=0.3 if 0.75 < way < 0.85 else 0.0).encode()
    if way > 0.95:
        sent = damaged(sent, random)
    content_type = CONTENT_TYPES[0] if random.random() < 0.98 else random.choice(CONTENT_TYPES)
    return Attempt(writer, sent, content_type)
