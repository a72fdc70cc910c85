"""What a check says, in plain English that names what would be right.

The phone composes the same texts from the same keys (`check.<key>` in client/words/en.json); a
test holds the two to each other, so a refusal reads alike in the garden and at the shed.
"""

from typing import Any

TEXTS = {
    "needed": "This is needed.",
    "not_empty": "Must not be empty. Leave it out instead.",
    "not_a_number": "Must be a number.",
    "not_whole": "Must be a whole number.",
    "not_a_text": "Must be a text.",
    "not_yes_or_no": "Must be yes or no (true or false).",
    "not_a_map": "Must be a set of names with values.",
    "not_a_list": "Must be a list.",
    "between": "Must be between {min} and {max}.",
    "between_unit": "Must be between {min} and {max} {unit}.",
    "text_length": "Must be 1 to {max} characters long.",
    "not_a_choice": "Must be one of: {choices}.",
    "not_a_date": "Must be a date like 2026-06-01.",
    "not_a_moment": "Must be a moment like 2026-06-01T07:40:00+02:00.",
    "not_a_month_day": "Must be a month and day like 05-12.",
    "not_an_id": "Must be an id like 019dd2b0-7a41-7c3e-9f60-5b1e0c2d4a77, in lower case.",
    "not_a_sha256": "Must be a SHA-256: 64 hexadecimal digits in lower case.",
    "not_ids": "Must be a list of ids, each once.",
    "not_number_map": "Must be a set of names, each with a number.",
    "not_object_map": "Must be a set of short names (a-z, 0-9, _), each with its own fields.",
    "not_numbers": "Must be a list of numbers, none below 0.",
    "not_names": "Must be a list of short names (a-z, 0-9, _), each once.",
    "unusual_above": "More than {limit} is unusual. Is it right?",
    "unusual_above_unit": "More than {limit} {unit} is unusual. Is it right?",
    "unusual_below": "Less than {limit} is unusual. Is it right?",
    "unusual_below_unit": "Less than {limit} {unit} is unusual. Is it right?",
    "at_least_one.water": "Write down litres, or millimetres, or minutes.",
    "at_least_one.scout": "Write down how many plants were affected, or a count, or a grade.",
    "at_least_one.pick": "Write down how many fruits, or their weight.",
    "at_least_one.discard": "Write down how many fruits, or their weight.",
    "at_least_one.store": "Write down a count, a weight, a temperature or a humidity.",
    "at_least_one.stage": "Write down a growth stage, the leaves, first bloom or first set.",
    "at_least_one.leaf_wetness": "Write down whether leaves were wet, or for how many hours.",
    "at_least_one.air_temperature": "Write down the lowest or the highest temperature.",
    "at_least_one.day_weather": "Write down at least one figure of the station.",
    "not_above.plants_affected": "Must not be more than the plants looked at.",
    "not_above.low_c": "Must not be above the highest temperature.",
    "not_above.humidity_low_percent": "Must not be above the highest humidity.",
    "not_above.trial_germinated": "Must not be more than the seeds of the trial.",
    "not_above.wilting_point_percent": "Must not be above the field capacity.",
    "not_above.started_at": "Must not be after the end.",
    "needs.total_unit": "The unit of the total amount is needed.",
    "needs.wind_m_s": "The wind is needed beside the height at which it was measured.",
    "needs.trial_seeds": "How many seeds the trial had is needed beside those that came up.",
    "needs.plants_looked": "How many plants were looked at is needed beside the affected ones.",
    "needs.longitude_deg": "The longitude is needed beside the latitude.",
    "needs.latitude_deg": "The latitude is needed beside the longitude.",
    "subject_needed.bed": "Choose a bed.",
    "subject_needed.planting": "Choose a planting.",
    "subject_needed.plants": "Choose the plants.",
    "subject_needed.place": "Choose a bed or a planting.",
    "subject_unwanted": "Must be left out for this kind.",
    "plants_alone": "Plants are named together with their planting.",
    "not_plants": "Must be a list of plant numbers from 1, each once.",
    "not_a_kind": "Must be a kind written like water or pot_on.",
    "unknown_zone": "Must be the name of a time zone that the shed knows, like Europe/Madrid.",
    "not_a_root": "Must be the kind of a first entry; corrections and voids are not corrected.",
    "no_answer": "Must name the finding that is decided against.",
    "not_subjects": "Must be a set of bed, planting and plants.",
    "not_a_clock": "Must be 16 hexadecimal digits in lower case.",
    "not_a_count": "Must be a whole number from 1.",
    "not_an_entry": "Must be an entry: a set of names with values.",
    "forbidden_number": "Must be a finite number that 64-bit arithmetic keeps exactly.",
    "forbidden_text": "Must not hold the character U+0000 or half of a surrogate pair.",
    "too_deep": "Must not be nested more than {max} deep.",
    "long_text": "Must be at most {max} characters long.",
    "not_json": "Must be text, a number, yes or no, a list or a set of names with values.",
    "unknown_kind": "This version does not know the kind yet; it is kept as it is.",
    "newer_version": "Written by a newer version; it is kept and waits for an update.",
    "in_the_future": "Lies more than a day ahead. Is the clock right?",
    "long_ago": "Lies before the year 2000. Is the date right?",
}


def number_text(value: float) -> str:
    """A bound as a person would type it: 5 rather than 5.0."""
    return str(int(value)) if value == int(value) else str(value)


def say(key: str, **values: Any) -> str:
    """The text of a check with its values filled in."""
    shown = {
        name: number_text(value) if isinstance(value, int | float) else value
        for name, value in values.items()
    }
    return TEXTS[key].format(**shown)
