"""What is on its way: seedlings in trays, the night to come, wishes for the next season."""

from typing import Any

from seed_demo.draft import HELPER, Season
from seed_demo.troubles import PLANNED

AUTUMN = "Autumn peppers in the tray"
_WISHES = (
    ("pepper", 24),
    ("tomato", 16),
    ("cucumber", 8),
    ("kale", 14),
    ("bean", 48),
    ("onion", 90),
    ("lettuce", 40),
    ("carrot", 150),
    ("spinach", 60),
)


def write_ahead(season: Season) -> None:
    """Entries that point forward from today."""
    _raise_the_planned(season)
    _raise_slowly(season)
    season.tap(season.at(1, 20, 45), "forecast", {"low_c": 14.5, "high_c": 29})
    year = season.today.year + 1
    for nth, (crop, plants) in enumerate(_WISHES):
        wish = {"crop": crop, "season": year, "plants": plants}
        season.tap(season.at(7, 20, nth), "wish", wish)


def _raise_the_planned(season: Season) -> None:
    """Peppers for the month to come: seed bathed, sown, up, thinned."""
    bath = {
        "method": "hot_water",
        "water_c": 50,
        "duration_min": 25,
        "seed_form": "plain",
        "trial_seeds": 10,
        "trial_germinated": 9,
    }
    season.tap(season.at(35, 11), "seed_treatment", bath, planting=PLANNED)
    sow = {"place": "tray", "seeds": 18, "depth_mm": 6}
    season.tap(season.at(34, 9), "sow", sow, planting=PLANNED)
    for days in range(34, 0, -4):
        warm: dict[str, Any] = {"low_c": season.near(20, 0.05, 0.5), "high_c": 25}
        season.tap(season.at(days, 18), "air_temperature", warm, planting=PLANNED, phone=HELPER)
        soil = {"temperature_c": season.near(24, 0.05, 0.5), "depth_mm": 10}
        season.tap(season.at(days, 18, 5), "soil_temperature", soil, planting=PLANNED)
    season.tap(season.at(25, 8), "emerge", {"count": 16}, planting=PLANNED)
    season.tap(season.at(8, 18), "stage", {"leaf_count": 2}, planting=PLANNED)


def _raise_slowly(season: Season) -> None:
    """A tray that stands too cool, and has not come up when it should have."""
    plan = {"crop": "pepper", "variety": "tall thin late", "plants": 10, "rows": 2}
    season.tap(season.at(29, 8), "planting", plan, planting=AUTUMN, label=AUTUMN)
    sow = {"place": "tray", "seeds": 14, "depth_mm": 6}
    season.tap(season.at(29, 9), "sow", sow, planting=AUTUMN)
    for days in range(29, 0, -3):
        soil = {"temperature_c": season.near(20, 0.03, 0.5), "depth_mm": 10}
        season.tap(season.at(days, 8, 30), "soil_temperature", soil, planting=AUTUMN)
