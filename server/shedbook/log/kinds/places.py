"""Kinds that make and change the garden, its beds, plantings and plants."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    MOST_PLANTS,
    THE_GARDEN,
    Kind,
    Place,
    choice,
    count,
    field,
    long_text,
    number,
    text,
    work_on,
)

SOIL_TEXTURES = (
    "sand",
    "loamy_sand",
    "sandy_loam",
    "loam",
    "silt_loam",
    "silt",
    "silty_clay_loam",
    "silty_clay",
    "clay",
)
# The edge that lies nearest to who stands before the bed, by its rows and their ends.
NEAR_EDGES = ("last_row", "first_row", "row_start", "row_end")
WATER_METHODS = ("drip", "soaker", "overhead", "hand")


class Garden(Place):
    """The garden's name."""

    kind_name = "garden"
    name = text(primary=True)


class Setting(Place):
    """Where the garden lies and how its grower wants to be told."""

    kind_name = "setting"
    needs = (("latitude_deg", "longitude_deg"), ("longitude_deg", "latitude_deg"))
    latitude_deg = number("°", -90, 90, step=0.01)
    longitude_deg = number("°", -180, 180, step=0.01)
    elevation_m = number("m", -430, 6000, step=1)
    zone = text(64)
    last_frost = field(f.MonthDayField, primary=True)
    first_frost = field(f.MonthDayField, primary=True)
    region = choice("na_midwest", "na_northeast", "na_other", "europe", "elsewhere")
    walk_order = field(f.IdListField)
    stale_after_hours = number("hours", 0.5, 720, step=0.5)
    thresholds = field(f.NumberMapField)
    crops = field(f.ObjectMapField)


class Bed(Place):
    """A place that plants stand in: ground, raised bed, container or field strip."""

    kind_name = "bed"
    needed_at_making = ("name",)
    not_above = (("wilting_point_percent", "field_capacity_percent"),)
    name = text(60, primary=True)
    type = choice("ground", "raised", "container", "field", primary=True)
    length_m = number("m", 0.05, 2000, step=0.1, primary=True, above=200)
    width_m = number("m", 0.05, 2000, step=0.1, primary=True, above=50)
    volume_l = number("L", 0.1, 1_000_000, step=1)
    drainage = choice("quick", "medium", "slow")
    sun_hours = number("hours", 0, 24, step=0.5)
    water_method = choice(*WATER_METHODS)
    flow_l_per_min = number("L/min", 0.001, 1000, step=0.1, above=100)
    wetted_percent = number("%", 1, 100, step=5)
    soil_texture = choice(*SOIL_TEXTURES)
    field_capacity_percent = number("%", 1, 80, step=1, above=60)
    wilting_point_percent = number("%", 0.1, 60, step=1, above=40)
    drains = field(f.BooleanField)
    across_m = number("m", 0.02, 10, step=0.05, above=2)
    edge_m = number("m", 0, 5, step=0.05, above=1)
    near_edge = choice(*NEAR_EDGES)
    beside = field(f.IdListField)
    visit_last = text(120)
    retired_on = field(f.DateField)


class Planting(Place):
    """Plants of one crop and variety that are raised and stand together."""

    kind_name = "planting"
    needed_at_making = ("crop",)
    crop = text(40, primary=True)
    variety = text(60, primary=True)
    seed_lot = text(60)
    days_to_maturity = count(1, 400, below=20, above=200)
    ripening_colours = text()
    resistances = text()
    plants = count(1, MOST_PLANTS, primary=True)
    rows = count(1, 1000)
    in_row_m = number("m", 0.01, 20, step=0.05, above=3)
    between_rows_m = number("m", 0.01, 20, step=0.05, above=5)
    pattern = choice("square", "staggered")
    degree_days_to_pick = number("°C days", 1, 10_000, step=10, below=200, above=4000)
    planned_on = field(f.DateField, primary=True)
    ended_on = field(f.DateField)


class Plant(Place):
    """A plant that is known by name."""

    kind_name = "plant"
    label = text(60, primary=True)
    note = long_text()


KINDS = (
    Kind(Garden, "place", THE_GARDEN),
    Kind(Setting, "place", THE_GARDEN),
    Kind(Bed, "place", work_on("required", "none", "none")),
    Kind(Planting, "place", work_on("optional", "required", "none")),
    Kind(Plant, "place", work_on("none", "required", "required")),
)
