"""Whether counts lie evenly, at random or in clumps."""

import math
from collections.abc import Sequence

from shedbook.agronomy.errors import NotEnoughData, OutOfRange

# Where the tail of the chi-square curve changes from one expansion to the other, and how close
# they come before they stop.
_SMALLEST = 1e-300
_CLOSE = 1e-15
_MOST_TERMS = 1000


def mean_and_variance(counts: Sequence[float]) -> tuple[float, float]:
    """Mean and variance of counts, the variance with one less than their number below the line.

    Parameters
    ----------
    counts : sequence of float
        Found on each unit. [-] two or more numbers, none below 0.

    Returns
    -------
    tuple of float, two scalars
        Mean and variance. [-]

    Raises
    ------
    NotEnoughData
        Fewer than two counts.
    OutOfRange
        A count below 0.

    Source
    ------
    southwood1978, chapter 2
    """
    if len(counts) < 2:
        raise NotEnoughData("counts", len(counts), "two or more")
    if min(counts) < 0:
        raise OutOfRange("counts", min(counts), "0 or more")
    mean = math.fsum(counts) / len(counts)
    squares = math.fsum((count - mean) * (count - mean) for count in counts)
    return mean, squares / (len(counts) - 1)


def variance_to_mean(counts: Sequence[float]) -> float:
    """Index of dispersion: near 1 at random, below it evenly spread, above it in clumps.

    Parameters
    ----------
    counts : sequence of float
        Found on each unit. [-] two or more numbers, not all 0.

    Returns
    -------
    float, scalar
        [-]

    Raises
    ------
    NotEnoughData
        Fewer than two counts, or nothing found at all.
    OutOfRange
        A count below 0.

    Source
    ------
    southwood1978, chapter 2
    """
    mean, variance = mean_and_variance(counts)
    if mean == 0:
        raise NotEnoughData("counts", 0, "one or more found")
    return variance / mean


def index_of_cluster_size(ratio: float) -> float:
    """How many more one finds beside one than chance would put there.

    Parameters
    ----------
    ratio : float, scalar
        Variance to mean. [-] 0 or more.

    Returns
    -------
    float, scalar
        [-] -1 or more.

    Raises
    ------
    OutOfRange
        A ratio below 0.

    Source
    ------
    southwood1978, chapter 2
    """
    if not ratio >= 0:
        raise OutOfRange("ratio", ratio, "0 or more")
    return ratio - 1


def dispersion_chi_square(ratio: float, units: int) -> float:
    """What the index of dispersion is tested by, with one degree of freedom less than units.

    Parameters
    ----------
    ratio : float, scalar
        Variance to mean. [-] 0 or more.
    units : int, scalar
        Units counted. [-] two or more.

    Returns
    -------
    float, scalar
        [-]

    Raises
    ------
    NotEnoughData
        Fewer than two units.
    OutOfRange
        A ratio below 0.

    Source
    ------
    southwood1978, chapter 2
    """
    if units < 2:
        raise NotEnoughData("units", units, "two or more")
    if not ratio >= 0:
        raise OutOfRange("ratio", ratio, "0 or more")
    return (units - 1) * ratio


def chi_square_above(chi_square: float, freedom: int) -> float:
    """How often chance alone gives at least this chi-square.

    Parameters
    ----------
    chi_square : float, scalar
        [-] 0 or more.
    freedom : int, scalar
        Degrees of freedom. [-] 1 or more.

    Returns
    -------
    float, scalar
        [-] 0 to 1.

    Raises
    ------
    OutOfRange
        A chi-square below 0 or no degree of freedom.

    Source
    ------
    dlmf, sections 8.7 and 8.9
    """
    if not chi_square >= 0:
        raise OutOfRange("chi_square", chi_square, "0 or more")
    if not freedom >= 1:
        raise OutOfRange("freedom", freedom, "1 or more")
    shape, half = freedom / 2, chi_square / 2
    if half == 0:
        return 1.0
    lead = math.exp(shape * math.log(half) - half - math.lgamma(shape))
    if half < shape + 1:
        return 1 - lead * _series(shape, half)
    return lead * _fraction(shape, half)


def negative_binomial_k(mean: float, variance: float) -> float:
    """The k of the negative binomial by moments: the smaller, the more clumped.

    Parameters
    ----------
    mean : float, scalar
        [-] above 0.
    variance : float, scalar
        [-] above the mean: else the counts are not clumped, and there is no k.

    Returns
    -------
    float, scalar
        [-] above 0.

    Raises
    ------
    OutOfRange
        Nothing found, or the variance is not above the mean.

    Source
    ------
    bliss1953; southwood1978, chapter 2
    """
    if not mean > 0:
        raise OutOfRange("mean", mean, "above 0")
    if not variance > mean:
        raise OutOfRange("variance", variance, "above the mean")
    return mean * mean / (variance - mean)


def binomial_dispersion(mean: float, variance: float, size: int) -> float:
    """Variance of affected plants per group against that of chance: above 1 in clumps.

    Parameters
    ----------
    mean : float, scalar
        Affected plants per group. [plants] above 0, below `size`.
    variance : float, scalar
        Of the affected plants per group. [plants2] 0 or more.
    size : int, scalar
        Plants in each group. [plants] 1 or more.

    Returns
    -------
    float, scalar
        [-]

    Raises
    ------
    OutOfRange
        No plant or every plant is affected, or the variance is below 0.

    Source
    ------
    madden2007, chapter 9
    """
    if not 0 < mean < size:
        raise OutOfRange("mean", mean, "above 0 and below the plants of a group")
    if not variance >= 0:
        raise OutOfRange("variance", variance, "0 or more")
    share = mean / size
    return variance / (size * share * (1 - share))


def _series(shape: float, half: float) -> float:
    """The lower incomplete gamma function over its leading power, by its power series."""
    term = total = 1 / shape
    for count in range(1, _MOST_TERMS):
        term *= half / (shape + count)
        total += term
        if term < total * _CLOSE:
            break
    return total


def _fraction(shape: float, half: float) -> float:
    """The upper incomplete gamma function over its leading power, by its continued fraction."""
    below = half + 1 - shape
    ratio = 1 / _SMALLEST
    inverse = 1 / below
    found = inverse
    for count in range(1, _MOST_TERMS):
        part = -count * (count - shape)
        below += 2
        inverse = 1 / _away_from_zero(part * inverse + below)
        ratio = _away_from_zero(below + part / ratio)
        step = inverse * ratio
        found *= step
        if abs(step - 1) < _CLOSE:
            break
    return found


def _away_from_zero(value: float) -> float:
    return value if abs(value) > _SMALLEST else _SMALLEST
