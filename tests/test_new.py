"""A company's project from nothing: it builds at once, takes any name, and overwrites nothing."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner, Result

from refgen.bundled import bundled
from refgen.cli import main
from refgen.new import questions
from refgen.project import open_project
from refgen.reports import check_report
from refgen.units import NotAQuantity, Quantity, parse_quantity

NAMES = [
    "Ours",
    "Müller & Söhne",
    'The "Deep" Drain: Company #1',
    "<<site>> {name} {{ 7*7 }} ${{ github.token }}",
    "no",
    "- x",
    "O'Hare \\ Sons",
]


def new(folder: Path, *options: str, answers: str | None = None) -> Result:
    return CliRunner().invoke(main, ["new", str(folder), *options], input=answers)


def files_in(folder: Path) -> dict[str, bytes]:
    found = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


def uncommented(text: str) -> str:
    """Return a YAML text with what it proposes in comments said; prose stays a comment."""
    return re.sub(r"^( *)# (?=[a-z_]+:(?: |$)| +- id: | +[a-z_]+: )", r"\1", text, flags=re.M)


def put_in_place(folder: Path) -> None:
    """Copy a new project's examples into its layer, and say all that it proposes in comments."""
    layer = folder / "data" / "ours"
    shutil.copytree(layer / "examples", layer, dirs_exist_ok=True)
    for path in [folder / "mkdocs.yml", *layer.rglob("*.yml")]:
        path.write_text(uncommented(path.read_text("utf-8")), "utf-8")
    (layer / "assets" / "logo.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path fill="#000" '
        'd="M1 1h7v7z"/></svg>'
    )


def quantities(data: object) -> Iterator[Quantity]:
    """Yield every size in some data, but for the roughness, which is in mm everywhere."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield from quantities(value) if name != "roughness" else ()
    elif isinstance(data, list):
        for value in data:
            yield from quantities(value)
    elif isinstance(data, str):
        try:
            yield parse_quantity(data)
        except NotAQuantity:
            return


def test_with_defaults_it_asks_nothing_and_the_project_passes_check(tmp_path: Path) -> None:
    made = new(tmp_path / "ours", "--defaults")
    assert made.exit_code == 0, made.output
    assert {
        ".github/workflows/publish.yml",
        ".gitignore",
        "README.md",
        "data/ours/assets/.gitkeep",
        "data/ours/brand.yml",
        "files/.gitkeep",
        "hosting/Caddyfile",
        "hosting/nginx.conf",
        "mkdocs.yml",
        "requirements.txt",
    } <= files_in(tmp_path / "ours").keys()
    checked = CliRunner().invoke(main, ["check", "-f", str(tmp_path / "ours" / "mkdocs.yml")])
    assert checked.exit_code == 0, checked.output
    assert "to look at" not in checked.output


def test_it_asks_what_no_option_says_and_each_answer_builds_on_the_one_before(
    tmp_path: Path,
) -> None:
    answers = "\n".join(["Quillfen", "", "metric", "https://q.example/", "112", "#ffd736", "none"])
    made = new(tmp_path / "ours", answers=f"{answers}\n")
    assert made.exit_code == 0, made.output
    assert "[Quillfen jetting reference]" in made.output
    brand = open_project(tmp_path / "ours" / "mkdocs.yml").catalog().brand
    assert (brand.name, brand.site) == ("Quillfen", "Quillfen jetting reference")
    assert (brand.units_first, brand.address) == ("metric", "https://q.example/")
    assert [contact.number for contact in brand.emergency] == ["112"]
    # Black, since white on this yellow would have (1 + 0.05) / (0.70 + 0.05) = 1.4.
    assert (brand.colours.primary, brand.colours.on_primary) == ("#ffd736", "#000000")
    assert ".github/workflows/publish.yml" not in files_in(tmp_path / "ours")


@pytest.mark.parametrize("name", NAMES)
def test_any_name_comes_through_as_typed(tmp_path: Path, name: str) -> None:
    made = new(tmp_path / "ours", "--defaults", "--name", name)
    assert made.exit_code == 0, made.output
    brand = open_project(tmp_path / "ours" / "mkdocs.yml").catalog().brand
    assert (brand.name, brand.site) == (name, f"{name} jetting reference")
    config = yaml.safe_load((tmp_path / "ours" / "mkdocs.yml").read_text("utf-8"))
    assert config["site_name"] == f"{name} jetting reference"


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--name", "Two\nlines"], "data/ours/brand.yml:2: name: must stand on one line"),
        (["--name", "Hid\u202eden"], "an invisible character (U+202E) stands here"),
        (["--address", "jet.example"], "address: 'jet.example' is no address."),
        (["--address", "https://jet .example"], "data/ours/brand.yml:9: address: "),
        (["--primary", "red"], "primary: 'red' is no colour. Such as #1d3b53."),
        # Neither ink has 7 to 1 on this grey: white 3.95, black 5.32.
        (["--primary", "#808080"], "The nearest that passes is "),
    ],
)
def test_an_answer_that_cannot_stand_is_told_and_nothing_is_written(
    tmp_path: Path, options: list[str], told: str
) -> None:
    made = new(tmp_path / "ours", "--defaults", *options)
    assert made.exit_code == 1
    assert told in made.output
    assert not (tmp_path / "ours").exists()


@pytest.mark.parametrize(
    ("name", "site"),
    [("Quillfen", "Quillfen jetting reference"), ("Fenn Jetting", "Fenn Jetting reference")],
)
def test_a_name_that_says_jetting_is_not_made_to_say_it_twice(name: str, site: str) -> None:
    assert ("site", "Name of the reference", site) in questions({"name": name})


def test_an_answer_that_cannot_stand_is_asked_for_again(tmp_path: Path) -> None:
    answers = [
        "Ours",
        "",
        "feet",
        "metric",
        "jet.example",
        "",
        "",
        "teal",
        "#808080",
        "#004d40",
        "",
    ]
    made = new(tmp_path / "ours", answers="\n".join(answers) + "\n")
    assert made.exit_code == 0, made.output
    for told in (
        "units: 'feet' is none of us, metric.",
        "address: 'jet.example' is no address. Such as https://jet.example.org/.",
        "primary: 'teal' is no colour. Such as #1d3b53.",
        # White on this grey has 3.95 to 1, black 5.32.
        "primary: neither white nor black on it has a contrast of 7 to 1. The nearest that passes",
    ):
        assert told in made.output
    brand = open_project(tmp_path / "ours" / "mkdocs.yml").catalog().brand
    assert (brand.units_first, brand.colours.primary) == ("metric", "#004d40")


def test_nothing_is_ever_overwritten(tmp_path: Path) -> None:
    (tmp_path / "README.md").write_text("mine")
    (tmp_path / "files").mkdir()
    before = files_in(tmp_path)
    made = new(tmp_path, "--defaults")
    assert made.exit_code == 1
    assert "already has README.md. Choose another folder" in made.output
    assert files_in(tmp_path) == before
    (tmp_path / "README.md").rename(tmp_path / "notes.txt")
    assert new(tmp_path, "--defaults").exit_code == 0
    assert (tmp_path / "notes.txt").read_text() == "mine"


def test_the_examples_put_in_place_are_right_in_round_figures_of_the_units_shown_first(
    tmp_path: Path,
) -> None:
    sizes: dict[str, list[Quantity]] = {}
    for units in ("us", "metric"):
        assert new(tmp_path / units, "--defaults", "--units", units).exit_code == 0
        layer = tmp_path / units / "data" / "ours"
        sizes[units] = [
            quantity
            for path in sorted((layer / "examples").rglob("*.yml"))
            for quantity in quantities(yaml.safe_load(path.read_text("utf-8")))
        ]
        assert {size.unit.system for size in sizes[units]} == {units}
        for size in sizes[units]:
            # Two digits, or a size that rules and tags are marked in: 2 1/2 in, 0.028 in, 6.3 mm.
            assert len(size.number.strip("0.").replace(".", "")) <= 2 or "/" in size.number, size
        put_in_place(tmp_path / units)
        catalog = open_project(tmp_path / units / "mkdocs.yml").catalog()
        assert "to look at" not in check_report(catalog, date(2026, 11, 25))
        assert list(catalog.machines()) == ["our-barrow"]
        brand = catalog.brand
        assert (brand.logo, brand.approver, brand.document) == (
            "logo.svg",
            "Training lead",
            "JET-01",
        )
        assert [line.id for line in (*brand.contacts, *brand.local_rules)] == ["desk", "two-people"]
        # As the example lowers it: 1000 psi, 68.9 bar, is 70 bar to whoever thinks in bar.
        ceiling = catalog.figures["materials", "pvc-solid", "worn"]
        assert str(ceiling.is_) == {"us": "1,000 psi", "metric": "70 bar"}[units]
        assert ceiling.basis == "owner"
    assert len(sizes["us"]) >= 15
    for one, other in zip(sizes["us"], sizes["metric"], strict=True):
        assert one.si == pytest.approx(other.si, rel=0.1), (one, other)


def test_the_settings_for_a_web_server_are_those_of_the_readme_with_the_projects_own_host(
    tmp_path: Path,
) -> None:
    address = "https://jet.fenn.example/"
    assert new(tmp_path / "ours", "--defaults", "--address", address).exit_code == 0
    readme = (Path(__file__).parents[1] / "README.md").read_text("utf-8")
    for language, name in (("nginx", "nginx.conf"), ("caddy", "Caddyfile")):
        written = (tmp_path / "ours" / "hosting" / name).read_text("utf-8")
        said = readme.partition(f"```{language}\n")[2].partition("```")[0]
        assert said
        settings = "".join(x for x in written.splitlines(keepends=True) if x[0] != "#")
        assert settings == said.replace("jet.example.org", "jet.fenn.example")


@pytest.mark.parametrize(
    ("hosting", "file"),
    [("github", ".github/workflows/publish.yml"), ("gitlab", ".gitlab-ci.yml")],
)
def test_the_ci_file_installs_checks_and_builds_in_order(
    tmp_path: Path, hosting: str, file: str
) -> None:
    assert new(tmp_path / "ours", "--defaults", "--hosting", hosting).exit_code == 0
    text = (tmp_path / "ours" / file).read_text("utf-8")
    assert yaml.safe_load(text)
    places = [text.index(c) for c in ("pip install -r", "refgen check", "refgen build")]
    assert places == sorted(places)
    others = {".github/workflows/publish.yml", ".gitlab-ci.yml"} - {file}
    assert not others & files_in(tmp_path / "ours").keys()


def test_the_readme_holds_its_two_commands(tmp_path: Path) -> None:
    assert new(tmp_path / "ours", "--defaults").exit_code == 0
    text = (tmp_path / "ours" / "README.md").read_text("utf-8")
    blocks = [part.split("```")[0].strip() for part in text.split("```sh\n")[1:]]
    assert len(blocks) == 2
    assert blocks[0].endswith(".venv/bin/refgen check && .venv/bin/refgen build")
    assert blocks[1] == ".venv/bin/refgen serve"


def test_the_lock_of_a_project_is_its_own_and_leaves_what_came_with_refgen_alone(
    tmp_path: Path,
) -> None:
    assert new(tmp_path / "ours", "--defaults").exit_code == 0
    layer = tmp_path / "ours" / "data" / "ours"
    shutil.copytree(layer / "examples", layer, dirs_exist_ok=True)
    base = bundled("data/base")
    before = {path.name: path.stat().st_mtime_ns for path in base.iterdir()}
    locked = CliRunner().invoke(main, ["check", "--lock", "-f", str(tmp_path / "ours/mkdocs.yml")])
    assert locked.exit_code == 0, locked.output
    assert {path.name: path.stat().st_mtime_ns for path in base.iterdir()} == before
    published = (layer / "published.yml").read_text("utf-8")
    assert "machines/our-barrow: [drum]" in published
    # Of what the example lowers, the ceiling below is noted.
    assert "ceilings.worn: " in (layer / "overrides.yml").read_text("utf-8")


@pytest.mark.parametrize("name", ["data", "data/ours", ".github", "files"])
def test_no_link_leads_the_writing_out_of_the_folder(tmp_path: Path, name: str) -> None:
    outside, folder = tmp_path / "outside", tmp_path / "ours"
    outside.mkdir()
    (folder / name).parent.mkdir(parents=True)
    (folder / name).symlink_to(outside)
    made = new(folder, "--defaults")
    assert made.exit_code == 1
    assert "a link leads out of the folder" in made.output
    assert list(outside.iterdir()) == []
    assert not (folder / "mkdocs.yml").exists()


def test_a_link_that_leads_nowhere_is_in_the_way_too(tmp_path: Path) -> None:
    (tmp_path / "mkdocs.yml").symlink_to(tmp_path / "nowhere")
    made = new(tmp_path, "--defaults")
    assert made.exit_code == 1
    assert "already has mkdocs.yml" in made.output
    assert not (tmp_path / "nowhere").exists()
