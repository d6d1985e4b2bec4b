"""What a company sets for itself, on the second one: metric first, a lower ceiling, its logo."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from refgen.cli import main
from tests.reading import read_page

QUILLFEN = Path(__file__).resolve().parents[1] / "quillfen"


def plain(path: Path) -> str:
    return re.sub(r"\s+", " ", "".join(read_page(path).text))


def test_its_lower_ceiling_stands_in_sentence_table_and_local_rule_metric_first(
    quillfen: Path,
) -> None:
    # 60 bar × 14.5038 = 870 psi
    page = plain(quillfen / "materials" / "clay-old.html")
    assert "60 bar (870 psi)" in page
    assert "Quillfen Water Works has changed this page. A limit was lowered." in page
    assert "Old clay is held to 60 bar (870 psi)" in plain(quillfen / "index.html")
    table = (quillfen / "tables" / "ceilings.html").read_text("utf-8")
    row = table[table.index("clay-old.html") :][:2500]
    assert "60 bar" in row.replace("\u00a0", " ")


def test_its_logo_stands_in_every_heading_bar_and_its_icons_are_drawn_from_it(
    quillfen: Path,
) -> None:
    for address in ("index.html", "materials/clay-old.html", "404.html"):
        html = (quillfen / address).read_text("utf-8")
        bar = html[html.index('<header class="top">') : html.index("</header>")]
        # 60 × 30 in its file, so twice as wide as high.
        assert re.search(
            r'<img class="logo" src="[./jet]*assets/logo\.svg" width="64" height="32"', bar
        )
    icon = (quillfen / "assets" / "icon.svg").read_text("utf-8")
    assert "M4 26C14 8 34 2 56 4" in icon
    assert 'fill="#ffffff"' in icon  # the ground it asks for
    styles = (quillfen / "assets" / "site.css").read_text("utf-8")
    assert "--brand-primary: #5a1f3d" in styles


def test_prints_carry_its_document_approver_and_address(quillfen: Path) -> None:
    text = plain(quillfen / "machines" / "rush-cart-handbook.html")
    # What print.css puts into the foot of every sheet.
    html = (quillfen / "machines" / "rush-cart-handbook.html").read_text("utf-8")
    (foot,) = re.findall(r'<html [^>]*data-foot="([^"]*)"', html)
    for said in ("Document QWW 12", "Approved by: Head of the yard", "book.quillfen.example/jet/"):
        assert said in text
        assert said in foot
    assert re.search(r"Page [0-9a-f]{8} ", foot)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of its project with a base of its own, which a test may change."""
    copy = tmp_path / "quillfen"
    shutil.copytree(QUILLFEN, copy, ignore=shutil.ignore_patterns("site"))
    shutil.copytree(QUILLFEN.parents[1] / "data" / "base", copy / "shared")
    config = copy / "mkdocs.yml"
    config.write_text(config.read_text("utf-8").replace("[base,", "[shared,"), "utf-8")
    return copy


def check(project: Path, *options: str) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["check", *options, "-f", str(project / "mkdocs.yml")])
    return done.exit_code, done.output


def test_it_hears_when_the_shared_ceiling_comes_down_under_its_own(project: Path) -> None:
    code, output = check(project, "--lock")
    assert code == 0, output
    assert "materials/clay-old ceilings.worn: 1500 psi (103 bar), here 60 bar (870 psi)." in output
    assert "Changed underneath" not in check(project)[1]
    shared = project / "shared" / "materials" / "clay-old.yml"
    text = shared.read_text("utf-8")
    assert "is: 1500 psi" in text
    shared.write_text(text.replace("is: 1500 psi", "is: 1200 psi"), "utf-8")
    code, output = check(project)
    assert code == 0
    assert "the layers below said 1500 psi (103 bar), and now say 1200 psi (82.7 bar);" in output
    # Under 870 psi its own would raise the ceiling, which takes a reason.
    shared.write_text(text.replace("is: 1500 psi", "is: 800 psi"), "utf-8")
    code, output = check(project)
    assert code == 1
    assert "The layers below said 1500 psi (103 bar), and now say 800 psi (55.2 bar)." in output


def test_the_gauge_of_a_machine_has_a_dial_in_bar(quillfen: Path) -> None:
    html = (quillfen / "machines" / "sedge-truck.html").read_text("utf-8")
    # Its limit is 170 bar: past two thirds of 250 bar, 166, and so on a dial to 400 bar.
    shown = [re.search(rf"<text[^>]*>{mark}</text>", html) for mark in (0, 80, 160, 240, 320, 400)]
    assert all(shown)


def test_its_settings_leave_room_for_the_error_of_a_dial_in_bar(quillfen: Path) -> None:
    # 2.5 % of that dial are 10 bar: 60 bar ÷ 1.1 − 10 bar = 44.5 bar, where a dial to 4000 psi
    # would leave 47.6.
    records = json.loads((quillfen / "tables" / "settings.json").read_text("utf-8"))
    (found,) = (
        record
        for record in records
        if (record["machine"], record["material"], record["condition"])
        == ("sedge-truck", "clay-old", "worn")
    )
    assert found["dial_pa"] == pytest.approx(400e5)
    assert found["setting_pa"] == pytest.approx(44.545e5, rel=1e-4)
    # The example below it is the first machine's: its 100 bar ask for a dial to 160.
    table = plain(quillfen / "tables" / "settings.html").replace("\u00a0", " ")
    assert "2.5% of a dial to 160 bar (" in table


def test_a_rename_and_a_lower_limit_are_told_and_the_old_addresses_lead_on(
    project: Path, quillfen: Path
) -> None:
    assert check(project, "--lock")[0] == 0
    config = str(project / "mkdocs.yml")
    done = CliRunner().invoke(main, ["rename", "machines/rush-cart", "reed-cart", "-f", config])
    assert done.exit_code == 0, done.output
    clay = project / "data" / "quillfen" / "materials" / "clay-old.yml"
    clay.write_text(clay.read_text("utf-8").replace("60 bar", "55 bar"), "utf-8")
    done = CliRunner().invoke(main, ["build", "-f", config, "--since", str(quillfen)])
    assert done.exit_code == 0, done.output
    site = project / "site"
    # 60 bar × 14.5038 = 870 psi, 55 bar × 14.5038 = 798 psi
    told = plain(site / "changes.html").replace("\u00a0", " ")
    assert "Was 60 bar (870 psi), now 55 bar (798 psi).The limit came down." in told
    for old in ("rush-cart", "rush-cart-handbook"):
        new = old.replace("rush", "reed")
        page = (site / "machines" / f"{old}.html").read_text("utf-8")
        assert f'data-moved="../machines/{new}.html"' in page
        assert "Rush cart" in plain(site / "machines" / f"{new}.html")
