"""A garden's whole log, folded: for reports, which look at all of it."""

import json

from shedbook.log.ledger import Ledger
from shedbook.records.entries import entries_after
from shedbook.records.models import db

PAGE = 2000


def read_ledger(garden_id: str) -> Ledger:
    """Every entry of the garden in one ledger. Needs an app context."""
    ledger = Ledger()
    cursor = 0
    while page := entries_after(db.session(), garden_id, cursor, PAGE):
        entries = [json.loads(text) for text in page]
        ledger.add(entries)
        cursor = entries[-1]["seq"]
    return ledger
