"""The pack, read here as its description says, gives back every byte."""

from __future__ import annotations

import lzma
import random
import struct

import pytest

from refgen import packs
from refgen.packs import pack
from tests.packed import unpacked


@pytest.mark.parametrize(
    "texts",
    [
        [],
        [b""],
        [b"a"],
        [b"no end", b" of line\n", b"\n", b"no end"],
        [b"\n\n\n", b"\n", b"a\n\n"],
        [b"one\ntwo\n", b"one\ntwo\n", b"two\none\n", b"one\none\ntwo"],
        [b"a return\r\nis no end of line\r\n", b"is no end of line\r\n"],
        ["Grün – 3/8″ ≤ 10 °C\n".encode() * 3],
    ],
)
def test_what_is_packed_comes_out_again(texts: list[bytes]) -> None:
    assert unpacked(pack(texts)) == b"".join(texts)


def test_lines_in_any_order_come_out_again() -> None:
    chance = random.Random(1)
    known = [b"%d\n" % n for n in range(40_000)]  # so many that a place needs three bytes
    lines = known + [chance.choice(known[-300:]) for _ in range(5000)]
    assert unpacked(pack(lines)) == b"".join(lines)


def test_more_than_a_piece_comes_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packs, "PIECE", 1000)
    texts = [random.Random(n).randbytes(700) for n in (1, 2, 3, 1)]
    packed = pack(texts)
    # 3 texts of 700 bytes, the fourth told already, and less than 10 bytes of order: 3 pieces.
    assert struct.unpack_from("<I", packed, 4) == (3,)
    lengths = struct.unpack_from("<6I", packed, 8)[1::2]
    assert max(lengths) - min(lengths) < 3, "each processor has as much to do"
    assert unpacked(packed) == b"".join(texts)


def test_a_line_that_was_told_is_not_told_again() -> None:
    lines = [random.Random(n).randbytes(300).replace(b"\n", b"") + b"\n" for n in range(50)]
    once = len(pack(lines))
    # Each time the same lines in the same order: a byte a line, all of them alike.
    assert len(pack(lines * 40)) < once + 100


def test_the_same_texts_give_the_same_bytes_however_they_are_cut() -> None:
    text = b"".join(random.Random(2).choice([b"<p>\n", b"</p>\n", b"text "]) for _ in range(3000))
    cut = [text[start : start + 7] for start in range(0, len(text), 7)]
    assert pack([text]) == pack(cut)


def test_a_page_needs_no_more_than_the_format_says() -> None:
    """The first piece is bare LZMA with what the order and the lines are described to be."""
    packed = pack([b"a\nb\na\nb\n"])
    ordered, pieces, size, length = struct.unpack_from("<4I", packed)
    how = {"id": lzma.FILTER_LZMA1, "dict_size": 3 << 20, "lc": 4, "lp": 0, "pb": 0}
    piece = lzma.LZMADecompressor(lzma.FORMAT_RAW, filters=[how]).decompress(packed[16:], length)
    assert (ordered, pieces, size) == (4, 1, len(packed) - 16)
    # New, new, place 0 (nothing has followed b yet), then what followed a.
    assert piece == bytes([0, 0, 2, 1]) + b"a\nb\n"
