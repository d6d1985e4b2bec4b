"""Texts from data turned into HTML, with every figure shown in both units and with its mark.

Only emphasis and strength pass as Markdown; everything else, HTML and template syntax included,
comes out as it was typed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererProtocol
from markdown_it.rules_inline import StateInline
from markupsafe import Markup, escape

from refgen.model.figure import Ceiling, Figure
from refgen.references import CITATION, FigureKey
from refgen.units import Quantity, System, both_ways, parse_quantity

_SPECIAL = frozenset("*_{\n")


@dataclass(frozen=True, slots=True)
class Shown:
    """A quantity as a reader sees it: first system, other system ('' where they are one)."""

    first: str
    other: str
    condition: str = ""
    """On what condition alone it holds."""

    def __str__(self) -> str:
        aside = "; ".join(filter(None, (self.other, self.condition)))
        return f"{self.first} ({aside})" if aside else self.first

    def __html__(self) -> Markup:
        html = Markup('<span class="q">{}</span>').format(_tied(self.first))
        other = _tied(self.other)
        if self.other and self.condition:
            return html + Markup(' <span class="q">({};</span> {})').format(other, self.condition)
        if self.other:
            return html + Markup(' <span class="q">({})</span>').format(other)
        return html + Markup(" ({})").format(self.condition) if self.condition else html


def _tied(text: str) -> str:
    """Return a quantity that does not break between number and unit."""
    return text.replace(" ", "\u00a0")


def show_quantity(quantity: Quantity, first: System) -> Shown:
    """Return a quantity in both systems."""
    return Shown(*both_ways(quantity, first))


def show_range(low: Quantity, high: Quantity | None, first: System) -> Shown:
    """Return a value or a range in both systems, the unit named once."""
    one = show_quantity(low, first)
    if high is None:
        return one
    other = show_quantity(high, first)
    return Shown(_span(one.first, other.first), _span(one.other, other.other))


def _span(low: str, high: str) -> str:
    if not low:
        return ""
    number, _, unit = low.rpartition(" ")
    if high.endswith(f" {unit}") and number:
        return f"{number} to {high}"
    return f"{low} to {high}"


def show_figure(figure: Figure, first: System) -> Shown | None:
    """Return a figure's value in both systems, or None where it forbids instead of limits."""
    if figure.is_ is None or (isinstance(figure, Ceiling) and figure.jet is not None):
        return None
    return show_range(figure.is_, figure.to, first)


class Typesetter:
    """Sets the texts of one page, and remembers which figures it showed."""

    def __init__(
        self,
        figures: Mapping[FigureKey, Figure],
        first: System,
        words: Mapping[str, str],
        key: tuple[str, str],
    ) -> None:
        self.figures, self.first, self.words, self.key = figures, first, words, key
        self.cited: dict[FigureKey, Figure] = {}

    def html(self, text: str, key: tuple[str, str] | None = None) -> Markup:
        """Return a text as HTML; `key` names the record it was written in, if another."""
        if not _SPECIAL.intersection(text):
            return escape(text)
        return Markup(_MARKDOWN.renderInline(text, {"setter": self, "key": key or self.key}))

    def plain(self, text: str, key: tuple[str, str] | None = None) -> str:
        """Return a text without any markup, for descriptions and search."""
        if not _SPECIAL.intersection(text):
            return str(text)
        tokens = _MARKDOWN.parseInline(text, {})
        parts = []
        for token in (tokens[0].children or []) if tokens else []:
            if token.type == "citation":
                parts.append(str(self._cite(token.meta["match"], key or self.key)[0]))
            elif token.type in ("text", "softbreak"):
                parts.append(token.content or " ")
        return "".join(parts)

    def value(self, key: FigureKey) -> Shown | None:
        """Return a figure's value, and note that the page shows it."""
        figure = self.figures[key]
        self.cited.setdefault(key, figure)
        return show_figure(figure, self.first)

    def cite(self, match: Any, key: tuple[str, str]) -> Markup:
        """Return a figure or quantity cited in the record `key` as HTML."""
        shown, figure = self._cite(match, key)
        if figure is None:
            return escape(shown)
        return Markup('<span class="fig">{}{}</span>').format(shown, self.mark(figure))

    def mark(self, figure: Figure) -> Markup:
        """Return the small word that says what a figure rests on."""
        word = self.words[f"mark_{figure.basis}"]
        return Markup('<i class="mark">{}</i>').format(word)

    def _cite(self, match: Any, home: tuple[str, str]) -> tuple[Shown | str, Figure | None]:
        if match["quantity"]:
            return show_quantity(parse_quantity(match["quantity"]), self.first), None
        kind, name = (match["kind"], match["id"]) if match["kind"] else home
        key = (kind, name, match["figure"])
        figure = self.figures[key]
        shown = self.value(key)
        if shown is None:
            assert isinstance(figure, Ceiling)
            return self._barred(figure), figure
        return shown, figure

    def _barred(self, ceiling: Ceiling) -> Shown:
        """Return a ceiling that forbids as what may stand in a sentence for a pressure.

        A company can bar a pipe that the sentence took to have a limit; 'Hold to …' must then
        still say so.
        """
        none = self.words["zero_pressure"]
        if ceiling.jet == "no":
            return Shown(none, "", self.words["no_jet_aside"])
        most = show_range(ceiling.is_, ceiling.to, self.first) if ceiling.is_ else Shown(none, "")
        return Shown(most.first, most.other, str(ceiling.jet))


def _citation_rule(state: StateInline, silent: bool) -> bool:
    """Read `{figure}` as one token; markdown-it calls this at every character it stops at."""
    if state.src[state.pos] != "{":
        return False
    match = CITATION.match(state.src, state.pos)
    if match is None:
        return False
    if not silent:
        token = state.push("citation", "", 0)
        token.meta = {"match": match}
    state.pos = match.end()
    return True


def _render_citation(
    self: RendererProtocol, tokens: Any, index: int, options: Any, env: Any
) -> str:
    setter: Typesetter = env["setter"]
    return str(setter.cite(tokens[index].meta["match"], env["key"]))


def _markdown() -> MarkdownIt:
    markdown = MarkdownIt("zero", {"html": False}).enable("emphasis")
    markdown.inline.ruler.push("citation", _citation_rule)
    render: Callable[..., str] = _render_citation
    markdown.add_render_rule("citation", render)
    return markdown


_MARKDOWN = _markdown()
