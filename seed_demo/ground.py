"""What was done to the ground and found in it: evenness of a line, manure, film, marked places."""

from typing import Any

from seed_demo.draft import HELPER, LEAD, Season
from seed_demo.place import EARLY, FENNEL, PEPPER

# Three years ago in the autumn, in the bed where peppers stand now.
_ROT_SEEN = 3 * 365 - 60
_CANS_ML = (41.0, 39.0, 44.0, 36.0, 40.0, 31.0, 28.0, 38.0, 42.0, 35.0, 29.0, 37.0)


def write_ground(season: Season) -> None:
    """Entries about beds, not about what stands in them."""
    _measure_the_line(season)
    _prepare(season)
    season.tap(
        season.at(_ROT_SEEN, 17),
        "spot",
        {"trouble": "verticillium_wilt", "x_m": 6.5, "y_m": 0.4},
        bed="Long bed",
    )
    season.tap(
        season.at(20, 9),
        "solarise",
        {"step": "laid", "film": "clear", "planned_weeks": 6},
        bed="Back bed",
    )


def _measure_the_line(season: Season) -> None:
    cans: dict[str, Any] = {
        "volumes_ml": list(_CANS_ML),
        "duration_min": 20,
        "can_area_cm2": 64,
        "method": "drip",
    }
    season.tap(season.at(44, 7, 50), "catch_cans", cans, bed="Gate bed")


def _prepare(season: Season) -> None:
    """Compost and mixed fertiliser in one box, raw manure in the bed of a slow crop."""
    compost = {"product": "garden compost", "origin": "compost", "depth_mm": 50}
    season.tap(season.at(PEPPER.out + 9, 15), "feed", compost, bed=PEPPER.bed)
    mixed = {
        "product": "garden fertiliser 10-10-10",
        "material": "mixed",
        "origin": "mineral",
        "amount_g": 450,
        "n_percent": 10,
        "p_percent": 10,
        "k_percent": 10,
        "placement": "mixed_in",
    }
    season.tap(season.at(PEPPER.out + 8, 15), "feed", mixed, bed=PEPPER.bed, phone=HELPER)
    manure = {"product": "stable manure", "origin": "raw_manure", "amount_g": 20_000}
    season.tap(season.at(FENNEL.out + 30, 15), "feed", manure, bed=FENNEL.bed)
    season.tap(
        season.at(EARLY.out - 21, 19),
        "clean",
        {"what": "tools", "with": "soap and water"},
        phone=LEAD,
    )
