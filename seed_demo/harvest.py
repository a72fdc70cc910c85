"""What came off the plants: picks by the plant and by the bed, discards, lots in store."""

from seed_demo.draft import HELPER, LEAD, Season
from seed_demo.place import BEAN, CHERRY, CUCUMBER, EARLY, KALE, LETTUCE, PLUM, SQUASH, Crop

_FRUIT_G = {"pepper": 95, "summer_squash": 240, "cucumber": 310}
# The early peppers were sprayed four days ago: the regular picking stops there.
_LAST_EARLY_PICK = 5


def write_harvest(season: Season) -> None:
    """Regular picking; what was picked against a label lies in troubles.py."""
    _pick_by_plant(season, EARLY, first=19, last=_LAST_EARLY_PICK, every=2)
    _pick_by_plant(season, SQUASH, first=12, last=1, every=2)
    _pick_by_plant(season, CUCUMBER, first=8, last=3, every=2)
    _pick_whole(season, LETTUCE, first=14, every=4, mass_g=1100)
    _pick_whole(season, BEAN, first=9, every=3, mass_g=900)
    _pick_whole(season, PLUM, first=5, every=3, mass_g=1400)
    _pick_whole(season, CHERRY, first=3, every=2, mass_g=260)
    # Before the wash with the unknown label, five days ago.
    for days in (16, 12, 8):
        season.tap(
            season.at(days, 9, 20),
            "pick",
            {"mass_g": season.near(700, 0.2, 10)},
            bed=KALE.bed,
            planting=KALE.name,
        )
    _store(season)


def _pick_by_plant(season: Season, crop: Crop, first: int, last: int, every: int) -> None:
    chance = season.chance
    for days in range(first, last - 1, -every):
        for plant in range(1, crop.count + 1):
            if chance.random() < 0.25:
                continue
            count = chance.randrange(1, 6 if crop.crop == "pepper" else 3)
            picked = {
                "count": count,
                "mass_g": season.near(count * _FRUIT_G[crop.crop], 0.15, 1),
                "grade": "first" if chance.random() < 0.85 else "second",
            }
            season.tap(
                season.at(days, 8 + plant // 30, (10 + plant * 2) % 60),
                "pick",
                picked,
                bed=crop.bed,
                planting=crop.name,
                plants=(plant,),
                phone=LEAD if plant <= crop.count // 2 else HELPER,
            )


def _pick_whole(season: Season, crop: Crop, first: int, every: int, mass_g: float) -> None:
    for days in range(first, 0, -every):
        season.tap(
            season.at(days, 9, season.chance.randrange(60)),
            "pick",
            {"mass_g": season.near(mass_g, 0.25, 10), "grade": "first"},
            bed=crop.bed,
            planting=crop.name,
        )


def _store(season: Season) -> None:
    lots = ((14, EARLY, 3200.0), (9, EARLY, 4100.0), (6, BEAN, 1200.0), (4, PLUM, 1300.0))
    for days, crop, mass in lots:
        season.tap(
            season.at(days, 12, 30),
            "store",
            {
                "place": "cellar",
                "mass_g": mass,
                "temperature_c": 9,
                "humidity_percent": 92,
                "note": f"Lot {crop.crop} {season.date_text(days)}",
            },
            bed=crop.bed,
            planting=crop.name,
        )
