"""What a phone holds late in a long season: 20 beds, 400 plants, 12,000 entries of many kinds."""

import random
import time

from shedbook.log.moment import moment_text
from tests.benchmarks.connection import BenchShed, KeptConnection, read_answer, sync_body
from tests.benchmarks.log_entries import OFFSET_MINUTES, SEASON_DAYS, Entry, Places, season_of
from tests.benchmarks.push import BATCH

BEDS = 20
PLANTS_IN_A_BED = 20
ENTRIES = 12_000
# Where the soil-water account can be reckoned: it asks for the latitude, the soil and the method.
SETTING = {"latitude_deg": 40.0, "longitude_deg": -3.7, "elevation_m": 650}
BED = {"length_m": 6, "width_m": 1.2, "soil_texture": "sandy_loam", "water_method": "drip"}
PLANTING = {"plants": PLANTS_IN_A_BED, "rows": 2, "in_row_m": 0.5, "between_rows_m": 0.6}
CROPS = ("pepper", "tomato", "eggplant", "basil")
# The season's entries name a planting; of those that can, these shares name one plant, or the bed.
SHARE_OF_PLANTS = 0.3
SHARE_OF_BEDS = 0.5


def fill(shed: BenchShed) -> None:
    """Push the whole log into a shed, as one phone's."""
    phone = KeptConnection(shed, shed.pair("lead", "Inés"))
    pen = phone.pen
    beds = [pen.bed(name=f"Bed {number}", **BED) for number in range(1, BEDS + 1)]
    plantings = []
    for place, bed in enumerate(beds):
        made = pen.entry("planting", {"crop": CROPS[place % len(CROPS)], **PLANTING})
        plantings.append(made | {"subjects": {"planting": made["id"], "bed": bed["id"]}})
    out_at = moment_text(int(time.time()) - SEASON_DAYS * 86_400, OFFSET_MINUTES)
    out = [pen.entry("transplant", {}, one["subjects"], happened_at=out_at) for one in plantings]
    made = [pen.entry("setting", SETTING), *beds, *plantings, *out]
    pairs = [(one["id"], one["subjects"]["bed"]) for one in plantings]
    season = season_of(pen, Places([bed["id"] for bed in beds], pairs), ENTRIES - len(made))
    dice = random.Random(1)
    log = [*made, *(_narrowed(entry, dice) for entry in season)]
    # The notebook's numbers in the order in which the entries go over.
    log = [entry | {"number": number} for number, entry in enumerate(log, 1)]
    for start in range(0, len(log), BATCH):
        body = sync_body(pen, log[start : start + BATCH], 0, page=1)
        answers = read_answer(phone.post("/sync", body))["answers"]
        assert {one["result"] for one in answers} == {"accepted"}, answers
    phone.close()


def _narrowed(entry: Entry, dice: random.Random) -> Entry:
    """Scouting and picking one plant, watering a whole bed."""
    subjects = entry["subjects"]
    if entry["kind"] in ("scout", "pick") and dice.random() < SHARE_OF_PLANTS:
        one = [dice.randint(1, PLANTS_IN_A_BED)]
        details = (
            {"organism": "aphids", "grade": "few"} if entry["kind"] == "scout" else entry["details"]
        )
        return entry | {"subjects": subjects | {"plants": one}, "details": details}
    if entry["kind"] == "water" and dice.random() < SHARE_OF_BEDS:
        return entry | {"subjects": {"bed": subjects["bed"]}}
    return entry
