"""RFC 9562, appendix A.6: the worked example of a version 7 UUID."""

import pytest

from shedbook.log.identity import is_id, new_id

# The fields of the example table, in its order.
UNIX_TS_MS = 0x017F22E279B0
RAND_A = 0xCC3
RAND_B = 0x18C4DC0C0C07398F
FINAL = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


@pytest.mark.parametrize("spare_bits", [0, 0xF], ids=["version-bits-clear", "version-bits-set"])
def test_new_id_of_rfc_9562_a6_gives_its_final_value(spare_bits: int) -> None:
    random_bytes = (spare_bits << 12 | RAND_A).to_bytes(2, "big")
    random_bytes += ((spare_bits & 3) << 62 | RAND_B).to_bytes(8, "big")
    assert new_id(UNIX_TS_MS, random_bytes) == FINAL


def test_example_of_rfc_9562_a6_is_an_id_in_the_form_of_the_log() -> None:
    assert is_id(FINAL)
    assert not is_id(FINAL.upper())
