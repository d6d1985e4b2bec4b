"""The worker's own unpacking, run in Chromium, gives back what the packer was given."""

from __future__ import annotations

import base64
import random
from pathlib import Path

import pytest
from playwright.sync_api import Error, Page

from refgen.bundled import bundled
from refgen.packs import pack

pytestmark = pytest.mark.browser

SCRIPT = (bundled("site_templates") / "theme" / "unpack.js").read_text("utf-8")
UNPACK = """([packed, size]) => {
  const bytes = unpack(Uint8Array.from(atob(packed), (sign) => sign.charCodeAt(0)), size);
  let signs = "";
  for (let i = 0; i < bytes.length; i += 1) signs += String.fromCharCode(bytes[i]);
  return btoa(signs);
}"""


def unpacked(page: Page, content: bytes) -> bytes:
    packed = base64.b64encode(pack([content])).decode()
    return base64.b64decode(page.evaluate(UNPACK, [packed, len(content)]))


def contents() -> list[bytes]:
    """Return contents that between them use every way of the format."""
    chance = random.Random(3)
    noise = chance.randbytes(70_000)
    copies = bytearray(noise[:5000])
    for _ in range(4000):  # copies of any length from any distance, some of them used again
        back = chance.choice([1, 2, 3, 4, 7, 100, 130, 2000, chance.randint(1, len(copies))])
        for _ in range(chance.choice([1, 2, 9, 10, 17, 18, 272, 273, 274])):
            copies.append(copies[-min(back, len(copies))])
        copies += chance.randbytes(chance.choice([0, 0, 1, 3]))
    far = noise + bytes(3_000_000) + noise
    words = [chance.randbytes(chance.randint(1, 9)) for _ in range(40)]
    return [
        b"",
        b"a",
        b"ab",
        b"a" * 300_000,
        bytes(range(256)) * 50,
        noise,
        bytes(copies),
        far,
        b" ".join(chance.choice(words) for _ in range(60_000)),
        "<p>Grün – 3/8″ ≤ 10 °C</p>\n".encode() * 99,
        b"".join(b"%d\n" % chance.choice([n, n // 2, 7]) for n in range(40_000)),
        b"\n" * 1000,
    ]


def test_whatever_is_packed_comes_out_again(page: Page) -> None:
    page.add_script_tag(content=SCRIPT)
    for number, content in enumerate(contents()):
        assert unpacked(page, content) == content, number


def test_the_whole_site_comes_out_again(page: Page, site: Path) -> None:
    page.add_script_tag(content=SCRIPT)
    content = b"".join(path.read_bytes() for path in sorted(site.rglob("*.html")))
    assert unpacked(page, content) == content
    assert len(pack([content])) < len(content) / 10


def test_damaged_bytes_end_and_give_others_or_none(page: Page) -> None:
    page.add_script_tag(content=SCRIPT)
    chance = random.Random(4)
    content = b"".join(chance.choice([b"<p>\n", b"</p>\n", b"text "]) for _ in range(9000))
    whole, refused = pack([content]), []
    for place in (0, 3, 4, 7, 8, 11, 12, 15, 16, 21, *range(30, len(whole), len(whole) // 20)):
        packed = bytearray(whole)
        packed[place] ^= 0x55
        encoded = base64.b64encode(packed).decode()
        try:
            answer = page.evaluate(UNPACK, [encoded, len(content)])
        except Error as error:
            refused.append(str(error))
            continue
        other = base64.b64decode(answer)
        assert len(other) == len(content)
        assert other != content or place < 17  # such as the length of the only piece
    assert all("RangeError" in said for said in refused)
