"""A company's records published once, then renamed and moved in every way there is."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner

from refgen.cli import main
from refgen.project import open_project

WASH = """\
title: Wash it in the yard
answer: On the pad.
who: The crew.
when: At the end of the day.
steps:
  - {id: bleed, text: Bleed it.}
  - {id: brush, text: Brush it.}
  - {id: grease, text: Grease the chain.}
done: [It is clean.]
figures:
  long: {is: 5 min, basis: practice, why: Ours.}
"""
GREASING = """\
title: Grease it
answer: The chain and the swivel.
who: The crew.
when: Each Friday.
steps:
  - {id: swivel, text: Grease the swivel.}
done: [It turns freely.]
see: [procedures/yard-wash#grease]
"""
FROTH = "title: Froth\nanswer: It floats.\nknow_by: [White.]\nmoves: [{id: skim, text: Skim it.}]\n"
SKIDDER = "title: Skidder\nanswer: A runner.\nsee: [procedures/yard-wash, deposits/froth]\n"

# What was published: address, then what must be in sight where it leads today.
OLD = {
    "procedures/yard-wash.html": "Wash it in the yard",
    "procedures/yard-wash.html#bleed": "Bleed it.",
    "procedures/yard-wash.html#brush": "Brush it.",
    "procedures/yard-wash.html#grease": "Grease the chain.",
    "procedures/yard-wash.html#long": "5 min",
    "procedures/greasing.html#swivel": "Grease the swivel.",
    "deposits/froth.html": "Froth",
    "terms/index.html#skidder": "Skidder",
}


def run(project: Path, *command: str) -> str:
    done = CliRunner().invoke(main, [*command, "-f", str(project / "mkdocs.yml")])
    assert done.exit_code == 0, done.output
    return done.output


def start(project: Path) -> None:
    """Write a company's records and build its site."""
    (project / "files").mkdir(parents=True)
    (project / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: files\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, data/ours]\n"
    )
    for name, text in {
        "brand.yml": "name: Ours\nsite: Our reference\n",
        "procedures/yard-wash.yml": WASH,
        "procedures/greasing.yml": GREASING,
        "deposits/froth.yml": FROTH,
        "terms/skidder.yml": SKIDDER,
    }.items():
        path = project / "data" / "ours" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    run(project, "build")


def move_all(project: Path) -> None:
    """Rename records and items twice, give an item to another page, and change a record's kind."""
    run(project, "check", "--lock")
    run(project, "rename", "procedures/yard-wash", "wash-down-yard")
    run(project, "rename", "procedures/wash-down-yard#bleed", "let-off")
    run(project, "rename", "procedures/wash-down-yard#let-off", "loose")
    run(project, "rename", "procedures/wash-down-yard#long", "takes")
    run(project, "rename", "procedures/wash-down-yard", "end-of-day")
    run(project, "rename", "procedures/greasing", "grease-it")
    run(project, "rename", "terms/skidder", "sledge")
    ours = project / "data" / "ours"
    # The step on grease goes over to the page on greasing, which linked to it.
    page = ours / "procedures" / "end-of-day.yml"
    text = page.read_text("utf-8").replace("  - {id: grease, text: Grease the chain.}\n", "")
    page.write_text(f"{text}moved: {{grease: procedures/grease-it#chain}}\n", "utf-8")
    page = ours / "procedures" / "grease-it.yml"
    text = page.read_text("utf-8").replace("see: [procedures/end-of-day#grease]\n", "")
    step = "steps:\n  - {id: chain, text: Grease the chain.}\n"
    page.write_text(text.replace("steps:\n", step), "utf-8")
    # Froth turns out to be a symptom and no deposit.
    (ours / "deposits" / "froth.yml").unlink()
    (ours / "symptoms").mkdir()
    (ours / "symptoms" / "froth-ours.yml").write_text(
        "title: Froth\nanswer: It floats.\nfirst: Skim it.\nstop: [{id: smell, text: It smells.}]\n"
        "causes: [{id: soap, title: Soap, check: Smell it., fix: Skim it.}]\n"
        "was: [deposits/froth]\n",
        "utf-8",
    )
    page = ours / "terms" / "sledge.yml"
    page.write_text(page.read_text("utf-8").replace("deposits/froth", "symptoms/froth-ours"))
    run(project, "check")
    run(project, "build")


def published(project: Path) -> list[str]:
    """Return every address, anchors too, that the built site's catalog lists for our records."""
    names = {path.stem for path in (project / "data" / "ours").glob("*/*.yml")}
    entries = json.loads((project / "site" / "catalog.json").read_text("utf-8"))
    return [
        entry["address"] + anchor
        for entry in entries
        if entry["id"] in names
        for anchor in ("", *(f"#{name}" for name in entry["anchors"]))
    ]


def records(project: Path) -> set[tuple[str, str]]:
    return set(open_project(project / "mkdocs.yml").catalog().entries)
