"""The next days of a bed with neither rain nor water, each as thirsty as the last seven."""

from shedbook.agronomy.soil_water import readily_available_water, water_day
from shedbook.rules.water_account import MIDDLE, WEEK_DAYS, Account


def day_reached(account: Account) -> int | None:
    """The day on which all will have gone that may go, None if not within seven days."""
    for day, depletion, may_go in _dry_days(account, WEEK_DAYS):
        if depletion >= may_go:
            return day
    return None


def depletion_after(account: Account, days: int) -> float:
    """How much will have gone at the end of so many days, today the first of them."""
    return _dry_days(account, days)[-1][1]


def _dry_days(account: Account, days: int) -> list[tuple[int, float, float]]:
    """Each day with the depletion at its end and what may go."""
    keeper, loss = account.keeper, account.mean_et0_mm
    today, depletion = account.lines[-1]["day"], account.lines[-1]["depletion_mm"]
    found = []
    for day in range(today, today + days):
        demand = keeper.demand(day)
        taw, p = keeper.limits(demand, (loss, loss, loss))[MIDDLE]
        thirst = keeper.thirst(demand, loss)
        depletion = water_day(min(depletion, taw), taw, p, 0, 0, thirst).depletion_mm
        found.append((day, depletion, readily_available_water(taw, p)))
    return found
