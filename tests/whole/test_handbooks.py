"""Handbooks of the second company's two machines: whole, printable, silent on what they lack."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[2]
MACHINES = ROOT / "tests" / "quillfen" / "data" / "quillfen" / "machines"

SYMPTOMS = ROOT / "data" / "base" / "symptoms"


def record(machine: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = yaml.safe_load((MACHINES / f"{machine}.yml").read_text("utf-8"))
    return found


def handbook(site: Path, machine: str) -> str:
    return (site / "machines" / f"{machine}-handbook.html").read_text("utf-8")


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", html))


def section(html: str, anchor: str) -> str:
    """Return the text from a heading to the end of its section."""
    start = html.index(f'id="{anchor}"')
    return plain(html[start : html.index("</section>", start)])


@pytest.mark.parametrize("machine", ["sedge-truck", "rush-cart"])
def test_each_fitted_control_is_there_and_none_that_it_lacks(quillfen: Path, machine: str) -> None:
    html = handbook(quillfen, machine)
    assert sorted(re.findall(r'id="part-([a-z-]+)"', html)) == sorted(record(machine)["fitted"])
    for lacking in record(machine)["not_fitted"]:
        assert f"parts/{lacking}.html" not in html


def test_the_plate_is_whole_and_metric_first(quillfen: Path) -> None:
    text = section(handbook(quillfen, "sedge-truck"), "_plate")
    # 60 L/min × 0.264172 = 15.85 gpm; 180 bar × 14.5038 = 2611 psi; 800 L = 211 gal; 30 kW = 40 hp.
    for said in ("60 L/min (16 gpm)", "180 bar (2,610 psi)", "800 L (210 gal)", "30 kW (40 hp)"):
        assert said in text.replace("\u00a0", " ")
    assert "Fleet number" in text


def test_limits_name_plate_unloader_and_each_hose(quillfen: Path) -> None:
    text = section(handbook(quillfen, "sedge-truck"), "_limits").replace("\u00a0", " ")
    for said in ("180 bar", "170 bar", "Half-inch line, 80 m", "275 bar"):
        assert said in text
    assert "Unloader set to" not in section(handbook(quillfen, "rush-cart"), "_limits")


def test_its_tables_hold_its_own_hoses_and_no_other(quillfen: Path) -> None:
    truck = section(handbook(quillfen, "sedge-truck"), "_tables")
    cart = section(handbook(quillfen, "rush-cart"), "_tables")
    assert "Half-inch line, 80 m, Sedge flusher" in truck
    assert "Thin line" not in truck
    assert "Thin line, 20 m, Rush button" in cart
    assert "Sedge" not in cart


def test_care_goes_by_hours_and_by_what_is_fitted(quillfen: Path) -> None:
    truck = section(handbook(quillfen, "sedge-truck"), "_care-hours").replace("\u00a0", " ")
    cart = section(handbook(quillfen, "rush-cart"), "_care-hours").replace("\u00a0", " ")
    # As the parts' records in the base say: belts 25 h, engine oil 100 h, packing 500 h.
    places = [
        truck.index(interval) for interval in ("25 to 50 h", "100 to 250 h", "500 to 1,000 h")
    ]
    assert places == sorted(places)
    assert "100 to 250 h" not in cart
    assert "500 to 1,000 h" in cart
    assert "Ground-fault switch trips on its test button." in cart  # the weekly check, as it has it
    assert "Ground-fault switch" not in truck


def test_start_stop_setting_and_winter_are_printed_with_the_machines_own_steps(
    quillfen: Path,
) -> None:
    truck, cart = handbook(quillfen, "sedge-truck"), handbook(quillfen, "rush-cart")
    for name in ("start-machine", "stop-and-bleed", "set-unloader", "winterise", "thaw-machine"):
        assert f'id="procedure-{name}"' in truck
        assert f'id="procedure-{name}"' in cart
    assert "Stop the engine. Take the key out." in section(truck, "procedure-stop-and-bleed")
    assert "Pull the plug with dry hands." in section(cart, "procedure-stop-and-bleed")
    # Emergencies stand before all other procedures.
    order = re.findall(r'id="procedure-([a-z-]+)"', truck)
    assert order.index("injection-first-response") < order.index("start-machine")


def test_faults_are_those_it_can_have_with_those_causes(quillfen: Path) -> None:
    truck = section(handbook(quillfen, "sedge-truck"), "_faults")
    cart = section(handbook(quillfen, "rush-cart"), "_faults")
    assert "symptoms/engine-will-not-fire.html" in truck
    assert "symptoms/engine-will-not-fire.html" not in cart
    # A shock can come from a cable in the pipe, whatever the drive; from a plug only where one is.
    assert "symptoms/shock-or-breaker.html" in cart
    assert "symptoms/shock-or-breaker.html" in truck
    wet_plug = yaml.safe_load((SYMPTOMS / "shock-or-breaker.yml").read_text("utf-8"))["causes"][0]
    assert wet_plug["needs"] == "electric-motor"
    assert wet_plug["title"] in cart
    assert wet_plug["title"] not in truck
    assert "symptoms/remote-dead.html" in truck
    assert "symptoms/remote-dead.html" not in cart
    assert "symptoms/gauge-low-steady.html" in truck
    assert "symptoms/gauge-low-steady.html" in cart


@pytest.mark.parametrize("machine", ["sedge-truck", "rush-cart"])
def test_every_chapter_and_procedure_can_be_reached_from_the_head_of_it(
    quillfen: Path, machine: str
) -> None:
    html = handbook(quillfen, machine)
    first = html[: html.index('id="_plate"')]
    chapters = re.findall(r'<h2 class="chapter" id="([^"]+)"', html)
    assert len(chapters) >= 5
    procedures = re.findall(r'<h2 id="(procedure-[^"]+)"', html)
    assert "procedure-stop-and-bleed" in procedures
    for anchor in ("_limits", "_controls", "_tables", *chapters, "_care-hours", "_faults"):
        assert f'href="#{anchor}"' in first, anchor
    for anchor in procedures:
        assert html.index(f'href="#{anchor}"') < html.index(f'id="{anchor}"')
