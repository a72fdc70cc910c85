"""What went wrong, on purpose: each of these makes one finding that the dashboard must show."""

from typing import Any

from seed_demo.draft import HELPER, QUIET, Ref, Season
from seed_demo.place import BEAN, CUCUMBER, EARLY, KALE, LETTUCE, MAIN, PLUM

HEAVY_PLANT = 7
SOAPED = (6, 7, 8)
PLANNED = "Peppers for next month"


def write_troubles(season: Season) -> None:
    """One function per trouble, so that a reader finds what made a finding."""
    _aphids_and_soap(season)
    _blossom_ends(season)
    _wash_on_early_peppers(season)
    _dust_on_cucumbers(season)
    _wash_without_label_days(season)
    _peppers_after_tomatoes(season)
    _slips(season)
    _traps_and_notes(season)


def _aphids_and_soap(season: Season) -> None:
    where: dict[str, Any] = {"bed": MAIN.bed, "planting": MAIN.name}
    for plant in range(1, 13):
        count = 140 if plant == HEAVY_PLANT else season.chance.randrange(3)
        grade = "many" if plant == HEAVY_PLANT else "few" if count else "none"
        season.tap(
            season.at(4, 10, 2 * plant),
            "scout",
            {"organism": "aphids", "count": count, "grade": grade},
            plants=(plant,),
            **where,
        )
    season.tap(
        season.at(4, 10, 40),
        "treat",
        {"method": "water_jet", "target": "aphids"},
        plants=(HEAVY_PLANT,),
        **where,
    )
    season.tap(
        season.at(3, 19, 10),
        "treat",
        {
            "method": "home_mixture",
            "mixture": "soap",
            "product": "garden soap concentrate",
            "target": "aphids",
            "total_amount": 2,
            "total_unit": "L",
        },
        plants=SOAPED,
        **where,
    )


def _blossom_ends(season: Season) -> None:
    for days, plant, count in ((11, 3, 2), (9, 5, 3), (7, 11, 1), (5, 3, 2), (3, 8, 4), (2, 14, 2)):
        season.tap(
            season.at(days, 11, 15),
            "discard",
            {"count": count, "mass_g": 55 * count, "cause": "blossom_end_rot", "route": "compost"},
            bed=PLUM.bed,
            planting=PLUM.name,
            plants=(plant,),
            phone=HELPER,
        )


def _product(name: str, number: str, ingredient: str, target: str, **more: Any) -> dict[str, Any]:
    return {
        "method": "product",
        "product": name,
        "registration_number": number,
        "active_ingredient": ingredient,
        "target": target,
        "operator": "Joss",
        **more,
    }


def _wash_on_early_peppers(season: Season) -> None:
    where: dict[str, Any] = {"bed": EARLY.bed, "planting": EARLY.name}
    wash = _product(
        "demo leaf-spot wash",
        "DEMO-0001",
        "invented ingredient one",
        "leaf spot",
        total_amount=3,
        total_unit="L",
        area_m2=9.6,
        days_to_harvest=7,
        hours_to_reentry=4,
    )
    season.tap(season.at(4, 19, 30), "treat", wash, phone=HELPER, **where)
    season.tap(
        season.at(2, 8, 20),
        "pick",
        {"count": 9, "mass_g": 540, "grade": "first"},
        plants=(4, 5),
        label="picked too soon",
        **where,
    )


def _dust_on_cucumbers(season: Season) -> None:
    dust = _product(
        "demo mildew dust",
        "DEMO-0002",
        "invented ingredient two",
        "mildew",
        total_amount=60,
        total_unit="g",
        area_m2=4.8,
        days_to_harvest=2,
        hours_to_reentry=48,
    )
    season.tap(
        season.at(1, 19), "treat", dust, bed=CUCUMBER.bed, planting=CUCUMBER.name, phone=HELPER
    )


def _wash_without_label_days(season: Season) -> None:
    wash = _product(
        "demo caterpillar wash",
        "DEMO-0003",
        "invented ingredient three",
        "caterpillars",
        total_amount=1.5,
        total_unit="L",
        area_m2=5.4,
    )
    season.tap(season.at(5, 19), "treat", wash, bed=KALE.bed, planting=KALE.name, phone=HELPER)


def _peppers_after_tomatoes(season: Season) -> None:
    plan = {
        "crop": "pepper",
        "variety": "short red sweet",
        "plants": 12,
        "rows": 2,
        "planned_on": season.date_text(-30),
    }
    season.tap(
        season.at(36, 20, 30), "planting", plan, bed="Back bed", planting=PLANNED, label=PLANNED
    )


def _slips(season: Season) -> None:
    """One figure typed with a nought too many and mended, one pick logged twice and taken back."""
    where: dict[str, Any] = {"bed": BEAN.bed}
    wrong, right = {"volume_l": 800, "method": "drip"}, {"volume_l": 80, "method": "drip"}
    season.tap(season.at(10, 7, 50), "water", wrong, phone=HELPER, label="slip", **where)
    restated = {"entry": Ref("slip"), "kind": "water", "restated": right}
    season.tap(season.at(10, 7, 50), "correct", restated, phone=HELPER, **where)
    twice: dict[str, Any] = {"bed": LETTUCE.bed, "planting": LETTUCE.name}
    season.tap(season.at(6, 9, 31), "pick", {"mass_g": 1050}, phone=HELPER, label="twice", **twice)
    reason = {"entry": Ref("twice"), "reason": "Marit had logged it already"}
    season.tap(season.at(6, 9, 40), "void", reason, phone=HELPER)


def _traps_and_notes(season: Season) -> None:
    season.tap(
        season.at(33, 18),
        "trap_set",
        {"trap": "T1", "trap_kind": "pheromone", "organism": "cabbage moths"},
        bed=KALE.bed,
        phone=QUIET,
    )
    for days, count in ((26, 3), (19, 7), (12, 11)):
        season.tap(
            season.at(days, 18),
            "trap_read",
            {"trap": "T1", "organism": "cabbage moths", "count": count, "nights": 7},
            bed=KALE.bed,
            phone=QUIET,
        )
    season.tap(
        season.at(8, 16), "note", {"text": "The tablet stays in the potting shed."}, phone=QUIET
    )
    season.tap(
        season.at(2, 20, 40),
        "note",
        {"text": "Wall bed cracks when it dries. Lay a drip line there?"},
        bed=PLUM.bed,
    )
