"""Headers that every answer carries, and the packing of large answers."""

from flask import Flask, Response, request

from shedbook.api.packing import LEAST_BYTES, pack, takes_gzip

CONTENT_SECURITY_POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types lit-html shedbook-worker",
    ]
)
HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=(), payment=(), usb=()",
}
HEALTH_PATHS = frozenset({"/healthz", "/readyz"})


def register(app: Flask) -> None:
    """Have every answer of the app pass here."""
    app.after_request(_finish)


def _finish(response: Response) -> Response:
    response.headers.update(HEADERS)
    if request.path.startswith("/api") or request.path in HEALTH_PATHS:
        response.headers["Cache-Control"] = "no-store"
        _pack(response)
    return response


def _pack(response: Response) -> None:
    """Gzip a large answer for a caller that takes it.

    Entries come from the caller's own garden and the secret is in no body, so packing tells an
    onlooker of the length nothing that it could choose.
    """
    # A photo is packed already.
    if response.direct_passthrough or (response.mimetype or "").startswith("image/"):
        return
    response.vary.add("Accept-Encoding")
    if "Content-Encoding" in response.headers:
        return
    body = response.get_data()
    if len(body) >= LEAST_BYTES and takes_gzip():
        response.set_data(pack(body))
        response.headers["Content-Encoding"] = "gzip"
