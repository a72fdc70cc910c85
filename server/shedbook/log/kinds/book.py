"""Kinds about the book itself: notes, decisions, and the mending of slips."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import ANYTHING, Details, Kind, field, long_text, text


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


KINDS = (
    Kind(Note, "book", ANYTHING),
    Kind(Decline, "book", ANYTHING),
    Kind(Correct, "book", ANYTHING),
    Kind(Void, "book", ANYTHING),
)
