"""How tellings become a garden, its beds and plantings: the twin of client/log/fold.js."""

from collections.abc import Iterable

from shedbook.log.moment import parse_day
from shedbook.log.telling import Json, Telling

# fmt: off
GARDEN_FIELDS = (
    "name", "latitude_deg", "longitude_deg", "elevation_m", "zone", "last_frost", "first_frost",
    "region", "walk_order", "stale_after_hours", "thresholds", "crops",
)
BED_FIELDS = (
    "name", "type", "length_m", "width_m", "volume_l", "drainage", "sun_hours", "water_method",
    "flow_l_per_min", "wetted_percent", "soil_texture", "field_capacity_percent",
    "wilting_point_percent", "drains", "across_m", "edge_m", "near_edge", "beside", "visit_last",
    "retired_on",
)
PLANTING_FIELDS = (
    "crop", "variety", "seed_lot", "days_to_maturity", "ripening_colours", "resistances",
    "plants", "rows", "in_row_m", "between_rows_m", "pattern", "degree_days_to_pick",
    "planned_on", "ended_on",
)
# fmt: on
PLANT_FIELDS = ("label", "note")

DAY_NAMES = {
    "sow": "sown_day",
    "emerge": "emerged_day",
    "transplant": "transplanted_day",
    "pick": "first_pick_day",
}


def in_order(tellings: Iterable[Telling]) -> list[Telling]:
    """Tellings by their roots' stamps."""
    return sorted(tellings, key=lambda telling: (telling.order, telling.id))


def counted(tellings: Iterable[Telling], making_id: str = "") -> list[Telling]:
    """Those not taken back; a voided making hides its subject, but still says what it was."""
    return [telling for telling in tellings if not telling.voided or telling.id == making_id]


def fold_fields(tellings: Iterable[Telling], names: tuple[str, ...]) -> Json:
    """Each field as it was written last; null clears it."""
    fields: Json = {}
    for telling in in_order(tellings):
        for name in names:
            if name in telling.details:
                fields[name] = telling.details[name]
    return {name: value for name, value in fields.items() if value is not None}


def is_hidden(subject_id: str, tellings: Iterable[Telling]) -> bool:
    """A bed or planting whose making was voided, or of which nothing else stands, is hidden."""
    hidden = True
    for telling in tellings:
        if telling.voided and telling.id == subject_id:
            return True
        if not telling.voided:
            hidden = False
    return hidden


def fold_bed(bed_id: str, tellings: list[Telling]) -> Json:
    """A bed from all that was written about it."""
    bed = fold_fields(counted(tellings, bed_id), BED_FIELDS)
    return {"id": bed_id, "hidden": is_hidden(bed_id, tellings)} | bed


def fold_planting(planting_id: str, tellings: list[Telling], events: list[Json]) -> Json:
    """A planting from what was written about it and its plants, and from its events."""
    makings = [telling for telling in tellings if telling.kind == "planting"]
    planting: Json = {"id": planting_id, "hidden": is_hidden(planting_id, makings)}
    makings = counted(makings, planting_id)
    planting |= fold_fields(makings, PLANTING_FIELDS)
    planting |= _places(makings, events)
    labels = _labels([telling for telling in tellings if telling.kind == "plant"])
    if labels:
        planting["labels"] = labels
    _set_days(planting, events)
    _set_removed(planting, events)
    if "ended_on" in planting:
        planting["until_day"] = parse_day(planting["ended_on"])
    is_there = "from_day" in planting and "until_day" not in planting
    planting["standing"] = is_there and not planting["hidden"]
    return planting


def live_plants(planting: Json) -> list[int]:
    """The ordinals of the plants that were not removed; none when their number is not known."""
    count = int(planting.get("plants", 0))
    return [plant for plant in range(1, count + 1) if str(plant) not in planting["removed"]]


def was_there(planting: Json, bed_id: str, day: int) -> bool:
    """Whether the planting may have stood in a bed on a day; in doubt it has."""
    left = planting.get("left", {}).get(bed_id)
    return bed_id in planting.get("beds", []) and (left is None or day <= left)


def _places(makings: list[Telling], events: list[Json]) -> Json:
    """The bed written last, by a planting entry or by planting out, and all that were written.

    `left` has the day on which a planting is known to have left a bed. What was sprayed on it there
    stays on it, so a bed that nobody says it left is one that it may still stand in.
    """
    written = [
        (telling.order, telling.id, telling.subjects["bed"], telling.day)
        for telling in makings
        if "bed" in telling.subjects
    ]
    written += [
        (event["order"], event["id"], event["bed"], event["day"])
        for event in events
        if event["kind"] == "transplant" and "bed" in event
    ]
    if not written:
        return {}
    bed = max(written)[2]
    places: Json = {"bed": bed, "beds": sorted({one[2] for one in written})}
    left = {}
    for other in places["beds"]:
        came = max(day for _, _, there, day in written if there == other)
        away = [day for _, _, there, day in written if there != other and day >= came]
        if other != bed and away:
            left[other] = min(away)
    return places | ({"left": left} if left else {})


def _labels(tellings: list[Telling]) -> Json:
    by_plant: dict[int, list[Telling]] = {}
    for telling in tellings:
        for plant in telling.subjects.get("plants", []):
            by_plant.setdefault(int(plant), []).append(telling)
    labels: Json = {}
    for plant in sorted(by_plant):
        fields = fold_fields(counted(by_plant[plant]), PLANT_FIELDS)
        if fields:
            labels[str(plant)] = fields
    return labels


def _set_days(planting: Json, events: list[Json]) -> None:
    for event in events:
        name = DAY_NAMES.get(event["kind"])
        if name is not None:
            _set_earliest(planting, name, event["day"])
        is_direct = event["kind"] == "sow" and event["details"].get("place") == "direct"
        if event["kind"] == "transplant" or is_direct:
            _set_earliest(planting, "from_day", event["day"])


def _set_removed(planting: Json, events: list[Json]) -> None:
    """Each removed plant with its first day of removal, and the day when the last one went."""
    count = int(planting.get("plants", 0))
    removed: dict[int, int] = {}
    for event in events:
        if event["kind"] != "remove_plant":
            continue
        if "plants" not in event and count == 0:
            _set_earliest(planting, "until_day", event["day"])
        for plant in event.get("plants", range(1, count + 1)):
            if plant not in removed or event["day"] < removed[plant]:
                removed[plant] = event["day"]
    planting["removed"] = {str(plant): removed[plant] for plant in sorted(removed)}
    gone = [removed[plant] for plant in range(1, count + 1) if plant in removed]
    if count > 0 and len(gone) == count:
        planting["until_day"] = max(gone)


def _set_earliest(planting: Json, name: str, day: int) -> None:
    if name not in planting or day < planting[name]:
        planting[name] = day
