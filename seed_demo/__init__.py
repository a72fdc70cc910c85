"""A season in an invented garden, written into a shed by the way that every phone takes."""

from datetime import date

from seed_demo.ahead import write_ahead
from seed_demo.care import write_care
from seed_demo.draft import Season
from seed_demo.ground import write_ground
from seed_demo.harvest import write_harvest
from seed_demo.looking import write_looking
from seed_demo.past import write_past
from seed_demo.raising import write_raising
from seed_demo.troubles import write_troubles
from seed_demo.weather import write_weather


def draft_season(today: date, zone: str) -> Season:
    """The whole story up to the evening before `today`; the same for the same day."""
    season = Season(today)
    write_past(season, zone)
    write_raising(season)
    write_weather(season)
    write_care(season)
    write_harvest(season)
    write_troubles(season)
    write_looking(season)
    write_ground(season)
    write_ahead(season)
    return season
