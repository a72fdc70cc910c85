"""The HTTP interface: one module a resource, each with its blueprint."""

from flask import Flask

from shedbook.api import (
    calendars,
    devices,
    entries,
    errors,
    example,
    findings,
    health,
    invitations,
    openapi,
    photos,
    proposal,
    review,
    scouting,
    session,
    set_aside,
    sync,
)

_RESOURCES = (
    session,
    invitations,
    devices,
    sync,
    entries,
    set_aside,
    photos,
    findings,
    calendars,
    review,
    proposal,
    scouting,
    example,
    openapi,
    health,
)


def register(app: Flask) -> None:
    """Put every resource and the one table of errors into the app."""
    for resource in _RESOURCES:
        app.register_blueprint(resource.blueprint)
    errors.register(app)
