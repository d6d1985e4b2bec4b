"""A pack read by what `refgen/packs.py` says of the file, with a reader of its own."""

from __future__ import annotations

import io
import lzma
import re
import struct

_HOW = {"id": lzma.FILTER_LZMA1, "dict_size": 3 << 20, "lc": 4, "lp": 0, "pb": 0}


def unpacked(packed: bytes) -> bytes:
    """Return all texts of a pack, one after another."""
    file = io.BytesIO(packed)
    ordered, pieces = struct.unpack("<2I", file.read(8))
    sizes = [struct.unpack("<2I", file.read(8)) for _ in range(pieces)]
    whole = b"".join(
        lzma.LZMADecompressor(lzma.FORMAT_RAW, filters=[_HOW]).decompress(file.read(size), length)
        for size, length in sizes
    )
    assert not file.read()
    lines = re.findall(b"[^\n]*\n|[^\n]+", whole[ordered:])
    return b"".join(_in_order(whole[:ordered], lines))


def _in_order(order: bytes, lines: list[bytes]) -> list[bytes]:
    found: list[int] = []
    known = 0
    numbers = iter(order)
    for part in numbers:
        number, bits = part & 127, 7
        while part > 127:
            part = next(numbers)
            number |= (part & 127) << bits
            bits += 7
        if number == 0:
            found.append(known)
            known += 1
        elif number == 1:
            last = found[-1]
            followed = (found[n + 1] for n in reversed(range(len(found) - 1)) if found[n] == last)
            found.append(next(followed, last))
        else:
            found.append(number - 2)
    assert known == len(lines)
    return [lines[place] for place in found]
