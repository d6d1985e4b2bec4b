"""References, citations, former ids and addresses that lead nowhere, or in a circle."""

from __future__ import annotations

from tests.fuzz.breaks import Broken, instead, of_last_layer, way

HOSTILE = ["../../etc/passwd", "terms/../x", "javascript:alert(1)", "terms/CON", "/", "#", "terms/"]
HOSTILE += ["terms/a#b#c", "http://x/y", "terms//x", "terms/x?y", "'terms/ x'", "//x", "terms/x/y"]


@way("refused")
def a_link_that_leads_nowhere(ground, rng):
    value = of_last_layer(ground, rng, "ref")
    kind = f"{value.of or 'terms'}/"
    wrong = [f"{kind}zzz-nothing", "zzzs/nothing", f"{kind}zzz#item", f"{kind}CON"]
    return instead(ground, value, rng.choice(wrong))


@way("refused")
def a_link_that_is_none(ground, rng):
    broken = instead(ground, of_last_layer(ground, rng, "ref"), rng.choice(HOSTILE))
    return Broken(broken.edits, broken.file)  # some are no YAML, which is told where it stops


@way("refused")
def a_link_to_no_item(ground, rng):
    value = of_last_layer(ground, rng, "ref")
    bare = str(value.node.value).partition("#")[0]
    return instead(ground, value, f"{bare}#zzz-nothing")


@way("refused")
def a_link_to_another_kind(ground, rng):
    value = of_last_layer(ground, rng, "ref")
    if not value.of:
        return None
    other = "terms/bypass" if value.of != "terms" else "materials/pvc-solid"
    return instead(ground, value, other)


@way("refused")
def a_citation_of_nothing(ground, rng):
    value = of_last_layer(ground, rng, "text")
    wrong = [
        "{zzz}",
        "{materials/zzz#worn}",
        "{materials/pvc-solid#zzz}",
        "{= 10 zorkmids}",
        "{= }",
    ]
    wrong += ["{= 1/0 in}", "{= -500 degC}", "{a/b#c}", "{zzzs/x#y}", "{= 1e9 psi}"]
    return instead(ground, value, f'"see {rng.choice(wrong)} here"')


@way("accepted")
def braces_that_cite_nothing_on_purpose(ground, rng):
    value = of_last_layer(ground, rng, "text")
    return instead(
        ground, value, rng.choice(['"{{ x }} and {{worn}}"', '"{% x %}"', '"{{}} {{x}}"'])
    )


@way("refused")
def a_former_id_that_still_exists(ground, rng):
    file = ground.any_record(rng)
    other = ground.any_record(rng, file.split("/")[2])
    stem = other.rsplit("/", 1)[1].removesuffix(".yml")
    if "\nwas:" in ground.texts[file]:
        return None
    return Broken({file: (ground.texts[file] + f"\nwas: [{stem}]\n").encode()}, file)


@way("refused")
def former_ids_in_a_circle(ground, rng):
    kind = ground.any_record(rng).split("/")[2]
    one, other = ground.any_record(rng, kind), ground.any_record(rng, kind)
    stems = [f.rsplit("/", 1)[1].removesuffix(".yml") for f in (one, other)]
    if "\nwas:" in ground.texts[one] + ground.texts[other] or one == other:
        return None
    return Broken(
        {
            one: (ground.texts[one] + f"\nwas: [{stems[1]}]\n").encode(),
            other: (ground.texts[other] + f"\nwas: [{stems[0]}]\n").encode(),
        }
    )


@way("refused")
def one_former_id_of_two_records(ground, rng):
    kind = ground.any_record(rng).split("/")[2]
    one, other = ground.any_record(rng, kind), ground.any_record(rng, kind)
    if "\nwas:" in ground.texts[one] + ground.texts[other] or one == other:
        return None
    return Broken(
        {f: (ground.texts[f] + "\nwas: [once-called-so]\n").encode() for f in (one, other)}
    )


@way("accepted")
def pages_that_name_each_other(ground, rng):
    files = [ground.any_record(rng) for _ in range(3)]
    edits = {}
    for one, other in zip(files, files[1:] + files[:1], strict=True):
        if "\nsee:" in ground.texts[one] or one == other:
            return None
        kind, name = other.removesuffix(".yml").split("/")[2:]
        edits[one] = (ground.texts[one] + f"\nsee: [{kind}/{name}]\n").encode()
    return Broken(edits)


@way("refused")
def a_path_in_a_circle(ground, rng):
    file = ground.any_record(rng, "paths")
    node = ground.nodes[file].value["questions"].value[0]
    first = str(node.value["id"].value)
    text = ground.texts[file]
    steps = [v for v in ground.values["other"] if v.file == file and v.path[-1] == "go"]
    for value in sorted(steps, key=lambda v: -v.node.span[0]):
        start, end = value.node.span
        text = text[:start] + first + text[end:]
    return Broken({file: text.encode()}, file)


@way("refused")
def causes_that_take_each_other_over(ground, rng):
    taken = [v for v in ground.values["ref"] if v.path[-1] == "same_as"]
    value = rng.choice(taken)
    symptom, cause = value.file.rsplit("/", 1)[1].removesuffix(".yml"), value.path[1]
    own = ground.nodes[value.file].value["causes"].value[cause].value["id"].value
    return instead(ground, value, f"{symptom}#{own}")


@way("refused")
def an_address_that_vanished(ground, rng):
    layer = rng.choice(["base", "pebblecombe"])
    line = rng.choice(
        ["terms/zzz: []\n", "materials/pvc-solid: [zzz]\n", "zzz/a: []\n", "'../x': []\n"]
    )
    file = f"data/{layer}/published.yml"
    text = "".join(
        row + "\n"
        for row in ground.texts[file].splitlines()
        if not row.startswith("materials/pvc-solid:")
    )
    return Broken({file: (text + line).encode()}, file)
