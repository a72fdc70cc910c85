"""Hosts and years against the texts they come from, row by row, and what rotation by family misses.

Each row is one statement of its source: the trouble, a crop it names, and the years it gives, which
is None where the source names a host and no number. Years are whole and compared exactly.
"""

import pytest

from shedbook.crops import load_crops, load_sources
from shedbook.crops.hosts import load_hosts
from shedbook.rules.rulebook import load_rulebook

HOSTS = load_hosts()
CROPS = load_crops()
UCONN = "uconn-rotation"  # Rotation Periods Suggested to Help Control Vegetable Diseases, table
LETTUCE = "ucipm-lettuce-verticillium"
ADVISED = [
    # University of Connecticut IPM, table of rotation periods.
    (UCONN, "verticillium_wilt", "eggplant", 4),
    (UCONN, "eggplant_fruit_rot", "eggplant", 3),
    (UCONN, "clubroot", "cabbage", 7),
    (UCONN, "blackleg", "cabbage", 4),
    (UCONN, "black_rot", "cabbage", 3),
    (UCONN, "bean_anthracnose", "bean", 2),
    (UCONN, "bean_bacterial_blight", "bean", 2),
    (UCONN, "cucumber_scab", "cucumber", 2),
    (UCONN, "lettuce_drop", "lettuce", 3),
    (UCONN, "beet_leaf_spot", "beet", 3),
    (UCONN, "corn_yellow_leaf_blight", "sweet_corn", 3),
    (UCONN, "melon_leaf_spot", "muskmelon", 2),
    # University of California, Verticillium wilt on peppers and eggplant.
    ("ucipm-pepper-verticillium", "verticillium_wilt", "pepper", 2),
    # University of California, tomato guidelines, table of rotation cycles in years.
    ("ucipm-tomato-rotation", "verticillium_wilt", "tomato", 3),
    # "3 to 4 years with nonhosts": the shorter of the two.
    (LETTUCE, "verticillium_wilt", "lettuce", 3),
    ("ucipm-tomato-rotation", "bacterial_spot", "tomato", 1),
    ("ucipm-tomato-rotation", "bacterial_canker", "tomato", 1),
    ("ucipm-tomato-rotation", "tomato_fusarium_wilt", "tomato", 2),
    ("ucipm-tomato-rotation", "southern_blight", "tomato", 3),
    ("ucipm-tomato-rotation", "corky_root", "tomato", 2),
    # University of Delaware: minimum 3-year rotation; checklist: minimum of 3 years.
    ("udel-phytophthora-advice", "phytophthora_blight", "pepper", 3),
    ("udel-phytophthora-checklist", "phytophthora_blight", "pumpkin", 3),
    # NC State University, plant clinic: out of infested gardens for at least two years.
    ("ncstate-pepper-anthracnose", "anthracnose", "pepper", 2),
]
# Whom each source names as living under the trouble.
NAMED = [
    (UCONN, "verticillium_wilt", "tomato potato pepper strawberry raspberry"),
    (LETTUCE, "verticillium_wilt", "lettuce artichoke spinach strawberry cauliflower"),
    (UCONN, "white_mould", "bean potato tomato lettuce cabbage"),
    (UCONN, "clubroot", "turnip radish cabbage broccoli"),
    (UCONN, "melon_leaf_spot", "watermelon pumpkin summer_squash winter_squash"),
    (
        "pnw-verticillium",
        "verticillium_wilt",
        "muskmelon pumpkin watermelon mint eggplant pepper potato tomato spinach strawberry",
    ),
    (
        "cornell-phytophthora-blight",
        "phytophthora_blight",
        "cucumber summer_squash pumpkin muskmelon watermelon pepper eggplant tomato lima_bean bean",
    ),
    ("ncstate-pepper-anthracnose", "anthracnose", "tomato eggplant strawberry"),
    ("alabama-bacterial-spot", "bacterial_spot", "pepper tomato"),
    ("ncstate-root-knot", "root_knot", "tomato pepper cucumber summer_squash eggplant okra"),
    ("ncstate-root-knot", "root_knot", "beet carrot pea lettuce potato radish"),
    ("ucipm-white-rot", "allium_white_rot", "onion garlic leek"),
]
# Families as four extension and garden lists have them alike.
FAMILIES = {
    "solanaceae": "pepper tomato eggplant potato tomatillo",
    "cucurbitaceae": "cucumber summer_squash winter_squash pumpkin muskmelon watermelon gourd",
    "brassicaceae": "cabbage broccoli cauliflower brussels_sprouts kale collards kohlrabi radish "
    "turnip rutabaga mustard chinese_cabbage",
    "fabaceae": "bean lima_bean pea faba_bean soybean peanut",
    "amaryllidaceae": "onion garlic leek shallot chives",
    "apiaceae": "carrot celery parsnip parsley dill fennel cilantro",
    "asteraceae": "lettuce endive artichoke sunflower",
    "amaranthaceae": "beet chard spinach",
    "poaceae": "sweet_corn",
    "malvaceae": "okra",
    "convolvulaceae": "sweet_potato",
    "lamiaceae": "basil",
}


def lives_on(trouble: str, crop: str) -> bool:
    row = HOSTS[trouble]
    return crop in row.get("crops", []) or CROPS[crop]["family"] in row.get("families", [])


@pytest.mark.parametrize(("source", "trouble", "crop", "years"), ADVISED, ids=str)
def test_years_are_those_of_the_source(source: str, trouble: str, crop: str, years: int) -> None:
    rows = [row for row in HOSTS[trouble]["years"] if row["source"] == source]
    told = [row["years"] for row in rows if crop in row.get("crops", [crop])]
    assert told == [years]
    assert lives_on(trouble, crop)


@pytest.mark.parametrize(("source", "trouble", "crops"), NAMED, ids=str)
def test_hosts_are_those_that_the_source_names(source: str, trouble: str, crops: str) -> None:
    assert source in HOSTS[trouble]["host_sources"]
    assert [crop for crop in crops.split() if not lives_on(trouble, crop)] == []


@pytest.mark.parametrize(
    ("trouble", "low", "high"), [("blackleg", 3, 4), ("black_rot", 2, 3)], ids=str
)
def test_a_span_of_years_keeps_both_ends(trouble: str, low: int, high: int) -> None:
    (row,) = HOSTS[trouble]["years"]
    assert (row["years_from"], row["years"]) == (low, high)


@pytest.mark.parametrize(("family", "crops"), FAMILIES.items(), ids=FAMILIES)
def test_crops_are_of_the_family_that_the_lists_give(family: str, crops: str) -> None:
    assert {CROPS[crop]["family"] for crop in crops.split()} == {family}


def test_at_least_thirty_crops_have_a_family() -> None:
    assert len([crop for crop in CROPS.values() if crop["family"]]) >= 30


def test_sources_that_name_no_number_have_none_here() -> None:
    assert {trouble for trouble, row in HOSTS.items() if not row["years"]} == {
        *("root_knot", "white_mould", "allium_white_rot")
    }


@pytest.mark.parametrize("trouble", HOSTS)
def test_every_source_of_a_trouble_is_listed(trouble: str) -> None:
    row = HOSTS[trouble]
    named = [*row["host_sources"], *(one["source"] for one in row["years"])]
    named += [row["survives_source"]] if "survives_source" in row else []
    assert set(named) - {"common practice, no source"} <= set(load_sources())
    assert ("survives_years" in row) == ("survives_source" in row)


def test_how_long_a_trouble_was_found_to_live_on_is_no_advice() -> None:
    # Alabama: on plant remains for up to a year. California: in the soil for over 20 years.
    assert HOSTS["bacterial_spot"]["survives_years"] == 1
    assert HOSTS["allium_white_rot"]["survives_years"] == 20
    assert HOSTS["allium_white_rot"]["years"] == []


def test_sources_that_disagree_on_verticillium_are_all_kept() -> None:
    rows = {row["source"]: row["years"] for row in HOSTS["verticillium_wilt"]["years"]}
    california = {"ucipm-pepper-verticillium": 2, "ucipm-tomato-rotation": 3, LETTUCE: 3}
    assert rows == california | {UCONN: 4}


def test_pepper_site_has_the_two_seasons_of_its_source() -> None:
    # Oklahoma State University, HLA-6030: none of its relatives in the previous two seasons.
    rows = {rule["id"]: rule["params"] for rule in load_rulebook()["rules"]}
    (advised,) = rows["rotation_rest"]["advised"]
    assert advised == {"years": 2, "source": "okstate-pepper", "crops": ["pepper"]}


def test_film_lies_for_the_weeks_of_its_source() -> None:
    # University of California, Pest Notes 74145: four to six weeks.
    rows = {rule["id"]: rule for rule in load_rulebook()["rules"]}
    assert rows["under_film"]["source"] == "ucipm-solarization"
    assert rows["under_film"]["params"]["weeks"] == 4
    assert rows["under_film"]["params"]["weeks_at_most"] == 6


@pytest.mark.parametrize("trouble", ["verticillium_wilt", "phytophthora_blight"])
@pytest.mark.parametrize("crop", ["sweet_corn", "wheat", "onion", "garlic", "cabbage"])
def test_crops_that_no_source_names_are_no_hosts(trouble: str, crop: str) -> None:
    assert not lives_on(trouble, crop)
