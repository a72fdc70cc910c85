"""What the server holds in memory after a load, against what it held before.

Before: paired phones and a first push, so that all code is loaded. The load: fifty phones at once,
then 20,000 entries from one.
"""

from tests.benchmarks.connection import a_shed
from tests.benchmarks.phones import send_at_once
from tests.benchmarks.push import push_season
from tests.benchmarks.reference import Row

AIM = "at most 1.5"
MIB = 1024 * 1024


def measure() -> list[Row]:
    """One run; memory is not a matter of luck as time is."""
    with a_shed() as shed:
        load = send_at_once(shed)
        push_season(shed, page=1)
        after_bytes = shed.resident_bytes()
    return [
        Row(
            "memory after the load",
            f"{after_bytes / MIB:.0f} MiB ({load.after_bytes / MIB:.0f} after the phones)",
            f"{load.before_bytes / MIB:.0f} MiB before",
            after_bytes / load.before_bytes,
            AIM,
        )
    ]
