"""Brand, words, locks, notes and settings that are wrong, and layers at odds."""

from __future__ import annotations

from tests.fuzz.breaks import Broken, way
from tests.fuzz.ground import FOLDER, PROJECT

BRAND = "data/pebblecombe/brand.yml"
LAYER = "data/pebblecombe"


def of_company(file: str, text: str) -> Broken:
    """Write one file of the company's layer."""
    return Broken({f"{LAYER}/{file}": text.encode()})


def _brand(ground, name, value):
    lines = ground.texts[BRAND].split("\n")
    kept = [line for line in lines if not line.startswith(f"{name}:")]
    return Broken({BRAND: ("\n".join(kept) + f"\n{name}: {value}\n").encode()}, BRAND)


@way("refused")
def a_brand_that_cannot_be(ground, rng):
    name, value = rng.choice(
        [
            ("address", "javascript:alert(1)"),
            ("address", "'https://x\"onload=y'"),
            ("address", "ftp://x"),
            ("language", "english"),
            ("language", "../x"),
            ("units_first", "imperial"),
            ("logo", "../../etc/passwd"),
            ("logo", "/etc/passwd"),
            ("logo", "logo.gif"),
            ("logo", "nothing.svg"),
            ("logo", ".svg"),
            ("logo", "'logo.svg\\x00.png'"),
            ("logo", '"logo\\0.png"'),
            ("site", "[a]"),
            ("name", "''"),
            ("approver", "'" + "x" * 301 + "'"),
            ("withdrawn", "[{id: a, page: terms/bypass, why: x}]"),
            ("withdrawn", "[{id: a, page: materials/zzz, why: x}]"),
            ("withdrawn", "[{id: a, page: materials/brick}]"),
            ("contacts", "[{id: a}, {id: a}]"),
            ("emergency", "{}"),
            ("zzz", "x"),
        ]
    )
    return _brand(ground, name, value)


@way("refused")
def colours_that_cannot_be_read(ground, rng):
    pair = rng.choice(
        [
            ("'#777777'", "'#888888'"),
            ("red", "'#ffffff'"),
            ("'#12'", "'#ffffff'"),
            ("'#fff;}'", "'#000000'"),
            ("'#17404a'", "url(x)"),
            ("'#ffffff'", "'#ffffff'"),
        ]
    )
    lines = ground.texts[BRAND].split("\n")
    lines = [
        line for line in lines if not line.startswith(("colours:", "  primary", "  on_primary"))
    ]
    colours = f"colours:\n  primary: {pair[0]}\n  on_primary: {pair[1]}\n"
    return Broken({BRAND: ("\n".join(lines) + "\n" + colours).encode()}, BRAND)


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">'


def _bomb_of_uses() -> bytes:
    parts = ['<g id="a0"><rect width="9" height="9"/></g>']
    parts += [f'<g id="a{n}">' + f'<use href="#a{n - 1}"/>' * 9 + "</g>" for n in range(1, 12)]
    return SVG + "".join(parts).encode() + b"</svg>"


@way("refused")
def a_logo_that_can_do_more_than_show(ground, rng):
    png = b"\x89PNG\r\n\x1a\n"
    content = rng.choice(
        [
            SVG + b"<script>alert(1)</script></svg>",
            SVG + b'<rect width="9" height="9" onload="x()"/></svg>',
            SVG + b'<image href="http://x/y.png"/></svg>',
            SVG + b'<a href="javascript:x"><rect width="9" height="9"/></a></svg>',
            SVG + b"<foreignObject/></svg>",
            SVG + b'<use href="/etc/passwd#x"/></svg>',
            b'<!DOCTYPE svg [<!ENTITY a "b"><!ENTITY c "&a;&a;">]>' + SVG + b"&c;</svg>",
            b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>' + SVG + b"&x;</svg>",
            _bomb_of_uses(),
            SVG + b"<g>" * 5000 + b'<rect width="9" height="9"/>' + b"</g>" * 5000 + b"</svg>",
            SVG + b'<rect width="1e99" height="nan"/></svg>',
            b"<svg/>",
            b"",
            rng.randbytes(500),
            b"<svg" + b" a" * 20_000,
            SVG * 500,
            SVG + b"</svg>",
            b"x" * 100_000,
        ]
    )
    del png
    return Broken({f"{LAYER}/assets/logo.svg": content})


@way("refused")
def a_picture_that_is_none(ground, rng):
    import struct
    import zlib

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    size = rng.choice([(60_000, 60_000), (0, 9), (2**31 - 1, 1), (9, 9)])
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", *size, 8, 6, 0, 0, 0))
    body = rng.choice(
        [zlib.compress(bytes(30_000_000)), b"", rng.randbytes(90), zlib.compress(b"")]
    )
    png = b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", body) + chunk(b"IEND", b"")
    png = rng.choice([png, png[:-20], png[:30], b"GIF89a"])
    told = _brand(ground, "logo", "mark.png")
    return Broken({**told.edits, f"{LAYER}/assets/mark.png": png})


WORDS = f"{LAYER}/words.yml"


@way("refused")
def words_that_cannot_be_said(ground, rng):
    line = rng.choice(
        [
            "page_mark: 'Page {nope}'",
            "page_mark: 'Page {'",
            "page_mark: 'Page {mark.__class__}'",
            "page_mark: 'Page {mark!x}'",
            "page_mark: 'Page {mark:>999999999}'",
            "page_mark: 'Page {0}'",
            "page_mark: 'Page {}'",
            "home: {hide: true}",
            "bar_home: {hide: true}",
            "home: [a]",
            "home: ''",
            "'Home Page': x",
            "'../x': y",
            "__class__: x",
        ]
    )
    return Broken({WORDS: f"words:\n  {line}\n".encode()}, WORDS)


@way("refused")
def no_words(ground, rng):
    content = rng.choice(
        [
            "words: []\n",
            "words: x\n",
            "zzz: x\n",
            "synonyms: x\n",
            "synonyms: [[]]\n".replace("[]]", "{}]]"),
            "synonyms: [x]\n",
            "words: {}\nsynonyms: {}\n",
            "words: ~\n",
        ]
    )
    return Broken({WORDS: content.encode()})


@way("accepted")
def other_words(ground, rng):
    line = rng.choice(
        ["home: Start", "page_mark: 'Blatt {mark}'", "bar_home: '<b>'", "home: '{{ x }}'"]
    )
    return Broken({WORDS: f"words:\n  {line}\n".encode()})


@way("refused")
def a_lock_that_is_none(ground, rng):
    content = rng.choice(
        ["a\n", "terms/bypass: x\n", "terms/bypass: [[a]]\n", "terms/bypass: {a: b}\n"]
    )
    return of_company("published.yml", content)


@way("refused")
def notes_that_are_none(ground, rng):
    content = rng.choice(["a\n", "terms/bypass: x\n", "terms/bypass: [a]\n", "- a\n"])
    return of_company("overrides.yml", content)


@way("accepted")
def notes_of_what_is_no_more(ground, rng):
    content = rng.choice(
        [
            "terms/zzz: {answer: '\"x\"'}\n",
            "a/b: {c: {d: [e]}}\n",
            "terms/bypass: {}\n",
            "x: {'': ~}\n",
        ]
    )
    return of_company("overrides.yml", content)


# ---- layers at odds


@way("refused")
def layers_at_odds(ground, rng):
    file, content = rng.choice(
        [
            ("materials/pvc-solid.yml", "ceilings: {worn: {is: 9000 psi, basis: caution, why: x}}"),
            ("materials/pvc-solid.yml", "ceilings: {worn: {hide: true}}"),
            ("materials/pvc-solid.yml", "hide: maybe"),
            ("materials/pvc-solid.yml", "recognise: x"),
            ("materials/pvc-solid.yml", "title: {a: b}"),
            ("materials/pvc-solid.yml", "zzz: {hide: true}"),
            ("materials/pvc-solid.yml", "ceilings: []"),
            ("hazards/injection.yml", "hide: true"),
            ("hazards/injection.yml", "signal: notice"),
            ("hazards/injection.yml", "prevent: [{id: zzz, text: x, after: nothing}]"),
            ("hazards/injection.yml", "prevent: [{id: zzz, hide: true}]"),
            ("hazards/injection.yml", "harm: [x]"),
            ("terms/zzz.yml", "hide: true"),
            ("terms/bypass.yml", "answer: ~"),
            ("terms/bypass.yml", "title: "),
            ("terms/bypass.yml", "was: [unloader]\nzzz: x"),
            ("procedures/start-machine.yml", "steps: [{id: zzz}]"),
            ("procedures/start-machine.yml", "steps: []"),
            ("parts/unloader.yml", "hide: true"),
        ]
    )
    return of_company(file, f"{content}\n")


@way("accepted")
def a_layer_that_goes_its_own_way(ground, rng):
    file, content = rng.choice(
        [
            ("materials/pvc-solid.yml", "ceilings: {worn: {is: 500 psi, basis: caution, why: x}}"),
            ("materials/pvc-solid.yml", "title: Ours"),
            ("materials/pvc-solid.yml", "recognise: [x, y]"),
            ("terms/bypass.yml", "answer: In our words."),
            ("terms/our-own.yml", "title: Ours\nanswer: A thing."),
            ("hazards/injection.yml", "prevent: [{id: zzz, text: And this.}]"),
        ]
    )
    return of_company(file, f"{content}\n")


@way("refused")
def two_pages_at_one_address(ground, rng):
    file = rng.choice(
        [
            "materials/index.yml",
            "machines/alder-barrow-handbook.yml",
            "machines/compare.yml",
            "lessons/first-day-trainer.yml",
            "lessons/first-day-sheets.yml",
        ]
    )
    kind = file.split("/")[0]
    origin = {
        "lessons": "data/base/lessons/first-day.yml",
        "machines": f"{LAYER}/machines/alder-barrow.yml",
    }
    text = ground.texts[origin.get(kind, "data/base/materials/pvc-solid.yml")]
    return Broken({f"{LAYER}/{file}": text.encode()}, f"{LAYER}/{file}")


# ---- the project


@way("refused")
def a_project_that_is_none(ground, rng):
    old, new = rng.choice(
        [
            ("material}", "mkdocs}"),
            ("material}", "zzz}"),
            ("- refgen", "- search"),
            ("plugins:", "zzz:"),
            ("site_name: Broken", "site_name: [a]"),
            ("docs_dir: files", "docs_dir: nowhere"),
            ("docs_dir: files", "docs_dir: data\nsite_dir: data/base"),
            ("docs_dir: files", "docs_dir: files\nsite_dir: data"),
            ("docs_dir: files", "docs_dir: files\nsite_dir: data/pebblecombe"),
            ("docs_dir: files", "docs_dir: files\nsite_dir: ."),
            ("docs_dir: files", "docs_dir: files\nsite_dir: .."),
            ("docs_dir: files", "docs_dir: files\nsite_dir: /"),
            ("docs_dir: files", "docs_dir: files\nsite_dir: files"),
            ("data/pebblecombe]", "data/pebblecombe"),
            ("data/pebblecombe]", "data/nowhere]"),
            ("data/pebblecombe]", "data/pebblecombe, data/pebblecombe]"),
            ("data/pebblecombe]", "3]"),
            ("data/pebblecombe]", "mkdocs.yml]"),
            ("[data/base, data/pebblecombe]", "x"),
            ("[data/base, data/pebblecombe]", "[]"),
            ("[data/base, data/pebblecombe]", "{a: b}"),
            ("      layers", "      zzz: x\n      layers"),
            ("      layers", "      templates: nowhere\n      layers"),
            ("      layers", "      since: [a]\n      layers"),
            ("site_name", "\tsite_name"),
            ("site_name", "x: &a [*a]\nx: 'open\nsite_name"),
            ("site_name", "hooks: [/etc/passwd]\nsite_name"),
            ("site_name", "- a\n- b\nsite_name"),
            (PROJECT, ""),
            (PROJECT, "[]\n"),
            (PROJECT, "x\n"),
            (PROJECT, "\x00"),
        ]
    )
    text = PROJECT.replace(old, new)
    content = (
        text.encode()
        if rng.random() < 0.95
        else rng.choice([rng.randbytes(99), text.encode("utf-16")])
    )
    return Broken({"mkdocs.yml": content})


@way("accepted")
def a_project_with_more_in_it(ground, rng):
    old, new = rng.choice(
        [
            ("data/pebblecombe]", "data/pebblecombe, data/third]"),
            ("site_name: Broken", "site_name: '{{ x }}<b>'"),
            ("docs_dir: files", "docs_dir: files\nsite_dir: out/deep"),
            ("docs_dir: files", "docs_dir: files\nsite_url: https://x.example/"),
        ]
    )
    return Broken({"mkdocs.yml": PROJECT.replace(old, new).encode(), "data/third": FOLDER})
