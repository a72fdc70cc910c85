"""Clients that say nothing, trickle, vanish or never read, while a phone works beside them."""

import http.client
import json
import socket
import ssl
import struct
import threading
import time
from contextlib import ExitStack, contextmanager, suppress

from shedbook.serving.tls_front import Limits
from tests.serving.front import PATIENCE_S, a_shed, ask, wait_until

HALF_A_HEAD = b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Long: "
UPLOAD = b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000000\r\n\r\n" + b"x" * 300_000


def reach(port, source="127.0.0.1"):
    return socket.create_connection(
        ("127.0.0.1", port), timeout=PATIENCE_S, source_address=(source, 0)
    )


def reach_securely(port, context, source="127.0.0.1"):
    return context.wrap_socket(reach(port, source), server_hostname="localhost")


def hello(context):
    """The first message of a handshake, as bytes."""
    incoming, outgoing = ssl.MemoryBIO(), ssl.MemoryBIO()
    with suppress(ssl.SSLWantReadError):
        context.wrap_bio(incoming, outgoing, server_hostname="localhost").do_handshake()
    return outgoing.read()


@contextmanager
def trickling(sockets, text):
    """Send a byte on each socket again and again, until the block ends."""
    stopped = threading.Event()

    def trickle():
        for at in range(len(text)):
            for one in sockets:
                with suppress(OSError):
                    one.send(text[at : at + 1])
            if stopped.wait(0.02):
                return

    thread = threading.Thread(target=trickle, daemon=True)
    thread.start()
    try:
        yield
    finally:
        stopped.set()
        thread.join(PATIENCE_S)


def is_closed_by_the_other_side(one):
    try:
        return one.recv(1) == b""
    except ConnectionError:
        return True


def test_a_handshake_that_trickles_is_ended_at_its_limit(tmp_path):
    with a_shed(tmp_path, Limits(handshake_s=0.5)) as (port, context, _, _), ExitStack() as held:
        slow = [held.enter_context(reach(port)) for _ in range(20)]
        with trickling(slow, hello(context)):
            assert json.loads(ask(port, context, source="127.0.0.9"))["address"] == "127.0.0.9"
            assert all(is_closed_by_the_other_side(one) for one in slow)


def test_request_heads_that_trickle_take_no_thread_and_end_at_their_limit(tmp_path):
    """Twenty against four threads: each is never idle, and gets no answer."""
    limits = Limits(idle_s=5, unanswered_s=1.0)
    with a_shed(tmp_path, limits) as (port, context, _, front), ExitStack() as held:
        slow = [held.enter_context(reach_securely(port, context)) for _ in range(20)]
        for one in slow:
            one.sendall(HALF_A_HEAD)
        began = time.monotonic()
        with trickling(slow, b"a" * 1000):
            for _ in range(10):
                assert json.loads(ask(port, context, source="127.0.0.9"))["scheme"] == "https"
            wait_until(lambda: front._client_of_port == {}, "tricklers hold their connections")
        assert time.monotonic() - began < limits.idle_s


def test_a_connection_that_gets_answers_is_kept_beyond_that_limit(tmp_path):
    limits = Limits(unanswered_s=1.0)
    with a_shed(tmp_path, limits) as (port, context, _, _):
        kept = http.client.HTTPSConnection("localhost", port, context=context, timeout=PATIENCE_S)
        kept.connect()
        own_port = kept.sock.getsockname()[1]
        for _ in range(6):
            kept.request("GET", "/")
            assert kept.getresponse().read()
            assert kept.sock.getsockname()[1] == own_port
            time.sleep(limits.unanswered_s / 4)
        kept.close()


def test_an_upload_that_is_torn_off_leaves_nothing_behind(tmp_path):
    with a_shed(tmp_path) as (port, context, _, front):
        for _ in range(10):
            torn = reach_securely(port, context)
            torn.sendall(UPLOAD)
            # Without a goodbye, as when a phone loses its network for good and comes back.
            torn.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            torn.close()
        assert json.loads(ask(port, context))["scheme"] == "https"
        wait_until(lambda: front._client_of_port == {}, "torn uploads hold their connections")
        wait_until(lambda: not front._open_by_address, "torn uploads count as open")


def test_a_client_that_never_reads_its_answer_is_let_go(tmp_path):
    limits = Limits(idle_s=0.5, stop_s=0.2)
    body = b"x" * 4_000_000
    head = f"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: {len(body)}\r\n\r\n".encode()
    with a_shed(tmp_path, limits) as (port, context, _, front), ExitStack() as held:
        for _ in range(8):
            deaf = held.enter_context(reach_securely(port, context))
            deaf.sendall(head + body)
        assert json.loads(ask(port, context, source="127.0.0.9"))["scheme"] == "https"
        wait_until(lambda: front._client_of_port == {}, "clients that never read hold connections")


def test_sixty_silent_connections_and_a_phone_that_works(tmp_path):
    with a_shed(tmp_path) as (port, context, _, front), ExitStack() as held:
        for _ in range(20):
            held.enter_context(reach(port, "127.0.0.2"))
            held.enter_context(reach_securely(port, context, "127.0.0.3"))
            begun = held.enter_context(reach_securely(port, context, "127.0.0.4"))
            begun.sendall(HALF_A_HEAD)
        body = b"entries" * 10_000
        for _ in range(15):
            assert ask(port, context, source="127.0.0.9", body=body) == body
        wait_until(lambda: front._open_by_address.total() == 60, "the silent ones were let go")
