"""Who may write what. Decided once, when an entry is accepted, by the person that it names."""

from collections.abc import Mapping
from typing import Any

from shedbook.log.telling import GARDEN_KINDS
from shedbook.records.entries import KnownEntry, root_of
from shedbook.records.models import SetAside
from shedbook.records.people import Paired
from shedbook.rules.rulebook import load_rulebook

Texts = dict[str, list[str]]


def writes_at_all(paired: Paired) -> bool:
    """Whether this person may write anything, whatever it is."""
    return paired.role != "reader"


def refusal_of_sender(paired: Paired, entry: Mapping[str, Any]) -> Texts:
    """Reasons against the whole entry, whatever it says."""
    if not writes_at_all(paired):
        return {"person": ["You may read this garden, but not write in it. Ask the lead."]}
    if paired.role != "lead" and entry.get("kind") in GARDEN_KINDS:
        return {"kind": ["Only the lead sets the garden's name, order, limits and place."]}
    # A lead brings in what others wrote: an import, or a phone that was paired again.
    if paired.role != "lead" and entry.get("person") != paired.person_id:
        return {"person": [f"Must be {paired.person_name}, whom this device belongs to."]}
    return {}


def refusal_of_deciding(paired: Paired, entry: Mapping[str, Any]) -> Texts:
    """Reasons why this person may not answer a finding: a wait that is decided on is told no more.

    Work that was logged inside a wait is another matter: whoever did it may say why. But to decide
    on fruit that was picked inside one, or on a lot in the store, sets it free to be eaten.
    """
    if paired.role == "lead" or "answers" not in entry:
        return {}
    rule_id, _, rest = str(entry["answers"]).partition("/")
    ordinal = rest.partition("/")[2]
    rule = next((one for one in load_rulebook()["rules"] if one["id"] == rule_id), None)
    if rule is None:
        return {}
    if rule["shape"] == "keeping":
        return {"answers": ["Only the lead may decide on a lot in the store."]}
    if rule["shape"] != "withhold" or "softly" in rule["params"]:
        return {}
    if ordinal.startswith("flag.") and "pick" not in rule["params"]["blocks"]:
        return {}
    return {"answers": ["Only the lead may decide on a waiting time."]}


def refusal_of_changing_crop(paired: Paired, entry: Mapping[str, Any]) -> Texts:
    """Reasons why this person may not make another crop of a planting.

    How long raw manure withholds its fruit depends on the crop.
    """
    details = entry["details"]
    is_change = entry["kind"] == "planting" and entry["id"] != entry["subjects"].get("planting")
    is_told_anew = entry["kind"] == "correct" and details.get("kind") == "planting"
    told = details.get("restated") if is_told_anew else details if is_change else {}
    if paired.role == "lead" or not isinstance(told, Mapping) or "crop" not in told:
        return {}
    return {"details.crop": ["Only the lead may make another crop of a planting."]}


def refusal_of_mending(
    paired: Paired,
    entry: Mapping[str, Any],
    known: Mapping[str, KnownEntry],
    set_aside: Mapping[str, SetAside],
) -> Texts:
    """Reasons why this person may not correct, void or mend what the entry names."""
    if paired.role == "lead":
        return {}
    mended = set_aside.get(entry.get("mends", ""))
    if mended is not None and mended.person_id != paired.person_id:
        return {"mends": ["Only its writer or the lead may mend this entry."]}
    root_id = root_of(entry)
    if root_id is None:
        return {}
    root = known.get(root_id)
    if root is None:
        return {"details.entry": ["The shed does not have this entry yet. Send it first."]}
    if root.kind == "treat":
        return {"details.entry": ["Only the lead may change or lift a treatment."]}
    if root.makes_wait:
        return {"details.entry": ["Only the lead may change or take back raw manure."]}
    if root.person_id != paired.person_id:
        return {"details.entry": ["Only its writer or the lead may change this entry."]}
    return {}
