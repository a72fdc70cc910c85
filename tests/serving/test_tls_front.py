"""The TLS front with a real waitress behind it, on real sockets."""

import http.client
import json
import socket
import ssl
from contextlib import ExitStack

import pytest

from shedbook.serving.headers import HEADERS
from shedbook.serving.tls_front import TOLD_EVERY_S, Limits
from tests.serving.front import a_shed, ask


def test_the_application_sees_https_and_the_true_address_whatever_a_header_claims(
    tmp_path,
):
    with a_shed(tmp_path) as (port, context, _, _):
        forged = {"X-Forwarded-For": "10.9.9.9", "Forwarded": "for=10.9.9.9"}
        seen = json.loads(ask(port, context, source="127.0.0.7", headers=forged))
    assert seen["address"] == "127.0.0.7"
    assert seen["scheme"] == "https"


def test_a_body_of_three_megabytes_comes_back_whole(tmp_path):
    body = bytes(range(256)) * 12_000
    with a_shed(tmp_path) as (port, context, _, _):
        assert ask(port, context, body=body) == body


def test_a_connection_is_kept_for_several_requests(tmp_path):
    with a_shed(tmp_path) as (port, context, _, _):
        connection = http.client.HTTPSConnection("localhost", port, context=context, timeout=10)
        connection.connect()
        own_port = connection.sock.getsockname()[1]
        for _ in range(5):
            connection.request("GET", "/")
            assert connection.getresponse().read()
        assert connection.sock.getsockname()[1] == own_port
        connection.close()


def test_clients_that_never_shake_hands_do_not_keep_others_out(tmp_path):
    with a_shed(tmp_path, Limits(connections=400)) as (port, context, _, _):
        silent = [socket.create_connection(("127.0.0.1", port)) for _ in range(30)]
        try:
            assert json.loads(ask(port, context))["scheme"] == "https"
        finally:
            for connection in silent:
                connection.close()


def test_one_address_that_opens_too_many_connections_leaves_room_for_another(tmp_path):
    with a_shed(tmp_path, Limits(connections_per_address=3)) as (port, context, _, _):
        greedy = [
            context.wrap_socket(
                socket.create_connection(("127.0.0.1", port)),
                server_hostname="localhost",
            )
            for _ in range(3)
        ]
        try:
            with pytest.raises((ConnectionError, http.client.HTTPException, ssl.SSLError)):
                ask(port, context)
            assert json.loads(ask(port, context, source="127.0.0.9"))["address"] == "127.0.0.9"
        finally:
            for connection in greedy:
                connection.close()


def test_connections_that_never_shake_hands_count_as_open(tmp_path):
    limits = Limits(connections_per_address=3)
    with a_shed(tmp_path, limits) as (port, context, _, _), ExitStack() as held:
        for _ in range(3):
            held.enter_context(socket.create_connection(("127.0.0.1", port)))
        with socket.create_connection(("127.0.0.1", port), timeout=10) as one_more:
            assert one_more.recv(1) == b""
        assert json.loads(ask(port, context, source="127.0.0.9"))["address"] == "127.0.0.9"


def test_connections_that_find_no_room_are_told_to_the_log_once_a_minute_with_their_count(
    tmp_path, caplog, monkeypatch
):
    now = [1000.0]
    monkeypatch.setattr("shedbook.serving.tls_front.monotonic", lambda: now[0])
    limits = Limits(connections_per_address=1)
    with a_shed(tmp_path, limits) as (port, _, _, _), ExitStack() as held:
        held.enter_context(socket.create_connection(("127.0.0.1", port)))

        def turn_away(times):
            for _ in range(times):
                with socket.create_connection(("127.0.0.1", port), timeout=10) as one_more:
                    assert one_more.recv(1) == b""

        turn_away(20)
        now[0] += TOLD_EVERY_S
        turn_away(5)
    told = [vars(one)["facts"] for one in caplog.records if "too many" in one.getMessage()]
    assert told == [{"closed": 1}, {"closed": 20}]


def test_an_idle_connection_is_closed_after_its_limit(tmp_path):
    with (
        a_shed(tmp_path, Limits(idle_s=0.2)) as (port, context, _, _),
        context.wrap_socket(
            socket.create_connection(("127.0.0.1", port), timeout=10),
            server_hostname="localhost",
        ) as idle,
    ):
        assert idle.recv(1) == b""


def test_a_client_that_vanishes_leaves_nothing_behind(tmp_path):
    with a_shed(tmp_path) as (port, context, _, front):
        for _ in range(5):
            gone = context.wrap_socket(
                socket.create_connection(("127.0.0.1", port)),
                server_hostname="localhost",
            )
            gone.sendall(b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\nhalf")
            gone.close()
        assert json.loads(ask(port, context))["scheme"] == "https"
    assert front._client_of_port == {}


def test_who_goes_around_the_front_is_turned_away(tmp_path):
    with a_shed(tmp_path) as (_, _, backend_port, _):
        connection = http.client.HTTPConnection("127.0.0.1", backend_port, timeout=10)
        connection.request("GET", "/")
        answer = connection.getresponse()
        assert answer.status == 421
        assert HEADERS.items() <= dict(answer.headers).items()
        connection.close()
