"""What of long ago the rules no longer look at; the twin of client/rules/long_ago.js.

Weather and routine work of more than 400 days ago is not seen, unless it was done for a planting of
the bed that has not ended: what names one, and work on the whole bed since it was made ready for
the first of them.
A pick is seen with its own planting while the log says that fruit of it is in the store, for three
years; raw manure and troubles of the soil are seen for ever.

No rule counts further back than a year and the days around it, but for what a planting that still
grows had done to it, and for what is not listed here as routine. So treatments stay, what shapes a
bed or a planting, decisions, and every kind that a later version brings.
"""

from collections.abc import Callable, Mapping

from shedbook.log.ledger import Ledger
from shedbook.log.telling import WEATHER_KINDS
from shedbook.rules.keeping import has_lot
from shedbook.rules.match import Event, Json, Planting, has_ended, text

LONG_AGO_DAYS = 400
# So long before a planting came its bed may have been made ready, and no row asks further back.
READY_DAYS = 120
# Dried or frozen fruit is kept for years, and who eats it must know of a wait that was broken.
STORED_DAYS = 1_100
ROUTINE_KINDS = frozenset(
    {
        *("water", "feed", "mulch", "prune", "stake", "weed", "cover", "clean", "thin", "pot_on"),
        *("harden", "stage", "scout", "pick", "discard", "note", "photo"),
        *WEATHER_KINDS,
    }
)
# Routine kinds that may tell of something for ever, and the field that says so. The log keeps what
# stands there beside each entry, so another field needs a migration.
TOPIC_FIELDS = {"feed": "origin", "scout": "organism"}
# Work that is looked at as long as something of it may be in the store.
STORED_KIND = "pick"

Sees = Callable[[Event], bool]


def is_long_over(ledger: Ledger, planting: Planting, today: int) -> bool:
    """Did it end so long ago that nothing is asked of it any more?

    What it left behind in its bed is told by the bed and by those that came after it.
    """
    until = planting.get("until_day")
    is_old = until is not None and until < today - LONG_AGO_DAYS
    return is_old and not may_be_stored(ledger, planting, today)


def may_be_stored(ledger: Ledger, planting: Planting, today: int) -> bool:
    """Does the log say that fruit of it is in the store, and can that still be so?"""
    until = planting.get("until_day")
    is_late = until is None or until >= today - STORED_DAYS
    return is_late and has_lot(ledger.events_of_planting(planting["id"]))


def seen_since(ledger: Ledger, bed_id: str | None, today: int) -> int:
    """The first day whose work on a whole bed is seen: of long ago where something grows on."""
    residents = [] if bed_id is None else ledger.residents(bed_id)
    came: list[int] = [
        one["from_day"] - READY_DAYS
        for one in residents
        if "from_day" in one and not has_ended(one, today)
    ]
    return min([today - LONG_AGO_DAYS, *came])


def lasting_topics(rulebook: Json) -> dict[str, frozenset[str]]:
    """What an entry of a routine kind tells of for ever: raw manure, and troubles of the soil."""
    hosts: Mapping[str, object] = rulebook.get("hosts", {})
    return {"feed": frozenset({"raw_manure"}), "scout": frozenset(hosts)}


def topic_of(kind: str, details: Mapping[str, object]) -> str | None:
    """What an entry of a routine kind is about, where that decides how long it is seen."""
    return text(details.get(TOPIC_FIELDS[kind])) if kind in TOPIC_FIELDS else None


def sight_of(
    ledger: Ledger, bed_id: str | None, rulebook: Json, today: int, own: Planting | None = None
) -> Sees:
    """Whether the rules on a bed, or on its planting `own`, may see an event."""
    lasting = lasting_topics(rulebook)
    stored = own["id"] if own is not None and may_be_stored(ledger, own, today) else None
    recent, since = today - LONG_AGO_DAYS, seen_since(ledger, bed_id, today)

    def is_seen(event: Event) -> bool:
        kind = event["kind"]
        if event["day"] >= recent:
            return True
        if "bed" not in event and "planting" not in event:
            return False
        if kind not in ROUTINE_KINDS:
            return True
        if topic_of(kind, event["details"]) in lasting.get(kind, ()):
            return True
        if "planting" not in event:
            return bool(event["day"] >= since)
        planting = ledger.planting(event["planting"])
        if planting is None or planting.get("bed") != bed_id:
            return False
        if not has_ended(planting, today):
            return True
        return bool(kind == STORED_KIND and planting["id"] == stored)

    return is_seen
