"""Rates, measures and weights of fertilizer against what extension services print.

Each source rounds in its own way, so each tolerance is half a unit of the last figure it prints,
unless a comment says what else.
"""

import pytest

from shedbook.agronomy import customary as us
from shedbook.agronomy import fertilizer as f
from shedbook.crops import load_crops, load_fertilizers

OUNCES = 16
# Flynn and Leinauer, NMSU guide H-119, table 1: pounds an acre, then pounds and ounces for
# 100 square feet, then pounds and ounces for 1,000 square feet.
NMSU_TABLE_1 = [
    (100, 0.23, 4, (2, 5)),
    (200, 0.46, 7, (4, 9)),
    (400, 0.92, 15, (9, 3)),
    (500, 1.15, 18, (11, 8)),
    (600, 1.38, 22, (13, 12)),
    (700, 1.61, 26, (16, 1)),
    (800, 1.84, 29, (18, 6)),
    (1000, 2.30, 37, (22, 15)),
    (2000, 4.59, 73, (45, 15)),
]


@pytest.mark.parametrize(("rate", "pounds", "ounces", "thousand"), NMSU_TABLE_1, ids=str)
def test_nmsu_h119_table_1(
    rate: int, pounds: float, ounces: int, thousand: tuple[int, int]
) -> None:
    per_thousand = us.lb_per_1000_ft2(us.rate_from_lb_per_acre(rate))
    assert per_thousand / 10 == pytest.approx(pounds, abs=0.005)
    # Printed in whole ounces, at 500 lb rounded down from 18.4.
    assert per_thousand / 10 * OUNCES == pytest.approx(ounces, abs=0.5)
    assert per_thousand * OUNCES == pytest.approx(thousand[0] * OUNCES + thousand[1], abs=0.6)


# CropIdeas, farm measurement equivalents: pounds an acre as pounds and ounces for 1,000 ft².
# It rounds to the ounce, both up and down.
CROP_IDEAS = [
    (100, (2, 4)),
    (200, (4, 9)),
    (300, (6, 14)),
    (400, (9, 3)),
    (500, (11, 7)),
    (600, (13, 12)),
    (700, (16, 1)),
    (800, (18, 6)),
    (900, (20, 11)),
    (1000, (22, 15)),
]


@pytest.mark.parametrize(("rate", "printed"), CROP_IDEAS, ids=str)
def test_crop_ideas_table_of_rates(rate: int, printed: tuple[int, int]) -> None:
    ounces = us.lb_per_1000_ft2(us.rate_from_lb_per_acre(rate)) * OUNCES
    assert ounces == pytest.approx(printed[0] * OUNCES + printed[1], abs=1)


# What carries a pound of nitrogen: CropIdeas prints 2, 3 and 4 lb, always rounded down.
@pytest.mark.parametrize(("grade", "printed"), [(46, 2), (34, 3), (21, 4)], ids=str)
def test_crop_ideas_product_for_a_pound_of_nitrogen(grade: int, printed: int) -> None:
    exact = f.product_mass(us.GRAMS_PER_POUND, grade) / us.GRAMS_PER_POUND
    if grade == 34:
        # The one that is printed above the exact figure.
        assert exact == pytest.approx(2.94, abs=0.005)
    else:
        assert int(exact) == printed


# Traunfeld, University of Maryland: worked examples of a pound for 1,000 ft² and 100 ft².
@pytest.mark.parametrize(
    ("nitrogen", "grade", "printed", "tolerance"),
    [(2.0, 46, 4.35, 0.005), (2.0, 6, 33.3, 0.05), (3.2, 15, 21.33, 0.005)],
    ids=["urea", "cottonseed meal", "nitrate of soda, in ounces"],
)
def test_maryland_worked_examples(
    nitrogen: float, grade: float, printed: float, tolerance: float
) -> None:
    assert f.product_mass(nitrogen, grade) == pytest.approx(printed, abs=tolerance)


# Flynn and Leinauer, the same guide: the numbers 16-4-8 on a bag of 100 pounds.
@pytest.mark.parametrize(("grade", "pounds"), [(16, 16), (4, 4), (8, 8)], ids=str)
def test_nmsu_meaning_of_the_grade(grade: int, pounds: int) -> None:
    assert f.nutrient_mass(100, grade) == pounds


# CSU GardenNotes 711, as reprinted: a tenth of a pound of nitrogen for 100 ft².
@pytest.mark.parametrize(
    ("pounds", "grade", "nitrogen"),
    [(0.5, 21, 0.105), (0.3, 34, 0.102)],
    ids=["21-0-0", "34-0-0"],
)
def test_colorado_garden_rate(pounds: float, grade: int, nitrogen: float) -> None:
    assert f.nutrient_mass(pounds, grade) == pytest.approx(nitrogen, abs=1e-12)
    # Printed as 0.1 lb.
    assert nitrogen == pytest.approx(0.1, abs=0.05)


# Grams in a level tablespoon, recomputed from each published weight to a tenth of a gram.
GRAMS_A_TABLESPOON = [
    ("ammonium_nitrate", "lsu-small-area", 11.5),
    ("ammonium_nitrate", "csu-gardennotes-711", 12.8),
    ("sodium_nitrate", "lsu-small-area", 20.4),
    ("cottonseed_meal", "lsu-small-area", 8.9),
    ("ammonium_sulfate", "csu-gardennotes-711", 14.2),
    ("urea", "crop-ideas-measure", 11.3),
    ("mixed", "reeves-corn", 14.2),
]


@pytest.mark.parametrize(("material", "source", "grams"), GRAMS_A_TABLESPOON, ids=str)
def test_grams_in_a_tablespoon_by_each_source(material: str, source: str, grams: float) -> None:
    (told,) = [one for one in load_fertilizers()[material]["published"] if one["source"] == source]
    density = us.bulk_density(told["pounds"], told["cups"])
    mass = f.mass_of_volume(us.volume_of_tablespoons(1), density)
    assert mass == pytest.approx(grams, abs=0.055)


def test_two_sources_on_ammonium_nitrate_are_kept_apart() -> None:
    published = load_fertilizers()["ammonium_nitrate"]["published"]
    densities = [us.bulk_density(one["pounds"], one["cups"]) for one in published]
    assert [round(one, 3) for one in densities] == [0.779, 0.863]


# Wang and Stevens, LSU AgCenter: what a pint is made of.
def test_louisiana_measures_of_a_pint() -> None:
    pint = us.volume_of_cups(2)
    assert us.tablespoons_of_volume(pint) == pytest.approx(32, rel=1e-15)
    assert us.tablespoons_of_volume(pint) * 3 == pytest.approx(96, rel=1e-15)


# NIST Handbook 44, appendix C: exact values.
@pytest.mark.parametrize(
    ("made", "exact"),
    [
        (us.M2_PER_ACRE, 4046.8564224),
        (us.M2_PER_FT2 * 43_560, 4046.8564224),
        (us.GRAMS_PER_POUND / OUNCES, 28.349523125),
        (us.ML_PER_CUP * 16, 3785.411784),
        (us.ML_PER_TABLESPOON * 16, us.ML_PER_CUP),
        (us.rate_from_lb_per_acre(1), 1.1208511561944561),
        (us.rate_from_lb_per_1000_ft2(1), 48.8242763638305),
        (us.lb_per_acre(us.rate_from_lb_per_1000_ft2(1)), 43.56),
    ],
    ids=["acre", "acre of feet", "ounce", "gallon", "cup", "lb/acre", "lb/1000 ft²", "both"],
)
def test_exact_units(made: float, exact: float) -> None:
    assert made == pytest.approx(exact, rel=1e-14)


# Double rows 18 inches apart in the row on 6-foot centres: 9,680 plants an acre, and 30 lb N an
# acre shared among them (recomputed; the count is printed).
INCH_M = 0.0254
GROUND = f.area_per_plant(18 * INCH_M, 3 * 12 * INCH_M)


def test_plants_on_an_acre_in_double_rows() -> None:
    assert us.plants_per_acre(GROUND) == pytest.approx(9680, rel=1e-9)


@pytest.mark.parametrize(
    ("grade", "grams"), [(100, 1.406), (46, 3.06), (34, 4.13), (21, 6.69), (10, 14.06)], ids=str
)
def test_grams_for_a_plant_at_thirty_pounds_an_acre(grade: int, grams: float) -> None:
    nitrogen = f.mass_for_rate(us.rate_from_lb_per_acre(30), GROUND)
    assert f.product_mass(nitrogen, grade) == pytest.approx(grams, abs=0.007)


# Four to six cups of 10-10-10 for 100 ft² (about 9 m²), by the weight that Reeves gives.
@pytest.mark.parametrize(("cups", "rate"), [(4, 87.12), (6, 130.68)], ids=str)
def test_cups_of_a_balanced_fertilizer_are_a_season_of_nitrogen(cups: int, rate: float) -> None:
    told = load_fertilizers()["mixed"]["published"][0]
    density = us.bulk_density(told["pounds"], told["cups"])
    product = f.mass_of_volume(us.volume_of_cups(cups), density)
    spread = f.rate_of_mass(f.nutrient_mass(product, 10), 100 * us.M2_PER_FT2)
    assert us.lb_per_acre(spread) == pytest.approx(rate, rel=1e-12)


# Cornell: 70,000 ft² under two inches of compost; its factor of 0.0031 is 1/324 rounded up.
def test_cornell_field_of_compost() -> None:
    litres = f.layer_volume(70_000 * us.M2_PER_FT2, 2 * INCH_M * 1000)
    cubic_yards = litres / 764.554857984
    assert cubic_yards == pytest.approx(434, rel=0.005)
    assert cubic_yards == pytest.approx(70_000 * 2 / 324, rel=1e-12)


# Knott's as quoted, LSU, UC and HortScience: the published rates for pepper, in SI.
@pytest.mark.parametrize(
    ("source", "low", "high"),
    [
        ("knott-quoted", 112.1, 145.7),
        ("bracy-2000", 156.9, 156.9),
        ("lestrange-2011", 218.6, 218.6),
        ("hartz-1993", 252, 252),
    ],
    ids=str,
)
def test_published_rates_for_pepper(source: str, low: float, high: float) -> None:
    (told,) = [one for one in load_crops()["pepper"]["n_published"] if one[3] == source]
    to_si = {"lb_per_acre": us.rate_from_lb_per_acre, "kg_per_ha": float}[told[0]]
    assert to_si(told[1]) == pytest.approx(low, abs=0.05)
    assert to_si(told[2]) == pytest.approx(high, abs=0.05)
