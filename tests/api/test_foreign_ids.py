"""An id of another garden says no more than a made-up one, wherever it stands."""

from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask

from tests.api.builders import HEADERS, Phone, a_garden, a_phone, an_id
from tests.pictures import a_jpeg, hash_of


class Away:
    """Another garden with something of everything that has an id."""

    def __init__(self, app: Flask) -> None:
        self.phone = a_phone(app, a_garden(app, "Away"), "lead")
        self.bed, self.note = self.phone.bed(), self.phone.entry()
        self.wrong = self.phone.entry("water", {"volume_l": -1}, {"bed": self.bed["id"]})
        self.phone.sync([self.bed, self.note, self.wrong])
        self.image = hash_of(a_jpeg())
        path = f"/api/gardens/{self.phone.garden}/photos/{self.image}"
        sent = self.phone.client.put(
            path, data=a_jpeg(), content_type="image/jpeg", headers=HEADERS
        )
        assert sent.status_code == 201

    def log(self) -> Any:
        """All that must not change here."""
        answer = self.phone.sync()
        aside = self.phone.get("/set-aside").get_json()
        return answer["entries"], answer["notebook"], answer["people"], aside


@pytest.fixture
def away(app: Flask) -> Away:
    return Away(app)


# Of the phone of this garden, each given an id.
Question = Callable[[Phone, str], Any]
OF_DEVICE: dict[str, Question] = {
    "revoked": lambda own, id_: own.client.delete(
        f"/api/gardens/{own.garden}/devices/{id_}", headers=HEADERS
    ).get_json(),
}
OF_IMAGE: dict[str, Question] = {
    "looked at": lambda own, id_: own.get(f"/photos/{id_}").get_json(),
    "asked for": lambda own, id_: own.post("/photos/missing", {"sha256": [id_]}).get_json(),
}
OF_ENTRY: dict[str, Question] = {
    "corrected": lambda own, id_: _push(
        own, "correct", {"entry": id_, "kind": "note", "restated": {"text": "Mine."}}
    ),
    "voided": lambda own, id_: _push(own, "void", {"entry": id_}),
    "mended": lambda own, id_: _push(own, "note", {"text": "Mine."}, mends=id_),
    "photographed": lambda own, id_: _push(own, "photo", _photo_of(id_)),
    "written again": lambda own, id_: _push(own, "note", {"text": "Mine."}, id=id_),
}
OF_BED: dict[str, Question] = {
    "watered": lambda own, id_: _push(own, "water", {"volume_l": 5}, {"bed": id_}),
    "changed": lambda own, id_: _push(own, "bed", {"name": "Mine"}, {"bed": id_}),
    "beside": lambda own, id_: _push(own, "bed", {"name": "Mine", "beside": [id_]}, {"bed": id_}),
    "asked about": lambda own, id_: own.get(f"/findings?bed={id_}").get_json()["findings"],
}
OF_NOTEBOOK: dict[str, Question] = {
    "opened": lambda own, id_: own.sync([], notebook=id_)["notebook"],
    "written in": lambda own, id_: _told(
        own.sync([own.entry(notebook=id_, number=1)], notebook=id_)["answers"][0]
    ),
    "given up in": lambda own, id_: own.sync([], notebook=id_, given_up=[1, 2])["notebook"],
}
OF_GARDEN: dict[str, Question] = {
    "written for": lambda own, id_: _push(own, "note", {"text": "Yours."}, garden=id_),
}
OF_PERSON: dict[str, Question] = {
    "written by": lambda own, id_: _push(own, "note", {"text": "Theirs."}, person=id_),
    "written on": lambda own, id_: _push(own, "note", {"text": "Theirs."}, device=id_),
}


def _push(own: Phone, kind: str, details: Any, subjects: Any = None, **changed: Any) -> Any:
    return _told(own.push_one(own.entry(kind, details, subjects, **changed)))


def _told(answer: dict[str, Any]) -> dict[str, Any]:
    """An answer to an entry without its place, which is a new one each time."""
    return {name: told for name, told in answer.items() if name not in ("seq", "number", "order")}


def _photo_of(shown: str) -> dict[str, Any]:
    size = {"bytes": 400, "width_px": 4, "height_px": 4}
    return {"sha256": "5e" * 32, "type": "image/jpeg", "shows": shown, **size}


def _without(told: Any, id_: str) -> str:
    """An answer as text, without the id that was asked with and the one it was given under."""
    if isinstance(told, dict) and told.get("id") != id_:
        told = {name: value for name, value in told.items() if name != "id"}
    return str(told).replace(id_, "ID")


@pytest.mark.parametrize("role", ["lead", "helper"])
@pytest.mark.parametrize(
    ("questions", "foreign", "made_up"),
    [
        (OF_DEVICE, lambda away: away.phone.device, an_id),
        (OF_IMAGE, lambda away: away.image, lambda: "77" * 32),
        (OF_ENTRY, lambda away: away.note["id"], an_id),
        (OF_ENTRY, lambda away: away.wrong["id"], an_id),
        (OF_BED, lambda away: away.bed["id"], an_id),
        (OF_NOTEBOOK, lambda away: away.phone.notebook, an_id),
        (OF_GARDEN, lambda away: away.phone.garden, an_id),
        (OF_PERSON, lambda away: away.phone.person, an_id),
        (OF_PERSON, lambda away: away.phone.device, an_id),
    ],
    ids=["device", "image", "entry", "aside", "bed", "notebook", "garden", "person", "device id"],
)
def test_a_foreign_id_is_answered_like_a_made_up_one_and_changes_nothing_there(
    app: Flask,
    garden: str,
    away: Away,
    role: str,
    questions: dict[str, Question],
    foreign: Callable[[Away], str],
    made_up: Callable[[], str],
) -> None:
    before = away.log()
    for how, ask in questions.items():
        taken, free = foreign(away), made_up()
        # Two phones of one person: neither numbers its entries where the other did.
        first, second = (a_phone(app, garden, role) for _ in range(2))
        assert _without(ask(first, taken), taken) == _without(ask(second, free), free).replace(
            "77" * 32, "ID"
        ), how
        assert away.log() == before, how
    assert away.phone.client.get("/api/session").status_code == 200
