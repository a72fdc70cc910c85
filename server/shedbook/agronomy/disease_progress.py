"""How much disease there was over a season, as one number."""

import itertools
from collections.abc import Sequence

from shedbook.agronomy.errors import NotEnoughData, OutOfRange


def area_under_progress(days: Sequence[float], shares: Sequence[float]) -> float:
    """Area under the disease progress curve, by trapezoids between the days of looking.

    Parameters
    ----------
    days : sequence of float
        When it was looked. [day] two or more, rising.
    shares : sequence of float
        Share affected on each of those days, in any one unit such as percent. [-] 0 or more.

    Returns
    -------
    float, scalar
        Unit of the shares times days. [day]

    Raises
    ------
    NotEnoughData
        Fewer than two days, or not a share for each day.
    OutOfRange
        Days that do not rise, or a share below 0.

    Source
    ------
    campbell1990, chapter 8; agricolae
    """
    if len(days) < 2 or len(days) != len(shares):
        raise NotEnoughData("days", len(days), "two or more, with a share for each")
    if min(shares) < 0:
        raise OutOfRange("shares", min(shares), "0 or more")
    area = 0.0
    seen = zip(days, shares, strict=True)
    for (day, share), (next_day, next_share) in itertools.pairwise(seen):
        if not next_day > day:
            raise OutOfRange("days", next_day, "later than the day before it")
        area += (next_day - day) * (share + next_share) / 2
    return area


def relative_area(days: Sequence[float], shares: Sequence[float], largest: float) -> float:
    """The area as a share of what it would be with everything affected from the first day on.

    Parameters
    ----------
    days : sequence of float
        When it was looked. [day] two or more, rising.
    shares : sequence of float
        Share affected on each of those days. [-] 0 to `largest`.
    largest : float, scalar
        What means all in the unit of the shares: 1, or 100 for percent. [-] above 0.

    Returns
    -------
    float, scalar
        [-] 0 to 1.

    Raises
    ------
    NotEnoughData
        Fewer than two days, or not a share for each day.
    OutOfRange
        Days that do not rise, or a share outside its span.

    Source
    ------
    campbell1990, chapter 8; agricolae
    """
    if not largest > 0:
        raise OutOfRange("largest", largest, "above 0")
    if shares and max(shares) > largest:
        raise OutOfRange("shares", max(shares), "at most what means all")
    area = area_under_progress(days, shares)
    return area / ((days[-1] - days[0]) * largest)
