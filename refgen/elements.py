"""Finished HTML as a tree of elements, for what has to be said again in another form."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from html.parser import HTMLParser

_VOID = ("br", "hr", "img", "input")
_IN_SECTIONS = ("details", "div", "dl", "figure", "nav", "noscript", "section", "table")
_WITH_WORDS = ("dd", "dt", "h1", "h2", "h3", "h4", "li", "ol", "p", "summary", "ul")
_SCRIPTED = ("button", "fieldset", "input", "option", "select", "template", "textarea")


@dataclass
class Element:
    """One element of a page."""

    name: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list[Element | str] = field(default_factory=list)
    source: str = ""
    """The element as it was written."""

    @property
    def elements(self) -> list[Element]:
        """The children that are no text."""
        return [child for child in self.children if isinstance(child, Element)]

    @property
    def is_scripted(self) -> bool:
        """Whether only a script brings it to life, or to light."""
        return self.name in _SCRIPTED or "hidden" in self.attributes

    @cached_property
    def is_block(self) -> bool:
        """Whether it stands by itself, not within a line."""
        named = self.name in _IN_SECTIONS or self.name in _WITH_WORDS
        return named or any(child.is_block for child in self.elements)

    def within(self, name: str) -> Iterator[Element]:
        """Yield the nearest elements of a name."""
        for child in self.elements:
            if child.name == name:
                yield child
            else:
                yield from child.within(name)


def read_html(html: str) -> Element:
    """Return finished HTML, in which every element is closed, under one element."""
    return _Reader(html).root


class _Reader(HTMLParser):
    def __init__(self, html: str) -> None:
        super().__init__()
        self.root = Element("main")
        self._open, self._starts, self._html = [self.root], [0], html
        self._lines = [0, *(end.end() for end in re.finditer("\n", html))]
        self.feed(html)
        self.close()

    def _at(self) -> int:
        line, column = self.getpos()
        return self._lines[line - 1] + column

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_startendtag(tag, attrs)
        if tag not in _VOID:
            self._open.append(self._open[-1].elements[-1])
            self._starts.append(self._at())

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self._open[-1].children.append(element)

    def handle_endtag(self, tag: str) -> None:
        end = self._html.index(">", self._at()) + 1
        self._open.pop().source = self._html[self._starts.pop() : end]

    def handle_data(self, data: str) -> None:
        self._open[-1].children.append(data)
