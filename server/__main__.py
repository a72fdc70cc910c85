"""`python3 server <command>`: any command of Shedbook, straight from a checkout."""

import contextlib
import sys

from bootstrap import ROOT, CannotStart, make_ready, run
from build_client import bundle_client

START = "import sys; sys.argv[0] = 'shedbook'; from shedbook.cli.main import main; sys.exit(main())"


def main() -> int:
    """Install on the first start, then hand over to the command line of Shedbook."""
    try:
        python = make_ready()
    except CannotStart as problem:
        print(f"\n{problem}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped before it was ready; the next start begins anew.", file=sys.stderr)
        return 130
    # A checkout that can't be written to serves the client as it is written.
    with contextlib.suppress(OSError):
        bundle_client(ROOT)
    return run([str(python), "-P", "-c", START, *sys.argv[1:]])


if __name__ == "__main__":
    sys.exit(main())
