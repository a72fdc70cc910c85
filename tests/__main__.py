"""`python3 tests [pytest's own arguments]`: everything that must hold before a change goes in."""

import os
import shutil
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "server"))

from needs import find_system_browser  # noqa: E402

from bootstrap import CannotStart, clean_environment, make_ready, run  # noqa: E402

COMPILER = "build/client-packages/node_modules/typescript/bin/tsc"


def main() -> int:
    """Lint, types, then the tests; a check that fails ends it, so that its words stay in sight."""
    try:
        python = make_ready(extras=("test",))
    except CannotStart as problem:
        print(f"\n{problem}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped before it was ready; the next start begins anew.", file=sys.stderr)
        return 130
    os.environ.update(clean_environment())
    # At the end: a machine's own Node.js goes before the one that came with the test packages.
    os.environ["PATH"] = os.pathsep.join([os.environ.get("PATH", ""), str(python.parent)])
    module = [str(python), "-P", "-m"]
    if find_system_browser() is None:
        # Where it cannot be fetched, the tests themselves say what did not run.
        run([*module, "playwright", "install", "chromium"])
    for name, command in checks(python).items():
        print(f"== {name}", flush=True)
        code = run(command, cwd=ROOT)
        if code:
            print(f"{name} failed; the tests were not run.", file=sys.stderr)
            return code
    print("== tests", flush=True)
    return run([*module, "pytest", *sys.argv[1:]], cwd=ROOT)


def checks(python: Path) -> dict[str, list[str]]:
    """What is checked without running Shedbook, by the name that is printed."""
    here = [str(python), "-P"]
    node = shutil.which("node") or "node"
    return {
        "ruff": [*here, "-m", "ruff", "check", "."],
        "ruff format": [*here, "-m", "ruff", "format", "--check", "."],
        "mypy": [*here, "-m", "mypy"],
        "the client's packages": [*here, "server/build_client.py"],
        "tsc": [node, COMPILER, "-p", "client"],
    }


if __name__ == "__main__":
    sys.exit(main())
