"""A shed without an origin answers under the names of its own computer and no other."""

import pytest
from flask import Flask

from shedbook.serving.app import Config, create_app
from tests.api.builders import Phone, error_of


@pytest.mark.parametrize(
    "host", ["localhost", "localhost:5000", "127.0.0.1:5000", "[::1]:5000", "shed.localhost"]
)
def test_a_name_of_this_computer_is_answered(lead: Phone, host: str) -> None:
    assert lead.client.get("/healthz", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["garden.example", "127.0.0.1.example", "localhost.example", "192.168.1.7", "[::1"]
)
def test_another_name_is_refused_although_it_leads_here(lead: Phone, host: str) -> None:
    path = f"/api/gardens/{lead.garden}/findings"
    response = lead.client.get(path, headers={"Host": host})
    assert response.status_code == 403
    assert error_of(response)["code"] == "wrong_origin"


def test_a_shed_with_an_origin_is_reached_by_its_name(app: Flask) -> None:
    origin = "https://shed.example"
    named = create_app(Config(app.config["SQLALCHEMY_DATABASE_URI"], origin=origin))
    response = named.test_client().get("/api/session", headers={"Host": "shed.example"})
    assert error_of(response)["code"] == "not_paired"
