"""The shed's name on the local network, by multicast DNS, under the addresses of the moment.

A small computer often starts before its network does, and a router may give it another address any
day. The name stays; so what stands behind it is looked at again and again.
"""

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from ipaddress import ip_address

import ifaddr
from zeroconf import Error as ZeroconfError
from zeroconf import ServiceInfo, Zeroconf

from shedbook.serving.lan import LOCAL, Lan

SERVICE_TYPE = "_https._tcp.local."
LOOK_EVERY_S = 15.0
_log = logging.getLogger(__name__)


def own_addresses() -> list[str]:
    """This machine's addresses in private networks, without loopback; sorted."""
    addresses = [
        str(ip.ip) for adapter in ifaddr.get_adapters() for ip in adapter.ips if ip.is_IPv4
    ]
    return sorted(
        a for a in addresses if ip_address(a).is_private and not ip_address(a).is_loopback
    )


@contextmanager
def announced(
    lan: Lan, find_addresses: Callable[[], list[str]], every_s: float = LOOK_EVERY_S
) -> Iterator[None]:
    """Answer for the shed's name until the end, anew whenever its addresses have changed."""
    stopped = threading.Event()

    def follow() -> None:
        responder, known = _answer_for(lan, find_addresses())
        while not stopped.wait(every_s):
            addresses = find_addresses()
            if addresses != known:
                _let_go(responder)
                responder, known = _answer_for(lan, addresses)
        _let_go(responder)

    thread = threading.Thread(target=follow, name="announcing", daemon=True)
    thread.start()
    try:
        yield
    finally:
        stopped.set()
        thread.join()


def _answer_for(lan: Lan, addresses: list[str]) -> tuple[Zeroconf | None, list[str]]:
    """A responder for these addresses; without one, no address counts as known."""
    if not addresses:
        return None, addresses
    responder = None
    try:
        responder = Zeroconf()
        responder.register_service(_service(lan, addresses), cooperating_responders=True)
    except (OSError, ZeroconfError) as error:
        # A network that is only half up: the next look tries again.
        _log.warning("not announced", exc_info=error)
        _let_go(responder)
        return None, []
    return responder, addresses


def _let_go(responder: Zeroconf | None) -> None:
    if responder is not None:
        responder.close()


def _service(lan: Lan, addresses: list[str]) -> ServiceInfo:
    return ServiceInfo(
        SERVICE_TYPE,
        f"{lan.host_name.removesuffix(LOCAL)}.{SERVICE_TYPE}",
        parsed_addresses=addresses,
        port=lan.port,
        server=f"{lan.host_name}.",
    )
