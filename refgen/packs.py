"""All texts of a site in one file: each line once, the order they stand in, and both as LZMA.

Pages share their frame, their rows of links, and whole steps with the machines' handbooks, but
they lie further apart than a host's gzip looks back (32 kB), and by the time of a large site
further than LZMA does. So a line that has been told is only named again: half of all bytes, which
LZMA then need not go through. No browser unpacks it by itself; `unpack.js` does.

The file, numbers of four bytes with the lowest first: how many bytes the order has; how many
pieces follow; of each piece how long it is packed and unpacked; then the pieces. Unpacked and
joined they are the order and then the lines. The order has a number for each line: 0 for one that
is new, 1 for the one that last time came after the line before it (for that line again, if none
did), else 2 and its place among the lines. Numbers have seven bits a byte, the lowest first; the
highest bit says that more follow.
"""

from __future__ import annotations

import lzma
import math
import os
import re
import struct
from array import array
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor

PIECE = 5 << 20
"""Most bytes packed at a time, and so by one processor. Smaller ones pack less well."""
DICTIONARY = 3 << 20
"""Bytes that the packer looks back over; it takes seven times as many of memory."""
_FILTER = {
    "id": lzma.FILTER_LZMA1,
    "dict_size": DICTIONARY,
    "lc": 4,
    "lp": 0,
    "pb": 0,
    "mode": lzma.MODE_NORMAL,
    "mf": lzma.MF_BT2,
    "nice_len": 32,
}
"""Bare LZMA. `unpack.js` knows `lc`, `lp` and `pb`, which suit text: a letter depends on the one
before it, not on its place. Longer matches than 32 bytes save 1 % for a third more time; to find
them by more than two bytes saves nothing, for a third more memory."""
_MOST_AT_ONCE = 4
_LINE = re.compile(rb"[^\n]*\n|[^\n]+")


def pack(texts: Iterable[bytes]) -> bytes:
    """Return texts one after another as one packed file; where each begins is not told."""
    order, lines = _told_once(texts)
    whole = memoryview(b"".join([order, *lines]))
    del lines
    long = math.ceil(len(whole) / math.ceil(len(whole) / PIECE)) if whole else PIECE
    pieces = [whole[start : start + long] for start in range(0, len(whole), long)]
    # Packing lets go of the interpreter, so threads do it side by side.
    with ThreadPoolExecutor(min(os.cpu_count() or 1, _MOST_AT_ONCE)) as processors:
        packed = list(processors.map(_packed, pieces))
    sizes = [size for piece in zip(packed, pieces, strict=True) for size in map(len, piece)]
    head = struct.pack(f"<{2 + len(sizes)}I", len(order), len(pieces), *sizes)
    return b"".join([head, *packed])


def _packed(piece: memoryview) -> bytes:
    return lzma.compress(piece, format=lzma.FORMAT_RAW, filters=[_FILTER])


def _told_once(texts: Iterable[bytes]) -> tuple[bytes, list[bytes]]:
    """Return the order of the lines and every line once."""
    places: dict[bytes, int] = {}
    order = bytearray()
    followers = array("I")  # of each line the one that came after it last; itself at first
    last = 0
    for line in _lines(texts):
        known = len(places)
        place = places.setdefault(line, known)
        if place == known:
            number = 0
            followers.append(known)
        elif followers[last] == place:
            number = 1
        else:
            number = 2 + place
        while number > 127:
            order.append(number & 127 | 128)
            number >>= 7
        order.append(number)
        followers[last] = place
        last = place
    return bytes(order), list(places)


def _lines(texts: Iterable[bytes]) -> Iterable[bytes]:
    """Return all lines; a text that ends within one goes on in the next text."""
    rest = b""
    for text in texts:
        lines = _LINE.findall(rest + text)
        rest = b"" if not lines or lines[-1].endswith(b"\n") else lines.pop()
        yield from lines
    if rest:
        yield rest
