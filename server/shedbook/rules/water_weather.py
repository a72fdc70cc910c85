"""The weather that a water account is kept from, and what of it is not known."""

from collections.abc import Sequence

from shedbook.rules.daily import Day, daily_air, daily_rain
from shedbook.rules.match import Context


class Weather:
    """Air and rain from a first day to yesterday, and the rain of today so far."""

    def __init__(self, context: Context, first: int) -> None:
        yesterday = context.today - 1
        self.first = first
        self.air: Sequence[Day] = daily_air(context, None, first, yesterday)
        self.rain = daily_rain(context, first, context.today)
        self.last_missing: int | None = None
        for air, rain in zip(self.air, self.rain, strict=False):
            if air.how == "missing" or rain is None:
                self.last_missing = air.day

    def gap(self) -> tuple[str, int]:
        """What is not known of yesterday, and the first of the days in a row without it."""
        what = "temperature" if self.air[-1].how == "missing" else "rain"
        at = len(self.air) - 1
        while at > 0 and self._is_missing(what, at - 1):
            at -= 1
        return what, self.first + at

    def _is_missing(self, what: str, at: int) -> bool:
        return self.rain[at] is None if what == "rain" else self.air[at].how == "missing"
