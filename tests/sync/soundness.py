"""What must be true of a garden whatever went wrong: one look for all tests of faults."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from shedbook.keeping.verify import verify_garden
from shedbook.log.ledger import Ledger
from shedbook.records.models import db
from shedbook.rules.rulebook import load_rulebook
from tests.sync.process import ShedProcess, SocketPhone


@dataclass
class Acknowledged:
    """What the shed has said that it has; once said, it never says otherwise."""

    seqs: dict[str, int] = field(default_factory=dict)

    def take(self, answers: Iterable[Mapping[str, Any]]) -> set[str]:
        """Note the answers to a batch, all of which must be good; which results there were."""
        results = set()
        for one in answers:
            assert one["result"] in ("accepted", "known"), one
            assert self.seqs.setdefault(one["id"], one["seq"]) == one["seq"]
            results.add(one["result"])
        return results


def whole_log(phone: SocketPhone, page: int = 2000) -> list[dict[str, Any]]:
    """The log as the phone pulls it from the start, page by page."""
    pulled: list[dict[str, Any]] = []
    while True:
        body = phone.sync_body([], len(pulled)) | {"page": page}
        answer = phone.post(phone.sync_path, body)
        pulled += answer["entries"]
        if answer["cursor"] == answer["head"]:
            assert len(pulled) == answer["head"]
            return pulled


def state_of(entries: Iterable[Mapping[str, Any]]) -> dict[str, Any]:
    """What the entries add up to on a device."""
    ledger = Ledger()
    ledger.add(dict(one) for one in entries)
    return ledger.snapshot()


def assert_sound(
    shed: ShedProcess,
    phones: Sequence[SocketPhone],
    acknowledged: Acknowledged,
    written: Mapping[str, Sequence[Mapping[str, Any]]],
) -> None:
    """Acknowledged is found, nothing twice, numbers unbroken, all devices equal, verify content.

    `written` has by notebook what its phone has written and sent to the end.
    """
    logs = [whole_log(phone) for phone in phones]
    log = logs[0]
    assert [one["seq"] for one in log] == list(range(1, len(log) + 1))
    assert {one["id"]: one["seq"] for one in log} == acknowledged.seqs
    # As many as there are names for: none is there twice, and none is foreign.
    assert len(log) == len(acknowledged.seqs)
    assert acknowledged.seqs.keys() == {one["id"] for all_ in written.values() for one in all_}
    for phone, pulled in zip(phones, logs, strict=True):
        assert pulled == log
        own = written.get(phone.pen.notebook, [])
        # Its own entries were on the phone before any came from the shed.
        assert state_of([*own, *pulled]) == state_of(log)
        assert_unbroken(phone, len(own))
    assert differences(shed) == []


def assert_unbroken(phone: SocketPhone, entries: int) -> None:
    """Every number of the phone's notebook has arrived."""
    notebook = phone.sync([], cursor=10**9)["notebook"]
    expected = {"unbroken": entries, "missing": [], "highest": entries}
    assert notebook == {"id": phone.pen.notebook} | expected


def differences(shed: ShedProcess) -> list[str]:
    """What `shedbook verify` finds."""
    with shed.opened():
        return verify_garden(db.session(), shed.garden, load_rulebook()).differences
