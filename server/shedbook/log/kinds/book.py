"""Kinds about the book itself: notes, decisions, and the mending of slips."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    ANYTHING,
    MOST_PLANTS,
    PERHAPS_A_BED,
    Details,
    Kind,
    Work,
    count,
    field,
    long_text,
    number,
    text,
)


class Note(Details):
    """Something worth keeping that no other kind has a place for."""

    kind_name = "note"
    text = f.LongTextField(required=True, metadata={"max_length": f.LONG_TEXT, "primary": True})


class Decline(Details):
    """A decision against something that is due, with its reason."""

    kind_name = "decline"
    reason = text(400, required=True, primary=True)


class Correct(Details):
    """An earlier entry told again, with all its details."""

    kind_name = "correct"
    entry = field(f.IdField, required=True)
    kind = field(f.KindField, required=True)
    restated = field(f.MapField, required=True)


class Void(Details):
    """An earlier entry taken back."""

    kind_name = "void"
    entry = field(f.IdField, required=True)
    reason = long_text(primary=True)


class Wish(Work):
    """A crop that someone wants to grow in a season to come, perhaps in this bed."""

    kind_name = "wish"
    crop = text(40, required=True, primary=True)
    season = count(1970, 2199, required=True, primary=True)
    plants = count(1, MOST_PLANTS, primary=True)
    area_m2 = number("m²", 0.01, 1_000_000, step=1, above=100_000)


KINDS = (
    Kind(Note, "book", ANYTHING),
    Kind(Wish, "book", PERHAPS_A_BED),
    Kind(Decline, "book", ANYTHING),
    Kind(Correct, "book", ANYTHING),
    Kind(Void, "book", ANYTHING),
)
