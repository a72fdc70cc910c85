"""Sine, exponential and their kin from + - * / and square root, so both sides agree to the bit.

The mathematical libraries under Python and under a phone's browser differ in the last bits. These
short series don't: each reduces its argument, then adds the terms of one power series in a fixed
order. Twin: client/agronomy/elementary.js.
"""

import math

from shedbook.agronomy.errors import OutOfRange

PI = 3.141592653589793
HALF_PI = 1.5707963267948966
# Pi / 2 and ln 2, each in a first part of 33 bits or fewer and the rest: an exact product with a
# small whole number, and no digits lost when it is taken away.
HALF_PI_HEAD = 1.5707963267341256
HALF_PI_TAIL = 6.077100506506192e-11
LN_2_HEAD = 0.6931471803691238
LN_2_TAIL = 1.9082149292705877e-10
SQRT_2 = 1.4142135623730951

LARGEST_ANGLE = 1_000_000
LARGEST_EXPONENT = 700


def sin(angle: float) -> float:
    """Sine of an angle.

    Parameters
    ----------
    angle : float, scalar
        [rad] -1 000 000 to 1 000 000.

    Returns
    -------
    float, scalar
        [-] -1 to 1.

    Raises
    ------
    OutOfRange
        The angle is outside its span.

    Source
    ------
    dlmf, section 4.19
    """
    quarter, rest = _quarter_turn(angle)
    if quarter == 0:
        return _sin_series(rest)
    if quarter == 1:
        return _cos_series(rest)
    if quarter == 2:
        return -_sin_series(rest)
    return -_cos_series(rest)


def cos(angle: float) -> float:
    """Cosine of an angle.

    Parameters
    ----------
    angle : float, scalar
        [rad] -1 000 000 to 1 000 000.

    Returns
    -------
    float, scalar
        [-] -1 to 1.

    Raises
    ------
    OutOfRange
        The angle is outside its span.

    Source
    ------
    dlmf, section 4.19
    """
    quarter, rest = _quarter_turn(angle)
    if quarter == 0:
        return _cos_series(rest)
    if quarter == 1:
        return -_sin_series(rest)
    if quarter == 2:
        return -_cos_series(rest)
    return _sin_series(rest)


def atan(slope: float) -> float:
    """The angle between -pi/2 and pi/2 whose tangent this is.

    Parameters
    ----------
    slope : float, scalar
        [-] Any finite number.

    Returns
    -------
    float, scalar
        [rad]

    Raises
    ------
    OutOfRange
        The slope is not a finite number.

    Source
    ------
    dlmf, section 4.24
    """
    if not -1e300 <= slope <= 1e300:
        raise OutOfRange("slope", slope, "a finite number")
    size = -slope if slope < 0 else slope
    turned = size > 1
    if turned:
        size = 1 / size
    # Halving the angle twice brings the slope below 0.2, where ten terms are enough.
    size = size / (1 + math.sqrt(1 + size * size))
    size = size / (1 + math.sqrt(1 + size * size))
    found = 4 * _atan_series(size)
    if turned:
        found = HALF_PI - found
    return -found if slope < 0 else found


def asin(ratio: float) -> float:
    """The angle between -pi/2 and pi/2 whose sine this is.

    Parameters
    ----------
    ratio : float, scalar
        [-] -1 to 1.

    Returns
    -------
    float, scalar
        [rad]

    Raises
    ------
    OutOfRange
        The ratio is outside its span.

    Source
    ------
    dlmf, section 4.24
    """
    if not -1 <= ratio <= 1:
        raise OutOfRange("ratio", ratio, "between -1 and 1")
    if ratio == 1:
        return HALF_PI
    if ratio == -1:
        return -HALF_PI
    return atan(ratio / math.sqrt((1 - ratio) * (1 + ratio)))


def acos(ratio: float) -> float:
    """The angle between 0 and pi whose cosine this is.

    Parameters
    ----------
    ratio : float, scalar
        [-] -1 to 1.

    Returns
    -------
    float, scalar
        [rad]

    Raises
    ------
    OutOfRange
        The ratio is outside its span.

    Source
    ------
    dlmf, section 4.24
    """
    if not -1 <= ratio <= 1:
        raise OutOfRange("ratio", ratio, "between -1 and 1")
    if ratio == -1:
        return PI
    return 2 * atan(math.sqrt((1 - ratio) / (1 + ratio)))


def exp(exponent: float) -> float:
    """E to this power.

    Parameters
    ----------
    exponent : float, scalar
        [-] -700 to 700.

    Returns
    -------
    float, scalar
        [-] Above 0.

    Raises
    ------
    OutOfRange
        The exponent is outside its span.

    Source
    ------
    dlmf, section 4.2
    """
    if not -LARGEST_EXPONENT <= exponent <= LARGEST_EXPONENT:
        raise OutOfRange("exponent", exponent, "between -700 and 700")
    doublings = math.floor(exponent / (LN_2_HEAD + LN_2_TAIL) + 0.5)
    rest = exponent - doublings * LN_2_HEAD - doublings * LN_2_TAIL
    total = 1.0
    for n in range(14, 0, -1):
        total = 1 + total * rest / n
    while doublings > 0:
        total = total * 2
        doublings = doublings - 1
    while doublings < 0:
        total = total / 2
        doublings = doublings + 1
    return total


def ln(number: float) -> float:
    """Natural logarithm.

    Parameters
    ----------
    number : float, scalar
        [-] Above 0, at most 1e300.

    Returns
    -------
    float, scalar
        [-]

    Raises
    ------
    OutOfRange
        The number is outside its span.

    Source
    ------
    dlmf, section 4.6
    """
    if not 0 < number <= 1e300:
        raise OutOfRange("number", number, "above 0 and at most 1e300")
    doublings = 0
    while number > SQRT_2:
        number = number / 2
        doublings = doublings + 1
    while number * SQRT_2 < 1:
        number = number * 2
        doublings = doublings - 1
    part = (number - 1) / (number + 1)
    square = part * part
    total = 0.0
    for n in range(23, 0, -2):
        total = total * square + 1 / n
    return doublings * LN_2_HEAD + (2 * part * total + doublings * LN_2_TAIL)


def power(base: float, exponent: float) -> float:
    """A positive number to any power, to about 1e-12 of the result where that is of usual size.

    Parameters
    ----------
    base : float, scalar
        [-] Above 0, at most 1e300.
    exponent : float, scalar
        [-] The result must lie between e to -700 and e to 700.

    Returns
    -------
    float, scalar
        [-] Above 0.

    Raises
    ------
    OutOfRange
        The base or the result is outside its span.

    Source
    ------
    dlmf, section 4.2
    """
    return exp(exponent * ln(base))


def _quarter_turn(angle: float) -> tuple[int, float]:
    """Which quarter of the turn (0 to 3) the angle is nearest to, and how far from it."""
    if not -LARGEST_ANGLE <= angle <= LARGEST_ANGLE:
        raise OutOfRange("angle", angle, "between -1 000 000 and 1 000 000")
    quarters = math.floor(angle / HALF_PI + 0.5)
    rest = angle - quarters * HALF_PI_HEAD - quarters * HALF_PI_TAIL
    return quarters - 4 * math.floor(quarters / 4), rest


def _sin_series(rest: float) -> float:
    square = rest * rest
    total = 1.0
    for n in range(18, 0, -2):
        total = 1 - total * square / (n * (n + 1))
    return rest * total


def _cos_series(rest: float) -> float:
    square = rest * rest
    total = 1.0
    for n in range(19, 0, -2):
        total = 1 - total * square / (n * (n + 1))
    return total


def _atan_series(slope: float) -> float:
    square = slope * slope
    total = 0.0
    for n in range(25, 0, -2):
        total = 1 / n - total * square
    return slope * total
