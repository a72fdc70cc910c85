"""Every described route, asked with what its description allows and with what it does not."""

from typing import Any

import pytest
import schemathesis
from flask import Flask
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from shedbook.api.openapi import describe_api
from tests.api.builders import HEADERS, Phone
from tests.api.test_routes import ALLOWED

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
EXAMPLES = 20


def _made_known(case: Any, phone: Phone, drawn: int) -> None:
    """Most requests go to a garden that is there, and speak of a notebook that is its phone's."""
    if drawn and "garden" in (case.path_parameters or {}):
        case.path_parameters["garden"] = phone.garden
    if drawn > 1 and isinstance(case.body, dict) and "notebook" in case.body:
        case.body["notebook"] = phone.notebook
    # The answers are looked into as they come.
    case.headers = {**(case.headers or {}), **HEADERS, "Accept-Encoding": "identity"}


def _strategy(operation: Any) -> Any:
    """Half of what it allows, half of what it does not; where it takes nothing, just that."""
    modes = [GenerationMode.POSITIVE]
    if operation.body or list(operation.iter_parameters()):
        modes.append(GenerationMode.NEGATIVE)
    return st.one_of(*(operation.as_strategy(generation_mode=mode) for mode in modes))


@pytest.mark.parametrize("route", ALLOWED)
def test_a_route_answers_as_it_is_described_whatever_it_is_asked(
    app: Flask, lead: Phone, route: str
) -> None:
    lead.sync([lead.bed(), lead.entry(), lead.entry("water", {"volume_l": -1})])
    with app.app_context():
        schema = schemathesis.openapi.from_dict(describe_api(app))
    schema.app = app
    method, rule = route.split(" ")
    path = rule.replace("<", "{").replace(">", "}")
    cookie = lead.client.get_cookie("shedbook_device")
    assert cookie is not None
    asked = 0

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        database=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=_strategy(schema[path][method]), drawn=st.integers(0, 9))
    def ask(case: Any, drawn: int) -> None:
        nonlocal asked
        asked += 1
        _made_known(case, lead, drawn)
        case.call_and_validate(checks=CHECKS, cookies={"shedbook_device": cookie.value})

    ask()
    assert asked
