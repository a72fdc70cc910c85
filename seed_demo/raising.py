"""From the seed to the bed: sowing, emergence, thinning, potting on, hardening, planting out."""

from typing import Any

from seed_demo.draft import HELPER, LEAD, Season
from seed_demo.place import COLOURS, CROPS, Crop

_STAKED = frozenset({"tomato", "pepper", "bean", "cucumber"})


def write_raising(season: Season) -> None:
    """Every planting of this season up to the day when it stands in its bed, mulched and tied."""
    for crop in CROPS:
        _make_planting(season, crop)
        if crop.tray_days:
            _raise_in_tray(season, crop)
        else:
            _sow_in_place(season, crop)
        _settle_in(season, crop)


def _make_planting(season: Season, crop: Crop) -> None:
    sown = crop.out + crop.tray_days
    fields: dict[str, Any] = {
        "crop": crop.crop,
        "variety": crop.variety,
        "plants": crop.count,
        "rows": crop.rows,
        "in_row_m": crop.in_row_m,
        "between_rows_m": crop.between_rows_m,
        "planned_on": season.date_text(crop.out),
        "days_to_maturity": crop.days_to_maturity,
        "seed_lot": f"{crop.crop}-{crop.count:02d}",
    }
    if crop.crop in COLOURS:
        fields["ripening_colours"] = COLOURS[crop.crop]
    bed = None if crop.tray_days else crop.bed
    season.tap(
        season.at(sown, 8, 30), "planting", fields, bed=bed, planting=crop.name, label=crop.name
    )


def _raise_in_tray(season: Season, crop: Crop) -> None:
    sown, name = crop.out + crop.tray_days, crop.name
    cells = crop.count + crop.count // 3 + 2
    up = max(4, crop.tray_days // 6)
    came = cells - season.chance.randrange(1, 3)
    season.tap(
        season.at(sown, 9), "sow", {"place": "tray", "seeds": cells, "depth_mm": 6}, planting=name
    )
    season.tap(season.at(sown - up, 8), "emerge", {"count": came - 2}, planting=name, phone=HELPER)
    season.tap(season.at(sown - up - 3, 8), "emerge", {"count": came}, planting=name)
    season.tap(season.at(sown - up - 6, 9), "thin", {"kept": came - 1}, planting=name)
    if crop.tray_days > 40:
        season.tap(season.at(sown - 24, 10), "pot_on", {"container_volume_l": 0.5}, planting=name)
    for nth in range(7):
        hours = {"hours_outside": 1 + nth}
        who = HELPER if nth % 3 else LEAD
        season.tap(season.at(crop.out + 8 - nth, 17), "harden", hours, planting=name, phone=who)
    season.tap(
        season.at(crop.out, 18, 15), "transplant", {}, bed=crop.bed, planting=name, phone=LEAD
    )


def _sow_in_place(season: Season, crop: Crop) -> None:
    where: dict[str, Any] = {"bed": crop.bed, "planting": crop.name}
    seeds = crop.count * 2
    season.tap(
        season.at(crop.out, 10), "sow", {"place": "direct", "seeds": seeds, "depth_mm": 20}, **where
    )
    season.tap(season.at(crop.out - 9, 8), "emerge", {"count": seeds - 5}, **where)
    season.tap(season.at(crop.out - 20, 9), "thin", {"kept": crop.count}, **where)


def _settle_in(season: Season, crop: Crop) -> None:
    where: dict[str, Any] = {"bed": crop.bed, "planting": crop.name}
    season.tap(
        season.at(crop.out - 16, 17, 30),
        "mulch",
        {"material": "straw", "depth_mm": 50},
        phone=HELPER,
        **where,
    )
    if crop.crop in _STAKED:
        for row in range(1, crop.rows + 1):
            season.tap(
                season.at(crop.out - 12, 18, 5 * row),
                "stake",
                {"support": "string"},
                plants=crop.row(row),
                **where,
            )
    for days in range(14, crop.out, 12):
        season.tap(
            season.at(crop.out - days, 9, 40), "weed", {"tool": "hoe"}, phone=HELPER, **where
        )
