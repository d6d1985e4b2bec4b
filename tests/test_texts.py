"""Texts from data as HTML: figures in both units with their mark, and nothing that could run."""

from __future__ import annotations

import re
from html import unescape
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.model.figure import Ceiling, Figure
from refgen.texts import Shown, Typesetter, show_figure, show_quantity, show_range
from refgen.units import System, parse_quantity

NBSP = "\u00a0"


def setter_of(catalog: Catalog, first: System = "us") -> Typesetter:
    return Typesetter(catalog.figures, first, catalog.w, ("materials", "clay"))


@pytest.fixture
def setter(small: Catalog) -> Typesetter:
    return setter_of(small)


def q(first: str, other: str) -> str:
    """Return how a quantity stands in HTML: each system in one piece that does not break."""
    first, other = first.replace(" ", NBSP), other.replace(" ", NBSP)
    return f'<span class="q">{first}</span> <span class="q">({other})</span>'


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("Plain words.", "Plain words."),
        ("*Never* lift, **never** park.", "<em>Never</em> lift, <strong>never</strong> park."),
        ("**Not *so* fast**", "<strong>Not <em>so</em> fast</strong>"),
        ("2 * 3 * 4 and snake_case_words", "2 * 3 * 4 and snake_case_words"),
        ("* no list", "* no list"),
        ("# no heading", "# no heading"),
        ("`no code` and ~~no line~~", "`no code` and ~~no line~~"),
        ("A backslash \\* stays", "A backslash \\* stays"),
        ("Salt & water < 5 > 3", "Salt &amp; water &lt; 5 &gt; 3"),
        ("&lt;b&gt; &copy; &#x41;", "&amp;lt;b&amp;gt; &amp;copy; &amp;#x41;"),
        ("*&copy;*", "<em>&amp;copy;</em>"),
        ("{{ 7*7 }} {% raw %}", "{{ 7*7 }} {% raw %}"),
        ("{{worn}}", "{{worn}}"),
    ],
)
def test_only_emphasis_and_strength_pass(setter: Typesetter, text: str, html: str) -> None:
    assert setter.html(text) == html


class Tags(HTMLParser):
    """Gathers what a browser would make of a text."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.seen = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.seen += data


def parsed(html: str) -> Tags:
    tags = Tags()
    tags.feed(str(html))
    tags.close()
    return tags


@pytest.mark.parametrize(
    ("typed", "seen"),
    [
        ("<script>alert(1)</script>", "<script>alert(1)</script>"),
        ("*<script>alert(1)</script>*", "<script>alert(1)</script>"),
        ("<img src=x onerror=alert(1)> **x**", "<img src=x onerror=alert(1)> x"),
        ("[here](javascript:alert(1)) *now*", "[here](javascript:alert(1)) now"),
        ("![x](javascript:alert(1)) {= 5 s}", "![x](javascript:alert(1)) 5 s"),
        ("<javascript:alert(1)> *x*", "<javascript:alert(1)> x"),
        ("https://example.org *x*", "https://example.org x"),
        ("{{ 7*7 }}{% include 'x' %} **x**", "{{ 7*7 }}{% include 'x' %} x"),
        ("\"><svg/onload=alert(1)> '*x*'", "\"><svg/onload=alert(1)> 'x'"),
    ],
)
def test_hostile_text_is_shown_as_typed(setter: Typesetter, typed: str, seen: str) -> None:
    tags = parsed(setter.html(typed))
    assert set(tags.tags) <= {"em", "strong", "span"}
    assert set(tags.attributes) <= {("class", "q")}
    assert tags.seen.replace(NBSP, " ") == seen


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.text("ab <>&\"'*_[](){}=!`\\/#-\n", max_size=40))
def test_no_text_becomes_more_than_emphasis(text: str) -> None:
    setter = Typesetter({}, "us", {}, ("terms", "x"))
    try:
        html = setter.html(text)
    except (KeyError, ValueError):
        return  # a citation that cites nothing, which the catalog refuses
    assert set(parsed(html).tags) <= {"em", "strong", "span"}


def test_a_figure_stands_in_both_units_with_its_mark(setter: Typesetter) -> None:
    # 1500 psi × 0.0689476 = 103.42 bar
    wanted = f'<span class="fig">{q("1,500 psi", "103 bar")}<i class="mark">test</i></span>'
    assert setter.html("Hold to {worn}.") == f"Hold to {wanted}."


def test_a_figure_stands_in_metric_first_where_the_brand_says_so(small: Catalog) -> None:
    html = setter_of(small, "metric").html("Hold to {worn}.")
    assert q("103 bar", "1,500 psi") in html


def test_a_quantity_in_a_text_has_both_units_and_no_mark(setter: Typesetter) -> None:
    assert setter.html("Go {= 10 ft} back.") == f"Go {q('10 ft', '3 m')} back."
    assert setter.html("At {= 15 deg}.") == 'At <span class="q">15°</span>.'


def test_a_figure_of_another_record_and_a_record_of_another_page(setter: Typesetter) -> None:
    # 10 ft = 3.048 m
    far = q("10 ft", "3 m")
    assert far in setter.html("Stay {hazards/injection#stand-clear} away.")
    assert far in setter.html("Stay {stand-clear} away.", ("hazards", "injection"))


def test_a_figure_inside_strength_is_still_a_figure(setter: Typesetter) -> None:
    html = setter.html("**Never above {worn}**")
    assert html.startswith('<strong>Never above <span class="fig">')
    assert html.endswith("</span></strong>")


def test_a_text_knows_which_figures_it_showed_each_once_in_order(setter: Typesetter) -> None:
    setter.html("{worn} {sound} {hazards/injection#stand-clear} {worn} {= 3 ft}")
    assert list(setter.cited) == [
        ("materials", "clay", "worn"),
        ("materials", "clay", "sound"),
        ("hazards", "injection", "stand-clear"),
    ]


def test_plain_text_has_the_values_and_no_markup(setter: Typesetter) -> None:
    text = "*Hold* to **{worn}** within {= 10 ft}: a < b & {{ c }}."
    assert setter.plain(text) == "Hold to 1,500 psi (103 bar) within 10 ft (3 m): a < b & {{ c }}."
    assert setter.plain("one\ntwo") == "one\ntwo"
    assert setter.plain("Stay {stand-clear} off.", ("hazards", "injection")) == (
        "Stay 10 ft (3 m) off."
    )


@pytest.mark.parametrize(
    ("ceiling", "plain"),
    [
        ({"jet": "no"}, "Hold to zero pressure (do not jet) here."),
        ({"is": "1500 psi", "jet": "no"}, "Hold to zero pressure (do not jet) here."),
        (
            {"is": "1500 psi", "jet": "only with <b> consent"},
            "Hold to 1,500 psi (103 bar; only with <b> consent) here.",
        ),
        ({"jet": "only by day"}, "Hold to zero pressure (only by day) here."),
    ],
)
def test_a_sentence_that_holds_to_a_barred_ceiling_still_reads(
    ceiling: dict[str, str], plain: str
) -> None:
    figure = Ceiling.model_validate({**ceiling, "basis": "owner", "source": "rule"})
    words = {"zero_pressure": "zero pressure", "no_jet_aside": "do not jet", "mark_owner": "owner"}
    setter = Typesetter({("materials", "clay", "worn"): figure}, "us", words, ("", ""))
    text = "Hold to {materials/clay#worn} here."
    assert setter.plain(text) == plain
    html = setter.html(text)
    assert '<i class="mark">owner</i></span> here.' in html
    assert "<b>" not in html
    said = re.sub("<i.*?</i>|<[^>]*>", "", html).replace("\u00a0", " ")
    assert unescape(said) == plain


@pytest.mark.parametrize(
    ("low", "high", "us", "metric"),
    [
        ("3 s", "5 s", "3 to 5 s", ""),
        ("10 ft", "20 ft", "10 to 20 ft", "3 to 6.1 m"),  # 3.048, 6.096
        ("1500 psi", None, "1,500 psi", "103 bar"),
        ("15 deg", "30 deg", "15° to 30°", ""),
        ("1 day", "3 days", "1 day to 3 days", ""),
        ("60 degF", "140 degF", "60 to 140 °F", "16 to 60 °C"),  # 15.6
        ("1 1/2 in", "2 in", "1 1/2 to 2 in", "38 to 51 mm"),  # 38.1, 50.8
        ("6 in", "1 ft", "6 in to 1 ft", "150 mm to 0.30 m"),  # 152.4, 0.3048
    ],
)
def test_a_range_names_its_unit_once(low: str, high: str | None, us: str, metric: str) -> None:
    quantities = parse_quantity(low), parse_quantity(high) if high else None
    assert show_range(*quantities, "us") == Shown(us, metric)
    assert show_range(*quantities, "metric") == (Shown(metric, us) if metric else Shown(us, ""))


def test_what_a_reader_sees_as_text_and_as_html() -> None:
    shown = show_quantity(parse_quantity("1740 psi"), "us")
    assert str(shown) == "1,740 psi (120 bar)"
    assert Markup("{}").format(shown) == q("1,740 psi", "120 bar")
    assert str(Shown("15°", "")) == "15°"
    assert Markup("{}").format(Shown("a < b", "")) == f'<span class="q">a{NBSP}&lt;{NBSP}b</span>'


def test_a_figure_that_forbids_has_no_value() -> None:
    figure = Figure.model_validate({"is": "10 ft", "to": "20 ft"})
    assert show_figure(figure, "us") == Shown("10 to 20 ft", "3 to 6.1 m")
    assert show_figure(Ceiling.model_validate({"jet": "no"}), "us") is None
    assert show_figure(Ceiling.model_validate({"is": "9 psi", "jet": "by day"}), "us") is None
