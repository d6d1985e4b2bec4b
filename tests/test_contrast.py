"""Text can be read in the sun: contrasts computed from the stylesheet's own colours, both looks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from refgen.colours import contrast

CSS = (Path(__file__).resolve().parents[1] / "site_templates" / "theme" / "site.css").read_text(
    "utf-8"
)
VARIABLE = re.compile(r"--([\w-]+): (#[0-9a-f]{6})")


def declared(selector: str) -> dict[str, str]:
    """Return the colours a rule of the stylesheet sets, by variable."""
    body = CSS.split(f"{selector} {{", 1)[1].split("}", 1)[0]
    return dict(VARIABLE.findall(body))


DAYLIGHT = declared(":root")
DARK = DAYLIGHT | declared(':root[data-look="dark"]')
LOOKS = {"daylight": DAYLIGHT, "dark": DARK}


def test_the_phones_dark_look_is_the_chosen_one() -> None:
    by_phone = DAYLIGHT | declared(':root:not([data-look="light"])')
    assert by_phone == DARK


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("ink", ["ink", "link", "go"])
@pytest.mark.parametrize("ground", ["ground", "soft", "fig"])
def test_text_has_a_contrast_of_7_to_1(look: str, ink: str, ground: str) -> None:
    colours = LOOKS[look]
    assert contrast(colours[ink], colours[ground]) >= 7


@pytest.mark.parametrize("look", LOOKS)
def test_text_turned_about_has_a_contrast_of_7_to_1(look: str) -> None:
    assert contrast(LOOKS[look]["ground"], LOOKS[look]["ink"]) >= 7
    assert contrast("#ffffff", LOOKS[look]["danger"]) >= 7  # emergency, "stop work if", withdrawn


def test_every_signal_word_has_a_contrast_of_4_5_to_1_on_its_panel() -> None:
    panels = re.findall(
        r"\.sig-(\w+) > \.sig \{ background: (#[0-9a-f]{6}); color: (#[0-9a-f]{3}); \}", CSS
    )
    assert [word for word, _, _ in panels] == ["danger", "warning", "caution", "notice"]
    for word, ground, ink in panels:
        whole = "#" + "".join(letter * 2 for letter in ink[1:])
        assert contrast(whole, ground) >= 4.5, word


@pytest.mark.parametrize("look", LOOKS)
def test_the_edge_of_a_panel_and_of_a_control_has_a_contrast_of_3_to_1(look: str) -> None:
    for edge in ("ink", "link", "go"):
        assert contrast(LOOKS[look][edge], LOOKS[look]["ground"]) >= 3


def test_no_text_is_made_fainter() -> None:
    faint = re.findall(r"opacity: (0?\.\d+)", CSS)
    assert faint == []
