"""Values of another type, unit, size or shape than the model of their record asks for."""

from __future__ import annotations

import random

from tests.fuzz.breaks import Broken, instead, of_last_layer, way
from tests.fuzz.ground import STEERING, Ground

OTHER_UNIT = {"pressure": "3 ft", "length": "40 psi", "flow": "7 min", "temperature": "5 gpm"}


@way("refused")
def a_map_for_a_value(ground, rng):
    sort = rng.choice(
        ["plain", "text", "ref", "choice", "truth", "quantity", "number", "whole", "short"]
    )
    value = of_last_layer(ground, rng, sort)
    return instead(ground, value, rng.choice(["{zzz: zzz}", "{zzz: {zzz: [zzz]}}"]))


@way("refused")
def a_list_for_a_value(ground, rng):
    value = of_last_layer(
        ground, rng, rng.choice(["plain", "text", "ref", "choice", "truth", "quantity", "number"])
    )
    return instead(ground, value, rng.choice(["[a]", "[]", "[[a], {b: c}]"]))


@way("refused")
def nothing_for_a_value(ground, rng):
    value = of_last_layer(ground, rng, rng.choice(["plain", "text", "ref", "quantity"]))
    if not isinstance(value.path[-1], str):
        return None
    empty = rng.choice(["''", '""', "'   '"])
    return instead(ground, value, empty)


@way("refused")
def truth_for_text(ground, rng):
    return instead(ground, of_last_layer(ground, rng, rng.choice(["plain", "text"])), "true")


@way("refused")
def no_choice(ground, rng):
    value = of_last_layer(ground, rng, "choice")
    return instead(ground, value, rng.choice(["zorkmid", "'Danger'", "1", "'\"'", "'../x'", "{}"]))


@way("refused")
def no_truth(ground, rng):
    value = of_last_layer(ground, rng, "truth")
    return instead(ground, value, rng.choice(["perhaps", "2", "'tru'", "'ja'", "1e400"]))


@way("refused")
def no_number(ground, rng):
    value = of_last_layer(ground, rng, rng.choice(["number", "whole"]))
    wrong = ["nan", ".nan", ".inf", "-.inf", "1e999", "-1", "1_0_0_0_0", "x", "0x1F3", "'1,5'"]
    wrong += ["9" * 5000, "1" + "0" * 400, "-0.0000001", "Infinity", "٣٣٣٣", "1e-400"]
    return instead(ground, value, rng.choice(wrong))


@way("refused")
def no_quantity(ground, rng):
    value = of_last_layer(ground, rng, "quantity")
    wrong = [
        "1900",
        "psi",
        "1900 furlongs",
        "nan psi",
        "inf psi",
        "1e9 psi",
        "1/0 psi",
        "1,900 psi",
    ]
    wrong += ["'--5 psi'", "5 psi psi", "9" * 70 + " psi", "'5 \\u200bpsi'", "0x10 psi", "'½½ in'"]
    wrong += [
        "'5 psi; rm'",
        "1" + "0" * 5000 + " psi",
        "'5 <b>psi</b>'",
        "1..5 psi",
        "٣ psi",
        "5psı",
    ]
    return instead(ground, value, rng.choice(wrong))


@way("refused")
def a_quantity_of_another_kind(ground, rng):
    value = of_last_layer(ground, rng, "quantity")
    if value.of is None:
        return None
    return instead(ground, value, OTHER_UNIT.get(value.of, "3 ft"))


@way("refused")
def a_quantity_out_of_all_bounds(ground, rng):
    value = of_last_layer(ground, rng, "quantity")
    beyond = {
        "pressure": ["-1 psi", "26000 psi", "99999 bar"],
        "flow": ["0 gpm", "-1 gpm", "501 gpm"],
        "temperature": ["-300 degC", "201 degC", "-500 degF", "1e3 K"],
    }
    if value.of not in beyond:
        return None
    return instead(ground, value, rng.choice(beyond[value.of]))


@way("refused")
def no_day(ground, rng):
    days = [v for v in ground.values["other"] if v.path[-1] in ("on", "next")]
    wrong = [
        "2026-13-01",
        "2026-02-30",
        "yesterday",
        "20261120",
        "2026",
        "0",
        "2026-1-1",
        "0000-00-00",
    ]
    return instead(
        ground, rng.choice(days), rng.choice([*wrong, "'2026-11-20T00:00'", "99999-01-01"])
    )


@way("refused")
def no_id(ground, rng):
    ids = [v for v in ground.values["other"] if v.path[-1] in ("id", "group", "go")]
    wrong = [
        "../x",
        "A",
        "a_b",
        "a--b",
        "'a b'",
        "'#a'",
        "<b>",
        "é",
        "'" + "a" * 61 + "'",
        "javascript:x",
    ]
    value = rng.choice([v for v in ids if v.file != "data/base/brand.yml"])
    return instead(ground, value, rng.choice(wrong))


@way("refused")
def an_id_given_twice(ground, rng):
    ids = [
        v for v in ground.values["other"] if v.path[-1] == "id" and v.path[0] in ("steps", "causes")
    ]
    value = rng.choice(ids)
    twins = [v for v in ids if v.file == value.file and v is not value and len(v.path) == 3]
    if len(value.path) != 3 or not twins:
        return None
    taken = instead(ground, value, str(rng.choice(twins).node.value))
    return Broken(taken.edits, value.file)


@way("refused")
def a_field_left_out(ground, rng):
    found = rng.choice(ground.maps)
    if found.file == "data/base/brand.yml" or not isinstance(found.node.value, dict):
        return None
    needed = [
        info.alias or name
        for name, info in found.model.model_fields.items()
        if info.is_required() and (info.alias or name) in found.node.value
    ]
    if not needed:
        return None
    name = rng.choice(needed)
    start = found.node.value[name].name_span[0]
    text = ground.texts[found.file]
    renamed = f"zzz-{name}"
    return Broken(
        {found.file: (text[:start] + renamed + text[start + len(name) :]).encode()}, found.file
    )


@way("refused")
def a_field_nobody_knows(ground, rng):
    found = rng.choice(ground.maps)
    if not isinstance(found.node.value, dict) or not found.node.value:
        return None
    first = next(iter(found.node.value.values()))
    start = first.name_span[0]
    text = ground.texts[found.file]
    column = start - text.rfind("\n", 0, start) - 1
    before = text[text.rfind("\n", 0, start) + 1 : start]
    if before.strip("- ") or found.model.__name__ == "Words":  # inside braces: another grammar
        return None
    name = rng.choice(
        ["zzz", "__class__", "model_config", "constructor", "'a b'", "0", "~", "<<", "é"]
    )
    added = f"{name}: x\n{' ' * column}"
    return Broken({found.file: (text[:start] + added + text[start:]).encode()}, found.file)


@way("refused")
def words_of_the_merge_in_the_first_layer(ground, rng):
    file = ground.any_record(rng)
    if not file.startswith("data/base/"):
        return None
    word = rng.choice(STEERING)
    if word == "hide":
        return Broken({file: (ground.texts[file] + "\nhide: true\n").encode()})
    return Broken({file: (ground.texts[file] + f"\n{word}: x\n").encode()}, file)


@way("accepted")
def another_text(ground: Ground, rng: random.Random) -> Broken | None:
    sort = rng.choice(["text", "plain"])
    value = of_last_layer(ground, rng, sort)
    if value.file.startswith(("data/base/words", "data/pebblecombe/brand")) or "jet" in value.path:
        return None
    text = rng.choice(
        [
            "<script>alert(1)</script>",
            "</main></body>",
            "{{ 7*7 }}",
            "{% include 'x' %}",
            "a & b < c",
            "]]>",
            "<!--",
            "${{x}}",
            "=1+1",
            "@SUM(A1)",
            "[a](javascript:alert(1))",
            "![x](http://x)",
            "'; DROP TABLE x;--",
            "C'est l'été",
            "مرحبا بالعالم",
            "日本語",
            "👷🏽\u200d♀️".replace("\u200d", ""),
            "*" * 100,
            "_*_*" * 70,
            "\\*x\\*",
            "`x`",
            "%s %d {{}}",
            "\\u0000",
            "á̂",
            "x" * 300,
        ]
    )
    return instead(ground, value, "'" + text.replace("'", "''") + "'")
