"""The commands: options, output, and exit codes 0 fine, 1 problems in the data, 2 used wrongly."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from refgen import __version__
from refgen.bundled import bundled
from refgen.cli import main
from tests.stages import SMALL

ROOT = Path(__file__).resolve().parents[1]
COMMANDS = sorted(main.commands)
SETUP = """\
pump: {flow: 8 gpm, pressure: 3000 psi}
hoses: [{bore: 1/2 in, length: 50 ft}]
nozzle: {jets: [{count: 6, bore: 1 mm, angle: 30 deg, faces: rear}]}
"""
NAMED = "machine: barrow\nnozzle: small-egg\n"

Run = Callable[..., Result]


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A company's project: the small layer, with every word, under the company's own."""
    shutil.copytree(SMALL, tmp_path / "data" / "small")
    shutil.copy(bundled("data/base") / "words.yml", tmp_path / "data" / "small")
    (tmp_path / "data" / "ours" / "terms").mkdir(parents=True)
    (tmp_path / "data" / "ours" / "terms" / "skid.yml").write_text("title: Skid\nanswer: X.\n")
    (tmp_path / "assets").mkdir()
    (tmp_path / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: assets\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [data/small, data/ours]\n"
    )
    return tmp_path


@pytest.fixture
def run(project: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in the project's folder; what is no exit but an exception, is our bug."""
    monkeypatch.chdir(project)

    def invoke(*arguments: str, stdin: str | bytes | None = None) -> Result:
        result = CliRunner().invoke(main, arguments, input=stdin)
        assert result.exception is None or isinstance(result.exception, SystemExit)
        return result

    return invoke


def test_version_is_the_packages(run: Run) -> None:
    for option in ("--version", "-V"):
        result = run(option)
        assert (result.exit_code, result.output) == (0, f"main, version {__version__}\n")


def test_help_names_every_command_with_what_it_does(run: Run) -> None:
    result = run("--help")
    assert result.exit_code == 0
    listed = result.output.partition("Commands:")[2].split("\n")
    assert not [line for line in listed if line.endswith("...")]  # each is told whole
    assert [line.split()[0] for line in listed if line.startswith("  ") and line[2] != " "] == (
        COMMANDS
    )
    assert {"check", "build", "serve", "solve", "rename", "schema"} <= set(COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_help_that_says_what_its_options_do(run: Run, command: str) -> None:
    for option in ("--help", "-h"):
        result = run(command, option)
        assert result.exit_code == 0
        assert result.output.startswith(f"Usage: main {command} [OPTIONS]")
    for parameter in main.commands[command].params:
        if parameter.param_type_name == "option" and parameter.name not in ("help", "units"):
            assert getattr(parameter, "help", None), parameter.name


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["inspect"], "No such command 'inspect'"),
        (["check", "--loud"], "No such option"),
        (["check", "-f", "nowhere.yml"], "File 'nowhere.yml' does not exist"),
        (["solve"], "Missing argument 'SETUP'"),
        (["solve", "nowhere.yml"], "'nowhere.yml': No such file or directory"),
        (["solve", "-", "--units", "imperial"], "'imperial' is not one of 'us', 'metric'"),
        (["rename", "terms/skid"], "Missing argument 'NEW'"),
    ],
)
def test_wrong_use_is_told_with_exit_code_2(run: Run, arguments: list[str], message: str) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert message in result.output


def test_check_tells_what_there_is_when_all_is_right(run: Run) -> None:
    result = run("check")
    assert (result.exit_code, result.output) == (
        0,
        "The data are right: symptoms 2, paths 1, procedures 1, materials 1, deposits 1, "
        "patterns 1, nozzles 1, hoses 1, machines 1, parts 4, tables 1, hazards 1, "
        "checklists 1, lessons 1, terms 2, sources 1.\n",
    )


def test_check_tells_which_words_no_layer_has(run: Run, project: Path) -> None:
    words = project / "data" / "small" / "words.yml"
    text = words.read_text("utf-8")
    words.write_text(re.sub(r"(?m)^  (home|page_mark): .*\n", "", text), "utf-8")
    assert run("check").output.endswith(
        "\n\n2 words that no layer has; a page that asks for one fails:\n"
        "  words.yml: home, page_mark\n"
        "    Lay 'base' below, or take them from its words.yml.\n"
    )


def test_check_tells_every_mistake_with_exit_code_1(run: Run, project: Path) -> None:
    terms = project / "data" / "ours" / "terms"
    (terms / "a.yml").write_text("title: A\nanswer:\n")
    (terms / "b.yml").write_text("title: B\n\tanswer: X.\n")
    result = run("check")
    assert (result.exit_code, result.output) == (
        1,
        "2 problems in the data\n"
        "  data/ours/terms/a.yml:2: answer: is empty\n"
        "    Write a value, or remove the line. A value that begins with # needs quotes.\n"
        "  data/ours/terms/b.yml:2: a tab stands before the text\n"
        "    Indent with spaces, not with the tab key.\n",
    )


def test_check_lists_what_was_overridden_and_what_to_look_at(run: Run, project: Path) -> None:
    ours = project / "data" / "ours"
    (ours / "materials").mkdir()
    (ours / "materials" / "clay.yml").write_text(
        "ceilings:\n  worn: {is: 1600 psi, reason: We know our clay.}\n  sound: 1900 psi\n"
    )
    (ours / "terms" / "skid.yml").write_text("title: Skid\nanswer: Some 3 ft long.\n")
    result = run("check")
    assert result.exit_code == 0
    lines = result.output.splitlines()
    at = lines.index("Safety texts and limits changed by a later layer:")
    assert lines[at + 1].startswith(
        "  data/ours/materials/clay.yml:2: materials/clay ceilings.worn"
    )
    assert lines[at + 1].endswith(" Reason: We know our clay.")
    assert lines[at + 2].startswith(
        "  data/ours/materials/clay.yml:3: materials/clay ceilings.sound"
    )
    assert lines[-3:] == [
        "1 to look at:",
        "  data/ours/terms/skid.yml:2: answer: '3 ft' is typed as plain text",
        "    Write '{= 3 ft}', or cite a figure, so that both units are shown.",
    ]


def test_check_lists_what_is_overdue_for_review_the_longest_due_first(
    run: Run, project: Path
) -> None:
    terms = project / "data" / "ours" / "terms"
    review = "title: {0}\nanswer: X.\nreviewed:\n  on: 2025-03-0{1}\n  role: trainer\n{2}"
    (terms / "skid.yml").write_text(review.format("Skid", 1, "  next: 2026-03-02\n"))
    (terms / "reel.yml").write_text(review.format("Reel", 2, "  next: 2026-03-01\n"))
    (terms / "belly.yml").write_text(review.format("Belly", 3, ""))  # says no day: never overdue
    due = [
        "  data/ours/terms/reel.yml:6: reviewed.next: was due on 2026-03-01, "
        "last read on 2025-03-02 (trainer)",
        "    Read it again, then set 'on' and 'next' anew.",
        "  data/ours/terms/skid.yml:6: reviewed.next: was due on 2026-03-02, "
        "last read on 2025-03-01 (trainer)",
        "    Read it again, then set 'on' and 'next' anew.",
    ]

    def told(day: str) -> list[str]:
        result = run("check", "--day", day)
        assert result.exit_code == 0  # a note, not a mistake
        return result.output.splitlines()[1:]

    assert told("2026-03-01") == []  # due by that day, so not late on it
    assert told("2026-03-02") == ["", "1 past the day of the next review:", *due[:2]]
    assert told("2026-03-03") == ["", "2 past the day of the next review:", *due]
    assert run("check", "--day", "tomorrow").exit_code == 2


def test_check_goes_by_the_day_it_is_run_on(run: Run, project: Path) -> None:
    (project / "data" / "ours" / "terms" / "skid.yml").write_text(
        "title: Skid\nanswer: X.\nreviewed: {on: 2001-01-01, role: trainer, next: 2002-01-01}\n"
    )
    result = run("check")
    assert (result.exit_code, "1 past the day of the next review:" in result.output) == (0, True)


def test_check_locks_addresses_only_when_asked(run: Run, project: Path) -> None:
    lock = project / "data" / "ours" / "published.yml"
    run("check")
    assert not lock.exists()
    assert run("check", "--lock").exit_code == 0
    assert lock.read_text().splitlines()[1:] == ["terms/skid: []"]
    (project / "data" / "ours" / "terms" / "skid.yml").unlink()
    result = run("check")
    assert result.exit_code == 1
    assert "data/ours/published.yml:2: 'terms/skid' was published and is gone" in result.output


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("site_name: X\n", "this project does not use refgen. Add 'refgen' under 'plugins:'."),
        ("site_name: [\n", "mkdocs.yml"),
        ("plugins: [refgen, nowhere]\nsite_name: X\n", "nowhere"),
    ],
)
def test_a_wrong_mkdocs_yml_is_told_with_exit_code_1(
    run: Run, project: Path, caplog: pytest.LogCaptureFixture, text: str, message: str
) -> None:
    (project / "mkdocs.yml").write_text(f"docs_dir: assets\n{text}")
    result = run("check")
    assert result.exit_code == 1
    assert re.match(r"mkdocs\.yml:[1-9]: ", result.output)
    assert message in result.output + caplog.text  # MkDocs tells some of it itself, as a log


def test_solve_answers_from_a_file_and_from_standard_input_alike(run: Run, project: Path) -> None:
    (project / "a.yml").write_text(SETUP)
    from_file, from_input = run("solve", "a.yml"), run("solve", "-", stdin=SETUP)
    assert from_file.exit_code == from_input.exit_code == 0
    assert from_file.output == from_input.output
    assert from_file.output.startswith("Full flow: all the pump's water goes through the nozzle.")
    assert "  Flow through the nozzle  8 gpm (30.3 L/min)\n" in from_file.output
    metric = run("solve", "a.yml", "--units", "metric").output
    assert "  Flow through the nozzle  30.3 L/min (8 gpm)\n" in metric


def test_solve_gives_numbers_for_programs(run: Run) -> None:
    result = run("solve", "-", "--json", stdin=SETUP)
    assert result.exit_code == 0
    found = json.loads(result.output)
    numbers = {
        "flow_m3_per_s", "gauge_pa", "hose_loss_pa", "nozzle_pa", "bypass_m3_per_s",
        "jet_velocity_m_per_s", "pull_n", "jet_power_w",
    }  # fmt: skip
    assert found.keys() >= numbers | {"state", "margins", "notes"}
    assert found["margins"].keys() == numbers
    assert found["flow_m3_per_s"] == pytest.approx(8 * 0.003785411784 / 60)


def test_solve_knows_the_machines_of_the_project(run: Run) -> None:
    result = run("solve", "-", "--json", stdin=NAMED)
    assert result.exit_code == 0
    assert json.loads(result.output)["flow_m3_per_s"] > 0


@pytest.mark.parametrize(
    ("setup", "output"),
    [
        (
            SETUP.replace("8 gpm", "8"),
            "1 problem in the data\n  <stdin>:1: pump.flow: '8' has no unit\n"
            "    Write a number and a unit (gpm, imp gpm, L/min, L/s, m³/h, m³/s), "
            "for example '8 gpm'.\n",
        ),
        (
            NAMED.replace("barrow", "barow"),
            "no machine 'barow'. Did you mean 'barrow'?\n",
        ),
        ("", "1 problem in the data\n  <stdin>:1: the file is empty\n    Write the record.\n"),
        (
            "pump: [\n",
            "1 problem in the data\n  <stdin>:1: '[' opens here and does not close\n"
            "    Close it. Inside brackets a text with a comma, colon or bracket needs quotes.\n",
        ),
    ],
)
def test_solve_tells_what_is_wrong_with_exit_code_1(run: Run, setup: str, output: str) -> None:
    result = run("solve", "-", stdin=setup)
    assert (result.exit_code, result.output) == (1, output)


def test_solve_gives_no_number_where_no_formula_holds(run: Run) -> None:
    result = run("solve", "-", stdin=SETUP.replace("8 gpm", "0.5 gpm"))
    assert result.exit_code == 1
    assert "between calm and broken flow (Re 2040 to 4000)" in result.output


def test_a_setup_may_begin_with_the_mark_some_editors_write(run: Run) -> None:
    assert run("solve", "-", stdin="\ufeff" + SETUP).exit_code == 0


def test_a_written_setup_is_solved_without_any_project(
    run: Run, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    assert run("solve", "-", stdin=SETUP).exit_code == 0


def test_a_setup_that_is_not_utf_8_is_told(run: Run) -> None:
    assert run("solve", "-", stdin=b"pump: \xff\n").exit_code == 1


def test_rename_tells_what_it_changed(run: Run, project: Path) -> None:
    result = run("rename", "terms/bypass", "return-line")
    assert result.exit_code == 0
    assert result.output.splitlines() == ["data/small/terms/bypass.yml: 2"]
    assert (project / "data" / "small" / "terms" / "return-line.yml").exists()
    assert run("check").exit_code == 0


def test_rename_refuses_what_makes_no_sense_and_data_that_are_wrong(
    run: Run, project: Path
) -> None:
    result = run("rename", "terms/bypasss", "x")
    assert (result.exit_code, result.output) == (
        1,
        "there is no terms/bypasss in this project's own layers. Did you mean 'bypass'?\n",
    )
    (project / "data" / "ours" / "terms" / "skid.yml").write_text("title: Skid\n")
    result = run("rename", "terms/bypass", "x")
    assert result.exit_code == 1
    assert "'answer' is missing" in result.output
    assert (project / "data" / "small" / "terms" / "bypass.yml").exists()


def test_schema_writes_schemas_and_keeps_an_editors_other_settings(run: Run, project: Path) -> None:
    settings = project / ".vscode" / "settings.json"
    settings.parent.mkdir()
    settings.write_text(
        '{"editor.tabSize": 2, "yaml.schemas": {"other.json": ["*.other.yml"]}}', "utf-8"
    )
    result = run("schema")
    assert result.exit_code == 0
    written = result.output.splitlines()
    assert written[-1] == ".vscode/settings.json"
    assert ".schema/terms.json" in written
    assert all((project / name).is_file() for name in written)
    kept = json.loads(settings.read_text())
    assert kept["editor.tabSize"] == 2
    assert kept["yaml.schemas"]["other.json"] == ["*.other.yml"]
    assert kept["yaml.schemas"]["./.schema/terms.json"] == [
        "data/small/terms/*.yml",
        "data/ours/terms/*.yml",
    ]


@pytest.mark.parametrize("kept", ["{,}", "[]", "// a comment\n{}", "\x00"])
def test_schema_leaves_an_editors_settings_alone_that_it_cannot_read(
    run: Run, project: Path, kept: str
) -> None:
    settings = project / ".vscode" / "settings.json"
    settings.parent.mkdir()
    settings.write_text(kept)
    result = run("schema")
    assert result.exit_code == 1
    assert "mend it, or move it away." in result.output.lower()
    assert settings.read_text() == kept


@pytest.mark.parametrize("name", [".schema", ".vscode", ".vscode/settings.json"])
def test_schema_writes_through_no_link(
    run: Run, project: Path, tmp_path_factory: pytest.TempPathFactory, name: str
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    (project / name).parent.mkdir(exist_ok=True)
    (project / name).symlink_to(outside / "x" if name.endswith(".json") else outside)
    result = run("schema")
    assert result.exit_code == 1, result.output
    assert list(outside.iterdir()) == []


def test_what_the_system_refuses_is_told_without_a_traceback(run: Run, project: Path) -> None:
    (project / "site").mkdir()
    (project / "site" / "index.html").write_text("x")
    result = run("zip", "--out", "nowhere/out.zip")
    assert result.exit_code == 1
    assert result.output == "nowhere/.out.zip.writing: No such file or directory.\n"


def test_as_a_program_of_its_own_it_tells_mistakes_without_a_traceback(project: Path) -> None:
    (project / "data" / "ours" / "terms" / "skid.yml").write_bytes(b"title: \xff\n")
    command = [sys.executable, "-m", "refgen", "check", "-f", str(project / "mkdocs.yml")]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == (
        "1 problem in the data\n"
        "  data/ours/terms/skid.yml:1: the file is not text in UTF-8\n"
        "    Save it as UTF-8.\n"
    )
