"""/healthz: for a process manager or a proxy."""

from flask import Flask


def test_health_is_told_to_anyone_and_never_kept(app: Flask) -> None:
    response = app.test_client().get("/healthz")
    assert response.get_json() == {"status": "ok"}
    assert response.headers["Cache-Control"] == "no-store"
