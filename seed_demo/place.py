"""Wrenhollow: an invented garden. Its people, beds and crops, as plain data.

No name here is a real garden, person, cultivar or product.
"""

from dataclasses import dataclass
from typing import Any

GARDEN_NAME = "Wrenhollow"
LATITUDE_DEG, LONGITUDE_DEG, ELEVATION_M = 47.5, 2.0, 140

PEOPLE = {"lead": "Marit", "helper": "Joss", "quiet": "Tamsin"}
ROLES = {"lead": "lead", "helper": "helper", "quiet": "helper"}
DEVICE_NAMES = {
    "lead": "Marit's phone",
    "helper": "Joss's phone",
    "quiet": "Tablet in the potting shed",
}

# In the order of the walk. Raised boxes and tubs drain fast, the wall bed lies on clay.
BEDS: dict[str, dict[str, Any]] = {
    "Gate bed": {
        "type": "ground",
        "length_m": 8,
        "width_m": 1.2,
        "drainage": "medium",
        "sun_hours": 8,
        "water_method": "drip",
        "flow_l_per_min": 4,
        "soil_texture": "loam",
        "wetted_percent": 60,
    },
    "Long bed": {
        "type": "ground",
        "length_m": 10,
        "width_m": 1.2,
        "drainage": "medium",
        "sun_hours": 8.5,
        "water_method": "drip",
        "flow_l_per_min": 5,
        "soil_texture": "loam",
        "wetted_percent": 60,
    },
    "South box": {
        "type": "raised",
        "length_m": 3,
        "width_m": 1.2,
        "drainage": "quick",
        "sun_hours": 9,
        "water_method": "drip",
        "flow_l_per_min": 2,
        "soil_texture": "sandy_loam",
        "wetted_percent": 60,
    },
    "Herb box": {
        "type": "raised",
        "length_m": 2,
        "width_m": 1.2,
        "drainage": "quick",
        "sun_hours": 8,
        "water_method": "soaker",
        "flow_l_per_min": 2,
        "soil_texture": "sandy_loam",
    },
    "North box": {
        "type": "raised",
        "length_m": 4,
        "width_m": 1.2,
        "drainage": "quick",
        "sun_hours": 6.5,
        "water_method": "drip",
        "flow_l_per_min": 3,
        "soil_texture": "sandy_loam",
        "wetted_percent": 60,
    },
    "Wall bed": {
        "type": "ground",
        "length_m": 6,
        "width_m": 1,
        "drainage": "slow",
        "sun_hours": 7,
        "water_method": "hand",
        "soil_texture": "clay",
    },
    "Stream bed": {
        "type": "ground",
        "length_m": 9,
        "width_m": 1.2,
        "drainage": "medium",
        "sun_hours": 6,
        "water_method": "drip",
        "flow_l_per_min": 4,
        "soil_texture": "silt_loam",
        "wetted_percent": 60,
    },
    "Back bed": {
        "type": "ground",
        "length_m": 7,
        "width_m": 1.2,
        "drainage": "medium",
        "sun_hours": 7.5,
        "water_method": "drip",
        "flow_l_per_min": 4,
        "soil_texture": "sandy_loam",
        "wetted_percent": 60,
    },
    "Three tubs": {
        "type": "container",
        # The three taken together: as much surface as three tubs of 0.4 m.
        "volume_l": 120,
        "across_m": 0.7,
        "drains": True,
        "drainage": "quick",
        "sun_hours": 8,
        "water_method": "hand",
    },
}
NEW_THIS_YEAR = frozenset({"Three tubs"})
UNEVEN_BED = "Wall bed"


@dataclass(frozen=True)
class PastCrop:
    """What stood in a bed so many years ago; `days` from planting out to clearing."""

    years_ago: int
    bed: str
    crop: str
    variety: str
    count: int
    days: int = 120


PAST_CROPS = (
    PastCrop(3, "Gate bed", "kale", "broad curled green", 18),
    PastCrop(3, "Long bed", "pea", "tall sugar pod", 60, 75),
    PastCrop(3, "South box", "onion", "flat brown keeper", 60),
    PastCrop(3, "Herb box", "pea", "short early pod", 30, 70),
    PastCrop(3, "North box", "tomato", "yellow round", 8),
    PastCrop(3, "Wall bed", "lettuce", "brown-edged leaf", 40, 60),
    PastCrop(3, "Stream bed", "carrot", "short orange", 200),
    PastCrop(3, "Back bed", "onion", "red storing", 90),
    PastCrop(2, "Gate bed", "lettuce", "green heading", 40, 60),
    PastCrop(2, "Long bed", "onion", "flat brown keeper", 110),
    PastCrop(2, "South box", "lettuce", "brown-edged leaf", 24, 55),
    PastCrop(2, "Herb box", "onion", "small white", 40, 90),
    PastCrop(2, "North box", "beet", "dark round", 60, 90),
    PastCrop(2, "Wall bed", "pea", "tall sugar pod", 40, 75),
    PastCrop(2, "Stream bed", "beet", "dark round", 80, 90),
    PastCrop(2, "Back bed", "pea", "tall sugar pod", 50, 75),
    PastCrop(1, "Gate bed", "carrot", "short orange", 160),
    PastCrop(1, "Long bed", "bean", "climbing flat pod", 50, 100),
    PastCrop(1, "South box", "beet", "dark round", 50, 90),
    PastCrop(1, "Herb box", "beet", "golden round", 36, 90),
    PastCrop(1, "North box", "lettuce", "green heading", 30, 60),
    PastCrop(1, "Wall bed", "onion", "red storing", 70),
    PastCrop(1, "Stream bed", "lettuce", "brown-edged leaf", 50, 60),
    PastCrop(1, "Back bed", "tomato", "big ribbed red", 18),
)


@dataclass(frozen=True)
class Crop:
    """One planting of this season. `out` is days ago when it went out (or was sown in place)."""

    name: str
    bed: str
    crop: str
    variety: str
    count: int
    rows: int
    out: int
    tray_days: int = 0  # days from sowing in a tray to planting out; 0: sown in place
    days_to_maturity: int = 60
    in_row_m: float = 0.4
    between_rows_m: float = 0.6

    def row(self, number: int) -> tuple[int, ...]:
        """Ordinals of the plants in one row, counted as the log counts them."""
        per_row = -(-self.count // self.rows)
        first = (number - 1) * per_row + 1
        return tuple(range(first, min(first + per_row, self.count + 1)))


EARLY = Crop("Early peppers", "Gate bed", "pepper", "early short green", 20, 2, 70, 56, 52, 0.4)
MAIN = Crop("Long peppers", "Long bed", "pepper", "long mild red", 24, 2, 57, 55, 72, 0.4)
PEPPER = Crop("Box peppers", "South box", "pepper", "blocky yellow", 18, 2, 38, 58, 68, 0.35)
PLUM = Crop("Sauce tomatoes", "Wall bed", "tomato", "long sauce", 16, 2, 66, 44, 62, 0.5)
CHERRY = Crop("Tub tomatoes", "Three tubs", "tomato", "little yellow", 6, 1, 49, 43, 46, 0.4)
CUCUMBER = Crop("Cucumbers", "North box", "cucumber", "short slicing", 8, 1, 44, 24, 34, 0.45)
SQUASH = Crop("Summer squash", "North box", "summer_squash", "striped green", 4, 1, 46, 23, 34, 0.8)
BEAN = Crop("Climbing beans", "Stream bed", "bean", "climbing round pod", 48, 2, 62, 0, 53, 0.2)
KALE = Crop("Kale", "Stream bed", "kale", "broad curled green", 14, 1, 50, 34, 34, 0.45)
LETTUCE = Crop(
    "Cutting lettuce", "Back bed", "lettuce", "brown-edged leaf", 30, 3, 40, 26, 26, 0.25
)
FENNEL = Crop("Fennel", "Herb box", "fennel", "round bulb", 12, 2, 55, 0, 80, 0.3)

# What the fruits look like on their way, where that tells when to pick.
COLOURS = {"pepper": "green, red", "tomato": "green, orange, red"}

CROPS = (EARLY, MAIN, PEPPER, PLUM, CHERRY, CUCUMBER, SQUASH, BEAN, KALE, LETTUCE, FENNEL)
