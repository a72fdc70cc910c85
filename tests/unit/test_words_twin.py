"""The phone composes the same texts as the shed."""

import json
import shutil
import subprocess
from pathlib import Path

TESTS = Path(__file__).parents[1]


def test_compose_on_the_phone_of_every_corpus_case_gives_the_agreed_text() -> None:
    cases = json.loads((TESTS / "corpus" / "words.json").read_text(encoding="utf-8"))
    command = [shutil.which("node") or "node", str(TESTS / "twins" / "words.mjs")]
    ran = subprocess.run(command, capture_output=True, check=False)
    assert ran.returncode == 0, ran.stderr.decode()
    texts = json.loads(ran.stdout)
    assert [(case["name"], text) for case, text in zip(cases, texts, strict=True)] == [
        (case["name"], case["text"]) for case in cases
    ]
