"""Files that are no YAML, no text, no file, or have no name a file may have."""

from __future__ import annotations

import random

from tests.fuzz.breaks import Broken, way
from tests.fuzz.ground import FOLDER, GONE, PIPE, Ground, Linked, Sparse

# ---- what stands in a file


def _line_end(text: str, rng: random.Random) -> int:
    """Return where some line begins that has no indentation, which is between two fields."""
    starts = [0] + [i + 1 for i, c in enumerate(text[:-1]) if c == "\n"]
    tops = [at for at in starts if text[at : at + 1].isalpha()]
    return rng.choice(tops)


def _inserted(ground: Ground, rng: random.Random, line: str) -> Broken:
    """Put a line between two fields of any record."""
    file = ground.any_record(rng)
    text = ground.texts[file]
    at = _line_end(text, rng)
    return Broken({file: (text[:at] + line + text[at:]).encode()}, file)


@way("refused")
def a_tab_before_a_field(ground, rng):
    return _inserted(ground, rng, "notes:\n\t- a\n")


@way("refused")
def a_quote_left_open(ground, rng):
    return _inserted(ground, rng, rng.choice(["notes: 'open\n", 'notes: "open\n']))


@way("refused")
def a_bracket_left_open(ground, rng):
    return _inserted(ground, rng, rng.choice(["notes: [a, b\n", "notes: {a: b\n"]))


@way("refused")
def a_field_given_twice(ground, rng):
    file = ground.any_record(rng)
    return Broken({file: (ground.texts[file] + "\ntitle: Again\n").encode()}, file)


@way("refused")
def aliases_that_explode(ground, rng):
    file = ground.any_record(rng)
    lines = ["x0: &x0 [a, a, a, a, a, a, a, a, a]"]
    for n in range(1, rng.choice([3, 12, 60])):
        lines.append(f"x{n}: &x{n} [{', '.join([f'*x{n - 1}'] * 9)}]")
    return Broken({file: ("\n".join(lines) + "\n" + ground.texts[file]).encode()}, file, 1)


@way("refused")
def an_anchor_a_tag_or_a_merge(ground, rng):
    line = rng.choice(
        [
            "notes: &a [x]\n",
            "notes: *nothing\n",
            "notes: !!python/object/apply:os.system ['true']\n",
            "notes: !!binary aGk=\n",
            "notes: !<tag:x> y\n",
            "<<: {a: b}\n",
            "%YAML 3.9\n",
            "? [a, b]\n: c\n",
            "? {a: b}\n",
        ]
    )
    return _inserted(ground, rng, line)


@way("refused")
def nested_too_deep(ground, rng):
    depth = rng.choice([30, 2_000, 100_000])
    opening, closing = rng.choice([("[", "]"), ("{a: ", "}"), ("- ", "")])
    middle = "x" if closing else "x\n"
    between = "notes:\n" if opening == "- " else "notes: "
    return _inserted(ground, rng, between + opening * depth + middle + closing * depth + "\n")


@way("refused")
def a_very_long_value(ground, rng):
    name, sign = rng.choice(["title", "answer", "group", "notes"]), rng.choice("a*_{`<é𝔸 ")
    long = sign * rng.choice([1_600, 20_000, 300_000])
    value = f"[{long!r}]" if name == "notes" else repr(long if sign != " " else f"a{long}b")
    file = ground.any_record(rng)
    lines = [line for line in ground.texts[file].split("\n") if not line.startswith(f"{name}:")]
    return Broken({file: ("\n".join(lines) + f"\n{name}: {value}\n").encode()}, file)


@way("refused")
def a_file_too_large(ground, rng):
    file = ground.any_record(rng)
    content = rng.choice([Sparse(2_000_000_000), ("#" * 500_000 + "\n").encode()])
    return Broken({file: content}, file, 1)


@way("refused")
def many_thousand_mistakes(ground, rng):
    file = ground.any_record(rng)
    many = rng.choice(
        [
            "see: [" + ", ".join(f"terms/nothing-{n}" for n in range(15_000)) + "]\n",
            "see: [" + ", ".join(["Not/A ref"] * 25_000) + "]\n",
            "".join(f"nosuchfield{n}: x\n" for n in range(15_000)),
            "notes: [" + ", ".join(f"'{{nope-{n}}}'" for n in range(15_000)) + "]\n",
            "was: [" + ", ".join(f"A{n}" for n in range(30_000)) + "]\n",
            "figures: {" + ", ".join(f"f{n}: 1 zorkmid" for n in range(15_000)) + "}\n",
            "figures: {" + ", ".join(f"f{n}: {{}}" for n in range(20_000)) + "}\n",
            "moved: {" + ", ".join(f"f{n}: terms/x-{n}" for n in range(15_000)) + "}\n",
            "notes: [" + "''," * 90_000 + "]\n",
            "moved: {" + ", ".join("a: terms/x" for n in range(20_000)) + "}\n",
        ]
    )
    lines = [
        line
        for line in ground.texts[file].split("\n")
        if not line.startswith(many.partition(":")[0] + ":")
    ]
    keep = (
        [line for line in lines if not line.startswith(("  ", "- "))]
        if rng.random() < 0.2
        else lines
    )
    return Broken({file: ("\n".join(keep) + "\n" + many).encode()}, file)


HIDDEN = (
    "\x00\x01\x07\x08\x0b\x0c\x1b\x7f\x80\x9f\u200b\u200e\u200f\u202a\u202e\u2066\u2069\ufeff\ufffe"
)


@way("refused")
def a_control_character(ground, rng):
    value = rng.choice(ground.values["text"])
    start, _ = value.node.span
    text = ground.texts[value.file]
    at = rng.randrange(start, start + 6)
    return Broken({value.file: (text[:at] + rng.choice(HIDDEN) + text[at:]).encode()}, value.file)


@way("refused")
def a_control_character_as_an_escape(ground, rng):
    value = rng.choice([v for v in ground.values["text"] if v.file != "data/base/brand.yml"])
    escape = rng.choice(
        [
            r"\0",
            r"\a",
            r"\b",
            r"\e",
            r"\x7f",
            r"\x85",
            r"\u200b",
            r"\u202e",
            r"\u2066",
            r"\ufeff",
            r"\ud800",
            r"\udfff",
            r"\ufffe",
            r"\L",
            r"\P",
            r"\N",
            r"\U0001d173",
            r"\u061c",
        ]
    )
    written = f'"before {escape} after"'
    return Broken(ground.replaced(value, written), value.file, value.line)


@way("refused")
def no_utf_8(ground, rng):
    file = ground.any_record(rng)
    text = ground.texts[file] + "# é\n"
    return Broken(
        {
            file: rng.choice(
                [
                    text.encode("utf-16"),
                    text.encode("utf-16-be"),
                    text.encode("utf-32"),
                    text.encode("latin-1", "replace"),
                    text.encode() + b"\xff\xfe",
                    text.encode() + b"# \xed\xa0\x80\n",
                    text.encode() + b"# \xc0\xaf\n",
                    text.encode("cp1252", "replace"),
                ]
            )
        },
        file,
    )


@way("refused")
def an_empty_or_binary_file(ground, rng):
    file = ground.any_record(rng)
    contents = [b"", b"\n\n", b"# nothing\n", b"---\n", b"null\n", b"[]\n", b"{}\n", b"just text\n"]
    contents += [b"- a\n- b\n", b"\x89PNG\r\n\x1a\n" + rng.randbytes(400), rng.randbytes(2000)]
    contents += [
        b"\x00" * 5000,
        b"PK\x03\x04" + rng.randbytes(300),
        b"42\n",
        b"...\n",
        b"\xef\xbb\xbf",
    ]
    return Broken({file: rng.choice(contents)}, file)


@way("refused")
def a_second_document(ground, rng):
    file = ground.any_record(rng)
    return Broken({file: (ground.texts[file] + "\n---\ntitle: Another\n").encode()}, file)


def _any_file(ground, rng):
    """Return any file, but for the words: that the base says them all is proved elsewhere."""
    return rng.choice(sorted(ground.nodes.keys() - {"data/base/words.yml"}))


@way("either")
def a_sign_anywhere(ground, rng):
    file = _any_file(ground, rng)
    text = ground.texts[file]
    at = rng.randrange(len(text))
    sign = rng.choice([*list(":-#'\"{}[]&*!|>%@`,\t\n ?~=\\<$0aZé"), ""])
    return Broken({file: (text[:at] + sign + text[at + rng.choice([0, 1]) :]).encode()})


@way("either")
def a_line_taken_out(ground, rng):
    file = _any_file(ground, rng)
    lines = ground.texts[file].split("\n")
    del lines[rng.randrange(len(lines))]
    return Broken({file: "\n".join(lines).encode()})


@way("either")
def a_line_written_twice_or_moved(ground, rng):
    file = _any_file(ground, rng)
    lines = ground.texts[file].split("\n")
    at, to = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines.insert(to, lines[at] if rng.random() < 0.5 else lines.pop(at))
    return Broken({file: "\n".join(lines).encode()})


@way("either")
def a_file_cut_short(ground, rng):
    file = _any_file(ground, rng)
    raw = ground.texts[file].encode()
    return Broken({file: raw[: rng.randrange(len(raw))]})


# ---- names and links


@way("refused")
def a_name_no_record_may_have(ground, rng):
    kind = rng.choice(["materials", "terms", "machines"])
    stem = rng.choice(
        [
            "CON",
            "aux",
            "nul",
            "com1",
            "lpt9",
            "prn",
            "x ",
            " x",
            "X",
            "a--b",
            "-a",
            "a-",
            "a_b",
            "a.b",
            "ünd",
            "a\nb",
            "a\tb",
            "\u202ea",
            "a" * 61,
            "a" * 200,
            "a�",
            "%2e%2e",
            "a'b",
            'a"b',
            "<b>",
            "a;b",
            "$(id)",
            "{x}",
            "*",
            "a\\b",
            "~",
            "index",
            "\x1b[31m",
        ]
    )
    file = f"data/pebblecombe/{kind}/{stem}.yml"
    return Broken({file: ground.texts["data/base/terms/bypass.yml"].encode()})


@way("refused")
def a_file_that_is_no_record(ground, rng):
    name = rng.choice(
        ["x.yaml", "x.YML", "x.txt", "x", "README.md", "x.yml.bak", "x.yml~", "x.json"]
    )
    kind = rng.choice(["materials", "terms"])
    return Broken({f"data/pebblecombe/{kind}/{name}": b"title: x\n"})


@way("refused")
def a_folder_of_no_kind(ground, rng):
    name = rng.choice(["material", "Materials", "con", "a b", "x.yml", "é", "\udcff"])
    return Broken({f"data/pebblecombe/{name}/x.yml": b"title: x\n"})


@way("refused")
def a_stray_file_of_yaml(ground, rng):
    name = rng.choice(
        ["x.yml", "x.yaml", "brand.yaml", "CON.yml", "words.YAML".lower(), "\udcff.yml"]
    )
    return Broken({f"data/pebblecombe/{name}": b"title: x\n"})


@way("refused")
def a_link_out_of_the_folder(ground, rng):
    to = rng.choice(
        [
            "/etc/passwd",
            "/dev/zero",
            "/dev/null",
            "/proc/self/environ",
            "../../../mkdocs.yml",
            "/",
            "../../base/brand.yml",
            "nowhere.yml",
            "/dev/stdin",
            "/proc/self/fd/0",
            ".",
        ]
    )
    at = rng.choice(["terms/x.yml", "materials/x.yml", "machines/alder-barrow.yml"])
    return Broken({f"data/pebblecombe/{at}": Linked(to)})


@way("refused")
def a_single_file_that_leads_out(ground, rng):
    to = rng.choice(["/dev/zero", "/etc/passwd", "../base/brand.yml", "brand.yml", "/proc/kmsg"])
    name = rng.choice(["brand.yml", "words.yml", "overrides.yml", "published.yml"])
    return Broken({f"data/pebblecombe/{name}": Linked(to)})


@way("refused")
def a_folder_that_leads_out(ground, rng):
    to = rng.choice(["../base/terms", "nowhere", "/etc", "..", "../pebblecombe"])
    return Broken({f"data/pebblecombe/{rng.choice(['terms', 'materials'])}": Linked(to)})


@way("refused")
def a_pipe_or_folder_for_a_file(ground, rng):
    at = rng.choice(
        ["terms/x.yml", "brand.yml", "words.yml", "published.yml", "machines/hazel-van.yml"]
    )
    return Broken({f"data/pebblecombe/{at}": rng.choice([PIPE, FOLDER])})


@way("refused")
def a_record_that_others_name_taken_away(ground, rng):
    file = rng.choice(
        [f"data/base/hazards/{n}.yml" for n in ("injection", "whip", "confined-space")]
        + [f"data/base/parts/{n}.yml" for n in ("unloader", "pulse-valve", "petrol-engine")]
    )
    return Broken({file: GONE}) if file in ground.texts else None


# ---- what changes nothing


@way("accepted")
def the_same_in_another_dress(ground, rng):
    file = rng.choice([f for f in ground.nodes if f != "data/base/published.yml"])
    text = ground.texts[file]
    dress = rng.choice(
        [
            lambda: text.replace("\n", "\r\n").encode(),
            lambda: b"\xef\xbb\xbf" + text.encode(),
            lambda: ("# a comment with a tab\t, <b> and {{ }}\n\n" + text).encode(),
            lambda: (text + "\n\n\n# the end").encode(),
            lambda: ("---\n" + text).encode(),
        ]
    )
    return Broken({file: dress()})


@way("accepted")
def what_is_no_data(ground, rng):
    name = rng.choice(
        ["README.md", ".hidden.yml", "terms/.x.yml", "assets/x.exe", "examples/x/y.yml"]
    )
    return Broken({f"data/pebblecombe/{name}": rng.randbytes(50)})
