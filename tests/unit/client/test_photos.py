"""What the phone makes of photos, keeps of them and sends, where no browser is needed."""

from __future__ import annotations

import base64
import io
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from shedbook.api.schemas import PhotoHashesSchema
from shedbook.log.kinds.photo import PHOTO_BYTES, PHOTO_SIDE_PX, PHOTO_TYPES
from shedbook.records.image_form import ImageForm, ImageUnfit, read_form
from tests.node import ask_node
from tests.unit.client.garden import kinds

RUNNER = Path(__file__).parents[2] / "twins" / "photos.mjs"
PHOTO_FIELDS = next(kind for kind in kinds() if kind["name"] == "photo")["fields"]
SENT = ["sent", None, None]
WAITING = ["waiting", None, None]


def play(scenario: str, **given: Any) -> Any:
    """What a scenario of tests/twins/photos.mjs comes to."""
    return ask_node(RUNNER, {"scenario": scenario, **given})


def test_what_the_phone_makes_is_within_what_the_shed_takes() -> None:
    limits = play("limits")
    assert limits["most_bytes"] <= PHOTO_BYTES
    assert limits["longest_px"] <= PHOTO_SIDE_PX
    assert limits["type"] in PHOTO_TYPES
    few = {"sha256": ["0" * 64] * limits["most_asked"]}
    assert not PhotoHashesSchema().validate(few)
    assert PhotoHashesSchema().validate({"sha256": ["0" * 64] * (limits["most_asked"] + 1)})


@pytest.mark.parametrize(
    ("size", "fitted"),
    [
        ((3200, 2400), [1600, 1200]),
        ((3000, 4000), [1200, 1600]),
        ((640, 480), [640, 480]),
        ((9000, 3), [1600, 1]),
    ],
    ids=["wide", "tall", "small-stays", "a-strip-keeps-a-pixel"],
)
def test_picture_is_drawn_in_its_own_shape_and_never_larger(
    size: tuple[int, int], fitted: list[int]
) -> None:
    assert play("fitted", width=size[0], height=size[1]) == fitted


@pytest.mark.parametrize("progressive", [False, True], ids=["baseline", "progressive"])
def test_what_a_browser_writes_into_its_own_jpeg_is_left_out_and_the_pixels_stay(
    progressive: bool,
) -> None:
    picture = Image.effect_noise((64, 48), 90).convert("RGB")
    exif = Image.Exif()
    exif[0x010F] = "A maker of cameras"
    drawn = io.BytesIO()
    picture.save(drawn, "JPEG", exif=exif, comment=b"Words", progressive=progressive, dpi=(72, 72))
    with pytest.raises(ImageUnfit):
        read_form(drawn.getvalue())
    told = play("plain", base64=base64.b64encode(drawn.getvalue()).decode())
    plain = base64.b64decode(told)
    assert read_form(plain) == ImageForm("image/jpeg", 64, 48)
    pixels = [Image.open(io.BytesIO(one)).tobytes() for one in (plain, drawn.getvalue())]
    assert pixels[0] == pixels[1]
    again = play("plain", base64=told)
    assert again == told


def test_photo_in_a_file_is_read_back_as_it_was() -> None:
    told = play("line", change={}, fields=PHOTO_FIELDS)
    digest = sha256(b"photo 1").hexdigest()
    assert told == {"image": "photo 1", "type": "image/jpeg", "sha256": digest}


@pytest.mark.parametrize(
    "change",
    [
        {"sha256": "0" * 64},
        {"image_base64": "%%%"},
        {"type": "image/svg+xml"},
        {"type": None},
        {"image_base64": "A" * (4 * 170_000)},
    ],
    ids=["other-digest", "not-base64", "other-type", "no-type", "too-large"],
)
def test_line_of_no_whole_photo_is_not_taken(change: dict[str, Any]) -> None:
    assert play("line", change=change, fields=PHOTO_FIELDS) is None


def test_photos_when_entries_wait_make_way_for_them() -> None:
    told = play("interrupted")
    assert told["left"] == [[0, *SENT], [1, *WAITING], [2, *WAITING]]
    assert (told["failed"], told["asked"]) == (None, ["PUT"])


@pytest.mark.parametrize(
    ("status", "code"),
    [(507, "photos_full"), (422, "photo_mismatch"), (413, "too_large"), (403, "not_permitted")],
)
def test_photo_that_is_refused_keeps_the_reason_and_holds_up_no_other(
    status: int, code: str
) -> None:
    told = play("error_for_the_second", status=status, code=code)
    refused = [1, "refused", code, f"It is {code}."]
    assert told["left"] == [[0, *SENT], refused, [2, *SENT]]
    assert told["failed"] is None


def test_photo_at_which_the_shed_fails_waits_and_holds_up_no_other() -> None:
    told = play("error_for_the_second", status=500, code="failed")
    assert told["left"] == [[0, *SENT], [1, *WAITING], [2, *SENT]]
    assert told["failed"] == "failed"


@pytest.mark.parametrize(
    ("status", "code", "failed"),
    [(503, "busy", "busy"), (507, "no_room", "no_room"), (404, "not_found", None)],
    ids=["busy", "disk-full", "shed-of-before-photos"],
)
def test_shed_that_can_take_no_photo_now_is_asked_again_later(
    status: int, code: str, failed: str | None
) -> None:
    told = play("error_for_the_second", status=status, code=code)
    assert told["left"] == [[0, *SENT], [1, *WAITING], [2, *WAITING]]
    assert (told["failed"], told["asked"]) == (failed, ["PUT", "PUT"])


def test_photos_beyond_those_kept_to_look_at_go_once_the_shed_says_it_has_them() -> None:
    kept = play("limits")["most_kept"]
    told = play("too_many", count=kept + 3)
    # The one that the shed has lost stays, to be sent again.
    assert told["left"][:2] == [[0, *WAITING], [3, *SENT]]
    assert told["images"] == len(told["left"]) == kept + 1
    assert told["asked"] == [3]


def test_photos_after_a_restore_are_asked_for_in_parts_and_sent_again_once() -> None:
    told = play("another_log", count=3, role="helper")
    assert told["asked"] == [3, "PUT", "PUT", "PUT"]
    assert [row[1] for row in told["left"]] == ["sent"] * 3


def test_phone_of_a_reader_offers_the_shed_nothing_after_a_restore() -> None:
    assert play("another_log", count=3, role="reader")["asked"] == []


def test_phone_of_a_reader_keeps_the_photo_that_the_shed_has_lost() -> None:
    kept = play("limits")["most_kept"]
    told = play("too_many", count=kept + 3, role="reader")
    # It can't send it, but may show it.
    assert told["left"][:2] == [[0, *SENT], [3, *SENT]]
    assert (len(told["left"]), told["asked"]) == (kept + 1, [3])


@pytest.mark.parametrize("code", ["not_found", "not_allowed"])
def test_shed_of_before_photos_that_is_asked_for_them_fails_no_sync(code: str) -> None:
    told = play("older_shed", count=3, code=code)
    assert (told["failed"], told["asked"]) == (None, [3])
    # It is asked again when it is a newer one.
    assert (told["later"]["failed"], told["later"]["asked"]) == (None, [3, 3, "PUT", "PUT", "PUT"])
