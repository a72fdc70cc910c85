"""Looking at one plant after another, and stopping as soon as the answer is plain.

Wald's plan: two parallel lines in the plane of plants looked at and plants affected. Above the
upper one the share is taken to be above the threshold, below the lower one below it, and between
them one looks on, up to an agreed number. Twin: client/agronomy/sequential.js.
"""

import math
from typing import NamedTuple

from shedbook.agronomy.elementary import ln
from shedbook.agronomy.errors import NotEnoughData, OutOfRange


class StopLines(NamedTuple):
    """Affected plants at which one may stop: `slope` times plants looked at, plus a constant."""

    slope: float
    low: float
    high: float


def wald_lines(p0: float, p1: float, alpha: float, beta: float) -> StopLines:
    """The two stop lines between a share that is borne and one that is not.

    Parameters
    ----------
    p0 : float, scalar
        Share affected that calls for nothing. [-] above 0, below `p1`.
    p1 : float, scalar
        Share affected that calls for action. [-] above `p0`, below 1.
    alpha : float, scalar
        Risk of acting at `p0`. [-] above 0, below 0.5.
    beta : float, scalar
        Risk of doing nothing at `p1`. [-] above 0, below 0.5.

    Returns
    -------
    StopLines
        Slope [-], and where the lower and the upper line begin [plants].

    Raises
    ------
    OutOfRange
        The shares are not in order, or a risk is not a small one.

    Source
    ------
    wald1947, section 5.3
    """
    if not 0 < p0 < 1:
        raise OutOfRange("p0", p0, "between 0 and 1")
    if not p0 < p1 < 1:
        raise OutOfRange("p1", p1, "above p0 and below 1")
    if not 0 < alpha < 0.5:
        raise OutOfRange("alpha", alpha, "between 0 and 0.5")
    if not 0 < beta < 0.5:
        raise OutOfRange("beta", beta, "between 0 and 0.5")
    odds = ln(p1 * (1 - p0) / (p0 * (1 - p1)))
    slope = ln((1 - p0) / (1 - p1)) / odds
    low = ln(beta / (1 - alpha)) / odds
    high = ln((1 - beta) / alpha) / odds
    return StopLines(slope, low, high)


def lines_about(threshold: float, band: float, alpha: float, beta: float) -> StopLines:
    """The stop lines about a threshold, with a band on both sides where either answer will do.

    Parameters
    ----------
    threshold : float, scalar
        Share affected at which to act. [-] above 0, below 1.
    band : float, scalar
        Half width of the band, as a share of the threshold or of what is left to 1, whichever is
        less. [-] above 0, below 1.
    alpha : float, scalar
        Risk of acting below the band. [-] above 0, below 0.5.
    beta : float, scalar
        Risk of doing nothing above the band. [-] above 0, below 0.5.

    Returns
    -------
    StopLines
        Slope [-], and where the lower and the upper line begin [plants].

    Raises
    ------
    OutOfRange
        The threshold, the band or a risk is outside its span.

    Source
    ------
    binns2000, chapter 5; wald1947, section 5.3
    """
    if not 0 < threshold < 1:
        raise OutOfRange("threshold", threshold, "between 0 and 1")
    if not 0 < band < 1:
        raise OutOfRange("band", band, "between 0 and 1")
    half = band * (threshold if threshold < 0.5 else 1 - threshold)
    return wald_lines(threshold - half, threshold + half, alpha, beta)


def decision(
    affected: float, looked: float, threshold: float, lines: StopLines, most_looked: float
) -> str:
    """Whether the share is above or below the threshold, or not decided yet.

    Parameters
    ----------
    affected : float, scalar
        Plants found affected. [plants] 0 to `looked`.
    looked : float, scalar
        Plants looked at. [plants] 1 or more.
    threshold : float, scalar
        Share affected at which to act. [-] above 0, below 1.
    lines : StopLines
        The stop lines of the plan.
    most_looked : float, scalar
        Plants after which the share found decides alone. [plants] 1 or more.

    Returns
    -------
    str
        "above", "below" or "not_decided".

    Raises
    ------
    NotEnoughData
        Nothing was looked at.
    OutOfRange
        More affected than looked at, or fewer than none.

    Source
    ------
    wald1947, section 5.3; binns2000, chapter 5
    """
    if not looked >= 1:
        raise NotEnoughData("looked", looked, "1 or more")
    if not 0 <= affected <= looked:
        raise OutOfRange("affected", affected, "between 0 and the number looked at")
    if looked >= most_looked:
        return "above" if affected / looked >= threshold else "below"
    if affected >= lines.slope * looked + lines.high:
        return "above"
    if affected <= lines.slope * looked + lines.low:
        return "below"
    return "not_decided"


def clean_until_below(affected: float, looked: float, lines: StopLines) -> int:
    """How many more plants without a find would bring the count to the lower line.

    Parameters
    ----------
    affected : float, scalar
        Plants found affected. [plants] 0 or more.
    looked : float, scalar
        Plants looked at. [plants] 0 or more.
    lines : StopLines
        The stop lines of the plan.

    Returns
    -------
    int, scalar
        [plants] 0 when the count lies there already.

    Raises
    ------
    OutOfRange
        A count below 0.

    Source
    ------
    wald1947, section 5.3
    """
    if not affected >= 0:
        raise OutOfRange("affected", affected, "0 or more")
    if not looked >= 0:
        raise OutOfRange("looked", looked, "0 or more")
    wanted = -math.floor((lines.low - affected) / lines.slope)
    more = wanted - math.floor(looked)
    return more if more > 0 else 0
