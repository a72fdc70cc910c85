"""Gzip for answers: of a whole one, or of a beginning that many answers share."""

import gzip
import struct
import zlib
from collections.abc import Iterable

from flask import request

LEAST_BYTES = 1024
# Of rows and of columns, level 6 leaves a tenth less than level 1 or 4 for a few milliseconds.
LEVEL = 6
_RAW_DEFLATE = -15
# RFC 1952: two magic bytes, deflate, no flags, no time, nothing said of level and system.
_HEADER = b"\x1f\x8b\x08" + bytes(6) + b"\xff"


def takes_gzip() -> bool:
    """Whether who asks can unpack the answer."""
    return request.accept_encodings["gzip"] > 0


def pack(text: bytes) -> bytes:
    """The text as a gzip file."""
    return gzip.compress(text, LEVEL, mtime=0)


class PackedBeginning:
    """The beginning of an answer, packed once; each answer packs only the rest of its own."""

    def __init__(self, pieces: Iterable[bytes]) -> None:
        packer = zlib.compressobj(LEVEL, zlib.DEFLATED, _RAW_DEFLATE)
        self._checksum = 0
        self._length = 0
        packed = []
        for piece in pieces:
            self._checksum = zlib.crc32(piece, self._checksum)
            self._length += len(piece)
            packed.append(packer.compress(piece))
        # A full flush ends on a whole byte, and what follows points back at nothing before it.
        packed.append(packer.flush(zlib.Z_FULL_FLUSH))
        self._packed = b"".join(packed)

    def __len__(self) -> int:
        return len(self._packed)

    def text(self) -> bytes:
        """The beginning as it was, for a caller that takes nothing packed."""
        return zlib.decompressobj(_RAW_DEFLATE).decompress(self._packed)

    def packed_with(self, rest: bytes) -> bytes:
        """The beginning and the rest as one gzip file."""
        packer = zlib.compressobj(LEVEL, zlib.DEFLATED, _RAW_DEFLATE)
        end = packer.compress(rest) + packer.flush()
        length = (self._length + len(rest)) % 2**32
        trailer = struct.pack("<LL", zlib.crc32(rest, self._checksum), length)
        return b"".join((_HEADER, self._packed, end, trailer))
