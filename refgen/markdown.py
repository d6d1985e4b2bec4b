"""The Markdown of a finished page, for builders that take nothing else.

What Markdown has words for becomes Markdown: headings, paragraphs, lists, links, emphasis, pipe
tables. Anchors and pictures stay HTML, which every Markdown takes. What only a script brings to
life is left out. The same words, links and anchors come out as went in, in the same order.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape

from refgen.elements import Element, read_html

Children = Iterable[Element | str]

_SPECIAL = re.compile(r"[\\`*_#\[\]]")
# Entities where a backslash does not do in every dialect, and for what templates would take up.
_ENTITIES = str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", "|": "&#124;", "{": "&#123;", "}": "&#125;"}
)
_LIKE_A_BLOCK = re.compile(r"^(\d*)([+.)-])")
_EMPHASIS = {"b": "**", "strong": "**", "i": "*", "em": "*", "small": "*"}
_INDENT = 4
"""Spaces by which what lies in a list stands in: some dialects take no fewer."""


def markdown_of(html: str) -> str:
    """Return the Markdown of a finished page's article."""
    writer = _Writer()
    blocks = writer.blocks(read_html(html).children)
    return "\n\n".join([*blocks, *writer.anchors_left()]) + "\n"


class _Writer:
    def __init__(self) -> None:
        self.anchors = ""
        """Anchors met, to stand before the next words."""

    def blocks(self, children: Children) -> list[str]:
        """Return the blocks of some children; a run of what is no block makes a paragraph."""
        found: list[str] = []
        run: list[Element | str] = []
        for child in children:
            if isinstance(child, str) or not child.is_block:
                run.append(child)
                continue
            found += self._paragraph(run)
            run = []
            if not child.is_scripted:
                self.anchors += _anchor(child)
                found += self._block(child)
        return found + self._paragraph(run)

    def anchors_left(self) -> list[str]:
        """Return the anchors before which no words came, as a block."""
        taken, self.anchors = self.anchors, ""
        return [taken] if taken else []

    def _paragraph(self, run: Children) -> list[str]:
        text = _inline(run).strip()
        return ["".join([*self.anchors_left(), _LIKE_A_BLOCK.sub(r"\1\\\2", text)])] if text else []

    def _block(self, element: Element) -> list[str]:
        name, children = element.name, element.children
        if name in ("h1", "h2", "h3", "h4"):
            return [
                f"{'#' * int(name[1])} {''.join(self.anchors_left())}{_inline(children).strip()}"
            ]
        if name == "figure":
            return [*self.anchors_left(), element.source]
        if name == "table":
            return [*self.anchors_left(), *_table(element)]
        if name in ("ul", "ol"):
            return self._list(name, list(element.within("li")))
        if name == "dl":
            return self._list(name, [item for item in element.elements if not item.is_scripted])
        if name == "dt":
            return self._paragraph(_bold_at_first(children))
        if name == "summary":
            return self._paragraph([Element("b", {}, children)])
        blocks = self.blocks(children)
        if "caution" in element.attributes.get("class", "").split():
            return ["\n".join(f"> {line}".rstrip() for line in "\n\n".join(blocks).split("\n"))]
        return blocks

    def _list(self, name: str, items: list[Element]) -> list[str]:
        written: list[str] = []
        for item in items:
            self.anchors += _anchor(item)
            text = "\n\n".join(self.blocks(_one_line(item) if name == "dl" else item.children))
            if not text or item.is_scripted:
                continue
            marker = f"{len(written) + 1}." if name == "ol" else "-"
            inner = re.sub(r"\n(?=[^\n])", "\n" + " " * _INDENT, text)
            written.append(f"{marker:<{_INDENT}}{inner}")
        between = "\n\n" if any("\n" in item for item in written) else "\n"
        return [between.join(written)] if written else []


def _one_line(pair: Element) -> list[Element | str]:
    """Return a term and what is said of it, as they stand in one line."""
    found: list[Element | str] = []
    for part in pair.elements:
        found += _bold_at_first(part.children) if part.name == "dt" else [" ", *part.children]
    return found


def _bold_at_first(children: list[Element | str]) -> list[Element | str]:
    """Return a term in bold, but for what is added to it in small."""
    end = next(
        (n for n, c in enumerate(children) if isinstance(c, Element) and c.name == "small"),
        len(children),
    )
    return [Element("b", {}, children[:end]), *children[end:]]


def _table(table: Element) -> list[str]:
    rows = []
    for row in table.within("tr"):
        cells: list[str] = []
        for cell in row.elements:
            text = _anchor(cell) + _inline(cell.children, "<br>").strip()
            cells += [text, *[""] * (int(cell.attributes.get("colspan", "1")) - 1)]
        cells[0] = _anchor(row) + cells[0]
        rows.append(cells)
    rows.insert(1, ["---"] * len(rows[0]))
    lines = "\n".join(f"| {' | '.join(cells)} |" for cells in rows)
    caption = [_inline(found.children).strip() for found in table.within("caption")]
    return [*caption, lines]


def _inline(children: Children, between: str = " ") -> str:
    """Return children as one line of text, with `between` elements that touch each other."""
    line, touches = "", False
    for child in children:
        if isinstance(child, str):
            text = re.sub(r"\s+", " ", _SPECIAL.sub(r"\\\g<0>", child).translate(_ENTITIES))
            touches = False
            if line.endswith("*") and text[:1].isalnum():  # else it would not end the emphasis
                line += " "
        else:
            text = _element(child, between)
            if not text:
                continue
            if touches:
                line += between
            elif text[0] == "*" and line and line[-1] not in " (>":
                line += " "
            elif text[0] == "[" and line.endswith("!"):  # else it would be a picture
                line = rf"{line[:-1]}\!"
            touches = True
        line += text.lstrip(" ") if line.endswith(" ") else text
    return line


def _element(element: Element, between: str) -> str:
    """Return an element within a line."""
    if element.is_scripted:
        return ""
    if element.name == "br":
        return "<br>"
    if element.name == "img":
        return f"![{element.attributes.get('alt', '')}]({element.attributes['src']})"
    if element.name == "svg":
        return element.source
    text, anchor = _inline(element.children, between), _anchor(element)
    if element.name == "a" and "href" in element.attributes:
        return f"{anchor}[{text.strip()}](<{escape(element.attributes['href'])}>)"
    mark = _EMPHASIS.get(element.name, "")
    if mark and text.strip() and "*" not in text:
        return f"{anchor}{mark}{text.strip()}{mark}"
    return anchor + text


def _anchor(element: Element) -> str:
    name = element.attributes.get("id", "")
    return f'<a id="{escape(name)}"></a>' if name else ""
