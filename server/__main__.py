"""`python3 server <command>`: any command of Shedbook, straight from a checkout."""

import sys

from bootstrap import CannotStart, make_ready, run

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
    return run([str(python), "-P", "-c", START, *sys.argv[1:]])


if __name__ == "__main__":
    sys.exit(main())
