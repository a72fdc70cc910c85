"""Connections that end, trickle or say something else in the middle of a body store nothing."""

import socket
import time
from random import Random

import pytest

from tests.sync.process import ShedProcess, SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound

CUTS = 20
IMPOSSIBLE = (
    b"Transfer-Encoding: chunked\r\n\r\nzz\r\n{}\r\n0\r\n\r\n",
    b"Transfer-Encoding: gzip, chunked\r\n\r\n0\r\n\r\n",
    b"Content-Length: -1\r\n\r\n{}",
    b"Content-Length: 2, 3\r\n\r\n{}",
    b"Content-Length: 99999999999\r\n\r\n{}",
)


def _answer(connection: socket.socket) -> bytes:
    """Everything until the shed closes, or until the answer has ended."""
    connection.settimeout(20)
    received = b""
    while b"\r\n\r\n" not in received:
        piece = connection.recv(65_536)
        if not piece:
            return received
        received += piece
    head, _, body = received.partition(b"\r\n\r\n")
    lines = head.lower().split(b"\r\n")
    length = next(int(line.split(b":")[1]) for line in lines if line.startswith(b"content-length"))
    while len(body) < length:
        body += connection.recv(65_536)
    return head + b"\r\n\r\n" + body


def _chunked(request: bytes, sizes: Random) -> tuple[bytes, list[bytes]]:
    """The request in chunks of HTTP/1.1, each with its own length."""
    head, _, body = request.partition(b"\r\n\r\n")
    lines = [line for line in head.split(b"\r\n") if not line.startswith(b"Content-Length")]
    pieces = []
    while body:
        size = sizes.randint(1, 200)
        piece, body = body[:size], body[size:]
        pieces.append(b"%x\r\n%s\r\n" % (len(piece), piece))
    return b"\r\n".join([*lines, b"Transfer-Encoding: chunked", b"", b""]), [*pieces, b"0\r\n\r\n"]


def _sound_after(shed: ShedProcess, phone: SocketPhone, batch: list[dict[str, object]]) -> None:
    """The batch was not stored by what came before; now it is, once."""
    assert phone.sync([])["head"] == 0
    acknowledged = Acknowledged()
    assert acknowledged.take(phone.sync(batch)["answers"]) == {"accepted"}
    assert_sound(shed, [phone], acknowledged, {phone.pen.notebook: batch})


@pytest.mark.parametrize("way", ["length", "chunks"])
def test_a_body_that_is_cut_off_stores_nothing_of_it(shed: ShedProcess, way: str) -> None:
    phone, random = shed.pair("helper", "Bo"), Random(11)
    batch = [phone.pen.entry() for _ in range(5)]
    request = phone.request_bytes(batch)
    for _ in range(CUTS):
        with shed.connect() as connection:
            if way == "length":
                body_at = request.index(b"\r\n\r\n") + 4
                connection.sendall(request[: random.randrange(body_at, len(request))])
            else:
                head, pieces = _chunked(request, random)
                sent = head + b"".join(pieces[: random.randrange(len(pieces))])
                connection.sendall(sent + b"7f\r\n{"[: random.randrange(5)])
    _sound_after(shed, phone, batch)


@pytest.mark.parametrize("way", ["length", "chunks"])
def test_a_body_that_trickles_in_is_taken_once_it_is_whole(shed: ShedProcess, way: str) -> None:
    phone, random = shed.pair("helper", "Bo"), Random(12)
    batch = [phone.pen.entry() for _ in range(2)]
    request = phone.request_bytes(batch)
    head, pieces = _chunked(request, random)
    if way == "length":
        head, _, body = request.partition(b"\r\n\r\n")
        head += b"\r\n\r\n"
        pieces = [body[at : at + 40] for at in range(0, len(body), 40)]
    with shed.connect() as connection:
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        connection.sendall(head)
        for piece in pieces:
            connection.sendall(piece)
            # While one trickles, others are served.
            if piece == pieces[len(pieces) // 2]:
                assert phone.sync([])["head"] == 0
            time.sleep(0.002)
        assert _answer(connection).startswith(b"HTTP/1.1 200")
    acknowledged = Acknowledged()
    assert acknowledged.take(phone.sync(batch)["answers"]) == {"known"}
    assert_sound(shed, [phone], acknowledged, {phone.pen.notebook: batch})


def test_a_length_that_cannot_be_is_answered_and_the_shed_serves_on(shed: ShedProcess) -> None:
    phone = shed.pair("helper", "Bo")
    batch = [phone.pen.entry()]
    head = phone.request_bytes(batch).partition(b"\r\n\r\n")[0]
    lines = [line for line in head.split(b"\r\n") if not line.startswith(b"Content-Length")]
    for spoilt in IMPOSSIBLE:
        with shed.connect() as connection:
            connection.sendall(b"\r\n".join([*lines, spoilt]))
            status = int(_answer(connection).split(b" ")[1])
        assert 400 <= status < 600, spoilt
        assert status != 500, spoilt
    _sound_after(shed, phone, batch)
