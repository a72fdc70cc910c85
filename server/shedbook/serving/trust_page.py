"""The page that leads a phone to trust the shed's authority.

It has to be reachable before the phone believes the shed's HTTPS, so it is served on plain HTTP on
a port of its own, and holds nothing but the public certificate and how to check it.
"""

from __future__ import annotations

import segno
from flask import Flask, Response, render_template

from shedbook.api.language import language_of_caller
from shedbook.serving.authority import as_der, fingerprint
from shedbook.serving.headers import HEADERS
from shedbook.serving.lan import Lan
from shedbook.words import load_words

# Stricter than the shed's own: there is nothing to run and nothing to fetch.
POLICY = "; ".join(
    [
        "default-src 'none'",
        "img-src data:",
        "style-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types 'none'",
    ]
)


def create_trust_page(lan: Lan, port: int) -> Flask:
    """A tiny app with three routes: the page, its style, and the certificate to install."""
    app = Flask(__name__, template_folder="templates", static_folder=None)
    address = f"http://{lan.host_name}:{port}/"
    certificate = lan.certificates.authority

    @app.get("/")
    def page() -> str:
        language = language_of_caller()
        return render_template(
            "trust.html",
            language=language,
            word=load_words(language).__getitem__,
            address=address,
            origin=lan.origin,
            fingerprint=fingerprint(certificate),
            qr=segno.make(address, error="m").svg_data_uri(scale=6, dark="#1d1a16"),
        )

    @app.get("/shedbook-authority.crt")
    def authority() -> Response:
        return Response(as_der(certificate), mimetype="application/x-x509-ca-cert")

    @app.get("/trust.css")
    def style() -> Response:
        return Response(render_template("trust.css"), mimetype="text/css")

    @app.after_request
    def keep_plain(response: Response) -> Response:
        response.headers.update(HEADERS | {"Content-Security-Policy": POLICY})
        response.headers["Cache-Control"] = "no-store"
        response.headers["Vary"] = "Accept-Language"
        return response

    return app
