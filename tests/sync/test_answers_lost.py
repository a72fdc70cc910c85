"""A push whose answer never comes is sent again, and changes nothing."""

import http.client
from random import Random

import pytest

from tests.sync.process import ShedProcess
from tests.sync.relay import Relay
from tests.sync.soundness import Acknowledged, assert_sound

# Nothing of the answer, part of its head, its head, part of its body.
CUTS = (0, 9, 120, 400)
ROUNDS = 24


def test_an_answer_lost_after_the_commit_is_given_again(shed: ShedProcess) -> None:
    random = Random(7)
    phones = [shed.pair("lead", "Ana"), shed.pair("helper", "Bo")]
    written = {phone.pen.notebook: [] for phone in phones}
    acknowledged = Acknowledged()
    with Relay(shed.port) as relay:
        for place in range(ROUNDS):
            phone = phones[place % 2]
            phone.origin = relay.origin
            batch = [phone.pen.entry() for _ in range(random.randint(1, 6))]
            written[phone.pen.notebook] += batch
            times = random.randint(1, 3)
            relay.cuts.extend(random.choice(CUTS) for _ in range(times))
            for _ in range(times):
                with pytest.raises((OSError, http.client.HTTPException)):
                    phone.sync(batch)
            # It is sent again with what was written since, as a phone does.
            more = [phone.pen.entry()]
            written[phone.pen.notebook] += more
            answers = phone.sync([*batch, *more])["answers"]
            assert acknowledged.take(answers[:-1]) == {"known"}
            assert acknowledged.take(answers[-1:]) == {"accepted"}
        assert relay.lost >= ROUNDS
        assert_sound(shed, phones, acknowledged, written)


def test_a_page_lost_on_the_way_is_pulled_again(shed: ShedProcess) -> None:
    """The cursor moves with the page that was kept, never with one that was sent."""
    writer, reader = shed.pair("lead", "Ana"), shed.pair("reader", "Ru")
    written = [writer.pen.entry() for _ in range(60)]
    writer.sync(written)
    pulled: list[dict[str, object]] = []
    with Relay(shed.port) as relay:
        reader.origin = relay.origin
        relay.cuts.extend([500] * 5)
        while len(pulled) < len(written):
            try:
                body = reader.sync_body([], len(pulled)) | {"page": 25}
                answer = reader.post(reader.sync_path, body)
            except (OSError, http.client.HTTPException):
                continue
            pulled += answer["entries"]
            assert answer["cursor"] == len(pulled)
        assert relay.lost == 5
    assert [one["id"] for one in pulled] == [one["id"] for one in written]
