"""The water account of a bed: what its root zone held on each day since the planting.

It is kept three times over. The middle one takes the middle of everything; the dry and the wet one
take, of all that is not known for sure, what leaves the soil driest and wettest.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from shedbook.agronomy.soil_water import (
    WaterDay,
    depletion_fraction,
    effective_rain,
    readily_available_water,
    total_available_water,
    water_day,
)
from shedbook.rules.daily import events_in_days
from shedbook.rules.gap import standing_plantings
from shedbook.rules.match import Context, Event, Planting, Rule, days, limit
from shedbook.rules.water_demand import Demand, Thirst, demand_on, reference_loss, thirsts_of
from shedbook.rules.water_ground import Ground, Three, depth_given, ground_of
from shedbook.rules.water_weather import Weather

# Places in what is kept three times over.
DRY, MIDDLE, WET = 0, 1, 2
RUNS = (DRY, MIDDLE, WET)
# How empty the soil is at the start, as a share of what may go (planting) or of all (later).
AT_START = (1, 0.5, 0)
# What a watering of unknown size leaves of the depletion: all of it, half, nothing.
LEFT_BY_UNMEASURED = (1, 0.5, 0)
WEEK_DAYS = 7
MOST_DAYS = 400
MOST_MM = 50
NO_LOSS = (0.0, 0.0, 0.0)
# At which a crop's p is listed; it stands in until a day of the account has gone by.
USUAL_LOSS = (5.0, 5.0, 5.0)

# A day of the account, as the phone draws it.
Line = dict[str, Any]


class Needs(NamedTuple):
    """What must be given before an account can be kept."""

    names: list[str]
    missing_day: int | None
    without_facts: list[Planting]


class Account(NamedTuple):
    """The account of a bed up to now, and who keeps it."""

    keeper: "Keeper"
    start: str
    lines: list[Line]
    mean_et0_mm: float
    without_facts: list[Planting]


def account_of(context: Context, rule: Rule) -> Account | Needs | None:
    """The account of the view's bed, or what it needs; None where nothing stands."""
    key = f"water/{rule['id']}"
    if key not in context.known:
        context.known[key] = _account(context, rule)
    known: Account | Needs | None = context.known[key]
    return known


def _account(context: Context, rule: Rule) -> Account | Needs | None:
    plantings = standing_plantings(context)
    if not plantings:
        return None
    ground, needs = ground_of(context, rule)
    thirsts, without_facts = thirsts_of(context, plantings)
    if not thirsts:
        needs.append("crop")
    first, start = _first_day(context, rule, thirsts)
    weather = Weather(context, first)
    missing_day = None
    if weather.last_missing is not None:
        first, start = weather.last_missing + 1, "gap"
        if first >= context.today:
            what, missing_day = weather.gap()
            needs.append(what)
    if needs or ground is None:
        return Needs(needs, missing_day, without_facts)
    error_c = limit(context, rule, "fill_error_c") or 0
    losses = [
        reference_loss(ground.latitude_deg, air, error_c)
        for air in weather.air[first - weather.first :]
    ]
    keeper = Keeper(context, rule, ground, thirsts)
    lines = keeper.lines(first, start, losses, weather)
    week = [loss[MIDDLE] for loss in losses[-WEEK_DAYS:]]
    total = 0.0
    for one in week:
        total += one
    mean = total / len(week) if week else USUAL_LOSS[MIDDLE]
    return Account(keeper, start, lines, mean, without_facts)


def _first_day(context: Context, rule: Rule, thirsts: Sequence[Thirst]) -> tuple[int, str]:
    """The day that the account begins on, and why on that day."""
    first = min((one.from_day for one in thirsts), default=context.today)
    span = min(max(days(context, rule, "account_days"), WEEK_DAYS), MOST_DAYS)
    oldest = context.today - span
    return (oldest, "span") if first < oldest else (first, "planting")


class Keeper:
    """Keeps the account of one bed."""

    def __init__(
        self, context: Context, rule: Rule, ground: Ground, thirsts: Sequence[Thirst]
    ) -> None:
        self.context = context
        self.ground = ground
        self.thirsts = thirsts
        self.start_root_m = limit(context, rule, "start_root_m") or 0
        self.follows_thirst = (limit(context, rule, "p_follows_thirst") or 0) > 0
        self.start_shares: Sequence[float] = rule["params"].get("start_shares", AT_START)

    def lines(
        self, first: int, start: str, losses: Sequence[Three], weather: Weather
    ) -> list[Line]:
        """Every day from the first to today; of today only what came in so far."""
        given, unmeasured = self._given(first)
        usual = losses[-1] if losses else USUAL_LOSS
        lines: list[Line] = []
        depletions: list[float] = []
        for day in range(first, self.context.today + 1):
            is_today = day == self.context.today
            loss = NO_LOSS if is_today else losses[day - first]
            demand = self.demand(day)
            limits = self.limits(demand, usual if is_today else loss)
            if not lines:
                depletions = [self._at_start(start, run, *limits[run]) for run in RUNS]
            rain = weather.rain[day - weather.first] or 0.0
            water = given.get(day, 0.0)
            steps = self._steps(depletions, demand, limits, loss, (rain, water))
            depletions = [
                step.depletion_mm * (LEFT_BY_UNMEASURED[run] if day in unmeasured else 1)
                for run, step in enumerate(steps)
            ]
            came = {"rain_mm": rain, "given_mm": water, "is_measured": day not in unmeasured}
            is_filled = not is_today and weather.air[day - weather.first].how == "filled"
            lost = {"et0_mm": loss[MIDDLE], "is_filled": is_filled}
            lines.append(_line(day, depletions, limits, steps) | came | lost)
        return lines

    def _given(self, first: int) -> tuple[Mapping[int, float], set[int]]:
        """Millimetres by day, and the days on which a watering was not measured."""
        given: dict[int, float] = {}
        unmeasured = set()
        for event in events_in_days(self.context, "water", first, self.context.today):
            depth = depth_given(self.ground, event)
            if depth is None:
                unmeasured.add(event["day"])
            else:
                given[event["day"]] = given.get(event["day"], 0.0) + depth
        return given, unmeasured

    def demand(self, day: int) -> Demand:
        """What the plants ask of the soil on a day."""
        return demand_on(self.thirsts, day, self.start_root_m)

    def thirst(self, demand: Demand, et0_mm: float) -> float:
        """What they would take with water enough."""
        return min(demand.kc * self.ground.crown_factor * et0_mm, MOST_MM)

    def limits(self, demand: Demand, loss: Three) -> list[tuple[float, float]]:
        """Of each run: water in reach when the soil is full, and the share of it that may go."""
        limits = []
        for run in RUNS:
            held = self.ground.held[run]
            if not self.ground.is_container:
                held = total_available_water(held, 0, demand.root_m) * self.ground.wetted_share
            p = demand.p
            if self.follows_thirst:
                p = depletion_fraction(p, self.thirst(demand, loss[run]))
            limits.append((held, p))
        return limits

    def _at_start(self, start: str, run: int, taw_mm: float, p: float) -> float:
        most = readily_available_water(taw_mm, p) if start == "planting" else taw_mm
        return most * min(max(self.start_shares[run], 0), 1)

    def _steps(
        self,
        depletions: Sequence[float],
        demand: Demand,
        limits: Sequence[tuple[float, float]],
        loss: Three,
        came_mm: tuple[float, float],
    ) -> list[WaterDay]:
        """One day of each run, with the rain and the water that came."""
        counted = effective_rain(came_mm[0], loss[MIDDLE])
        return [
            water_day(
                min(depletions[run], limits[run][0]),
                limits[run][0],
                limits[run][1],
                counted,
                came_mm[1],
                self.thirst(demand, loss[run]),
            )
            for run in RUNS
        ]


def _line(
    day: int,
    depletions: Sequence[float],
    limits: Sequence[tuple[float, float]],
    steps: Sequence[WaterDay],
) -> Line:
    raw = [readily_available_water(*one) for one in limits]
    return {
        "day": day,
        "depletion_mm": depletions[MIDDLE],
        "raw_mm": raw[MIDDLE],
        "taw_mm": limits[MIDDLE][0],
        "dry_mm": depletions[DRY],
        "dry_raw_mm": raw[DRY],
        "wet_mm": depletions[WET],
        "wet_raw_mm": raw[WET],
        "used_mm": steps[MIDDLE].etc_adjusted_mm,
        "ks": steps[MIDDLE].ks,
        "drained_mm": steps[MIDDLE].drainage_mm,
        "surely_drained_mm": steps[DRY].drainage_mm,
    }


def last_watering(context: Context) -> Event | None:
    """The last watering of the bed that lies behind us."""
    events = context.by_kind.get("water", [])
    at = len(events) - 1
    while at >= 0 and events[at]["day"] > context.today:
        at -= 1
    return events[at] if at >= 0 else None
