"""The phone's half of the log answers what the shed's answers: over the corpus and at random."""

import json
from pathlib import Path
from random import Random
from typing import Any

from shedbook.log.check import check_details
from shedbook.log.content import canonical
from shedbook.log.describe import describe_kind
from shedbook.log.kinds import KINDS
from shedbook.log.kinds.texts import number_text
from tests.builders import BED, PLANTING, an_entry
from tests.log_twin import ask_phone
from tests.unit.log.gardens import a_random_log
from tests.unit.log.shed_half import ask_shed

CORPUS = Path(__file__).parents[2] / "corpus"
WORDS: dict[str, str] = json.loads(
    (CORPUS.parents[1] / "client" / "words" / "en.json").read_text(encoding="utf-8")
)
GARDENS = 150
DETAILS = 1000


def alike(one: Any, other: Any) -> bool:
    """Equal as JSON: true is not 1, but 5.0 is 5."""
    return canonical({"value": one}) == canonical({"value": other})


def test_phone_and_shed_give_the_corpus_answers() -> None:
    cases = [
        case
        for name in ("moment", "clock", "ledger")
        for case in json.loads((CORPUS / f"{name}.json").read_text(encoding="utf-8"))
    ]
    requests = [case["request"] for case in cases]
    by_phone = [bare(answer) for answer in ask_phone(requests)]
    by_shed = [bare(ask_shed(request)) for request in requests]
    wrong = [
        (case["name"], case["answer"], phone, shed)
        for case, phone, shed in zip(cases, by_phone, by_shed, strict=True)
        if not alike(phone, case["answer"]) or not alike(shed, case["answer"])
    ]
    assert len(cases) > 60
    assert not wrong


def test_phone_and_shed_fold_random_gardens_alike() -> None:
    requests = []
    for seed in range(GARDENS):
        random = Random(seed)
        entries = a_random_log(random)
        random.shuffle(entries)
        half = len(entries) // 2
        forget = [entry["id"] for entry in entries[:2]]
        batches = [entries[:half], entries[half:]]
        requests.append({"ask": "fold", "batches": batches, "forget": forget})
    answers = ask_phone(requests)
    wrong = [seed for seed in range(GARDENS) if not alike(answers[seed], ask_shed(requests[seed]))]
    print(f"compared {GARDENS} random gardens")
    assert not wrong


def test_phone_and_shed_read_random_times_and_lay_out_random_beds_alike() -> None:
    random = Random(3)
    requests: list[dict[str, Any]] = []
    for _ in range(400):
        size = [random.randint(1, 120) / 10, random.randint(1, 30) / 10]
        spacing = [random.choice([0.1, 0.3, 0.35, 0.4, 0.7]), random.choice([0.3, 0.45, 0.6])]
        planting = {"plants": random.randint(1, 40), "rows": random.randint(1, 5)}
        planting |= random.choice([{}, {"in_row_m": spacing[0], "between_rows_m": spacing[1]}])
        bed = random.choice([{}, {"length_m": size[0], "width_m": size[1]}])
        plant = random.randint(1, planting["plants"])
        requests.append({"ask": "position", "plant": plant, "planting": planting, "bed": bed})
        day = random.randint(0, 84_005)
        requests.append({"ask": "day", "day": day})
        requests.append({"ask": "add_years", "day": day, "years": random.randint(-3, 5)})
        instant = day * 86_400 + random.randint(0, 86_399)
        requests.append(
            {"ask": "moment_text", "instant": instant, "offset": random.randint(-840, 840)}
        )
    answers = ask_phone(requests)
    wrong = [
        (request, answer, ask_shed(request))
        for request, answer in zip(requests, answers, strict=True)
        if not alike(answer, ask_shed(request))
    ]
    assert not wrong


def test_phone_and_shed_check_random_details_alike() -> None:
    random = Random(7)
    requests, expected = [], []
    described_kinds = [(kind, describe_kind(kind)) for kind in KINDS.values()]
    for _ in range(DETAILS):
        kind, described = random.choice(described_kinds)
        details = random_details(random, described)
        subjects = random_subjects(random)
        making = random.random() < 0.3
        requests.append(
            {"ask": "check", "kind": described, "subjects": subjects, "details": details}
            | {"making": making}
        )
        checked = check_details(kind, subjects, details, making=making)
        expected.append({"problems": checked.problems, "remarks": checked.remarks})
    answers = [
        {part: texts_of(answer[part]) for part in ("problems", "remarks")}
        for answer in ask_phone(requests)
    ]
    wrong = [
        (request["kind"]["name"], request["subjects"], request["details"], one, other)
        for request, one, other in zip(requests, answers, expected, strict=True)
        if not alike(one, other)
    ]
    print(f"compared {DETAILS} random details")
    assert not wrong


def bare(answer: Any) -> Any:
    """Without what the corpus does not hold: the wording of errors, all but a fold's snapshot."""
    if not isinstance(answer, dict):
        return answer
    return "error" if "error" in answer else answer.get("snapshot", answer)


def texts_of(messages: dict[str, Any]) -> dict[str, list[str]]:
    """The phone's messages as the texts that a person reads."""
    return {
        path: [
            WORDS[message["key"]].format(
                **{
                    name: number_text(value) if isinstance(value, int | float) else value
                    for name, value in message["values"].items()
                }
            )
            for message in found
        ]
        for path, found in messages.items()
    }


def random_details(random: Random, described: dict[str, Any]) -> dict[str, Any]:
    """Details of a kind, mostly of the right type, often just outside what is right."""
    names = [field for field in described["fields"] if random.random() < 0.6]
    details = {field["name"]: random_value(random, field) for field in names}
    if random.random() < 0.2:
        details["unheard_of"] = {"kept": True}
    return details


def random_value(random: Random, field: dict[str, Any]) -> Any:
    anything = [
        None,
        True,
        False,
        "",
        "x",
        3,
        -1,
        2.5,
        [],
        [BED],
        [BED, BED],
        {},
        {"a": 1},
        "05-12",
    ]
    anything += ["02-29", "13-01", {"a": {}}, {"A b": {}}, "2026-02-29", "2026-06-01", BED, "water"]
    anything += ["2026-06-01T07:40:00+02:00", "2026-06-01T07:40:00+03:00", "é" * 121, "🌶" * 61]
    if random.random() < 0.3:
        return random.choice(anything)
    if "min" in field:
        edges = [field["min"], field["max"], field["min"] - 1, field["max"] + 1]
        edges += [field.get("unusual_above", 1), field.get("unusual_above", 1) + 1]
        edges += [field.get("unusual_below", 1), field.get("unusual_below", 1) - 1, 2, 7.5]
        return random.choice(edges)
    if "choices" in field:
        return random.choice([*field["choices"], "something"])
    return random.choice(anything)


def random_subjects(random: Random) -> dict[str, Any]:
    subjects: dict[str, Any] = dict(an_entry("pick")["subjects"])
    subjects["plants"] = random.choice(
        [[1], [2, 1], [], [1, 1], [0], [1.5], [10_001], "all", [True]]
    )
    for slot in list(subjects):
        if random.random() < 0.3:
            del subjects[slot]
    if random.random() < 0.1:
        subjects["bed"] = random.choice([PLANTING.upper(), 5, "bed", ""])
    return subjects
