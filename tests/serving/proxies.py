"""The reverse proxies of docs/examples, run with those very files on free loopback ports."""

from __future__ import annotations

import http.client
import json
import ssl
import subprocess
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shedbook import places
from shedbook.serving.authority import Certificates
from tests.needs import find_nginx

EXAMPLES = places.ROOT / "docs" / "examples"
NAME = "garden.example"
PATIENCE_S = 20
# What an installed nginx has around its sites. Its folders lie where the test may write.
NGINX_AROUND = """
daemon off; pid {folder}/nginx.pid; error_log {folder}/nginx.log;
events {{}}
http {{
    client_body_temp_path {folder}/body; proxy_temp_path {folder}/proxy;
    fastcgi_temp_path {folder}/f; uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;
    include {folder}/site.conf;
}}
"""


@dataclass(frozen=True)
class Ports:
    """Where the proxy answers, and where it finds the shed."""

    plain: int
    secure: int
    shed: int


@dataclass(frozen=True)
class Proxy:
    """A running proxy, asked as browsers elsewhere would ask it."""

    ports: Ports
    authority: Path

    @property
    def origin(self) -> str:
        return f"https://{NAME}:{self.ports.secure}"

    def ask(self, method: str, path: str, source: str = "127.0.0.1", **given: Any) -> Answer:
        """A request over HTTPS from a loopback address of one's own."""
        context = ssl.create_default_context(cafile=self.authority)
        connection = _Named(NAME, self.ports.secure, context=context, timeout=PATIENCE_S)
        connection.source_address = (source, 0)
        return ask(connection, method, path, **given)

    def ask_shed(self, method: str, path: str, source: str, **given: Any) -> Answer:
        """The same around the proxy, straight to the shed's own port."""
        plain = http.client.HTTPConnection(
            "127.0.0.1", self.ports.shed, timeout=PATIENCE_S, source_address=(source, 0)
        )
        return ask(plain, method, path, **given)


@dataclass(frozen=True)
class Answer:
    """What came back."""

    status: int
    headers: http.client.HTTPMessage
    body: bytes

    @property
    def code(self) -> str:
        """The code of the shed's own error."""
        return str(json.loads(self.body)["error"]["code"])


class _Named(http.client.HTTPSConnection):
    """Speaks to a public name that leads to this computer, without asking any name server."""

    def connect(self) -> None:
        public, self.host = self.host, "127.0.0.1"
        http.client.HTTPConnection.connect(self)
        self.host = public
        self.sock = self._context.wrap_socket(self.sock, server_hostname=public)  # type: ignore[attr-defined]


def ask(
    connection: http.client.HTTPConnection,
    method: str,
    path: str,
    body: Any = None,
    headers: dict[str, str] | None = None,
) -> Answer:
    sent = body if isinstance(body, bytes | None) else json.dumps(body).encode()
    with closing(connection):
        connection.request(method, path, sent, headers or {})
        response = connection.getresponse()
        return Answer(response.status, response.headers, response.read())


@contextmanager
def running_proxy(
    program: str, folder: Path, ports: Ports, certificates: Certificates
) -> Iterator[Proxy]:
    """Start it, and wait until its port is open; what it says goes to a file."""
    command = {"caddy": _caddy, "nginx": _nginx}[program](folder, ports, certificates)
    said = folder / "said.txt"
    with said.open("wb") as output:
        home = {"HOME": str(folder), "PATH": "/usr/sbin:/usr/bin:/bin"}
        process = subprocess.Popen(command, stdout=output, stderr=output, env=home, cwd=folder)
    try:
        proxy = Proxy(ports, certificates.authority)
        _wait_until_open(proxy, process, said)
        yield proxy
    finally:
        process.terminate()
        process.wait(PATIENCE_S)


def _caddy(folder: Path, ports: Ports, certificates: Certificates) -> list[str]:
    site = _read("Caddyfile", "\n", ports)
    secured = f"{NAME}:{ports.secure} {{\n\ttls {certificates.server} {certificates.server_key}"
    around = f"{{\n\tadmin off\n\thttp_port {ports.plain}\n\thttps_port {ports.secure}\n}}\n"
    (folder / "Caddyfile").write_text(around + _once(site, f"{NAME} {{", secured))
    return ["caddy", "run", "--config", "Caddyfile", "--adapter", "caddyfile"]


def _nginx(folder: Path, ports: Ports, certificates: Certificates) -> list[str]:
    site = _read("nginx.conf", ";\n", ports)
    site = _once(site, "listen 80;", f"listen 127.0.0.1:{ports.plain};")
    site = _once(site, "listen 443 ssl", f"listen 127.0.0.1:{ports.secure} ssl")
    site = _once(site, f"/etc/ssl/{NAME}/fullchain.pem", str(certificates.server))
    site = _once(site, f"/etc/ssl/{NAME}/privkey.pem", str(certificates.server_key))
    (folder / "site.conf").write_text(site)
    (folder / "nginx.conf").write_text(NGINX_AROUND.format(folder=folder))
    return [str(find_nginx()), "-c", str(folder / "nginx.conf"), "-p", str(folder)]


def _read(name: str, end: str, ports: Ports) -> str:
    text = (EXAMPLES / name).read_text(encoding="utf-8")
    return _once(text, f"127.0.0.1:8080{end}", f"127.0.0.1:{ports.shed}{end}")


def _once(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)


def _wait_until_open(proxy: Proxy, process: subprocess.Popen[bytes], said: Path) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        assert process.poll() is None, said.read_text(encoding="utf-8")
        try:
            proxy.ask("GET", "/healthz")
        except OSError:
            time.sleep(0.05)
        else:
            return
    raise AssertionError(said.read_text(encoding="utf-8"))
