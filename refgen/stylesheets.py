"""The part of the theme's stylesheet that our pages rest on, and nothing else of it.

The theme styles a hundred things that are not on our pages; on a phone that is most of the wait
for the first sight of the text. A rule stays if every class and element it names can occur on a
page of ours, and it names no id; a variable stays if a rule that stayed uses it. No rule stays that
shows a picture: the theme writes its pictures into the stylesheet, which README's policy refuses.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache
from typing import Any

import tinycss2

_VARIABLE = re.compile(r"var\(\s*(--[\w-]+)")
_NAMED = re.compile(r"([.#])((?:[\w-]|\\.)+)")
_ELEMENT = re.compile(r"(?:^|[\s>+~(,])([a-zA-Z][\w-]*)")
_ATTRIBUTE = re.compile(r"\[\s*([\w-]+)[^\]]*\]")
_PICTURE = re.compile(r"(--[\w-]+)\s*:\s*url\(", re.IGNORECASE)


@lru_cache(maxsize=2)
def used_part(css: str, names: frozenset[str], also_used_by: str) -> str:
    """Return the rules of a stylesheet that can match our pages.

    Args:
        css: The whole stylesheet.
        names: Every class and element that can occur.
        also_used_by: A further stylesheet, whose variables must stay defined.
    """
    rules = tinycss2.parse_stylesheet(css, skip_comments=True, skip_whitespace=True)
    pictures = frozenset(_PICTURE.findall(css))
    kept = [
        (head, body) for head, body in _kept(rules, names) if not _shows_a_picture(body, pictures)
    ]
    wanted = set(_VARIABLE.findall(also_used_by))
    while True:
        text = "".join(_without_variables(head, body, wanted) for head, body in kept)
        more = set(_VARIABLE.findall(text)) - wanted
        if not more:
            return text
        wanted |= more


def _kept(rules: Iterable[Any], names: Collection[str]) -> Iterator[tuple[str, str]]:
    """Yield selector (or at-rule) and body of each rule that stays."""
    for rule in rules:
        if rule.type == "qualified-rule":
            heads = [
                head.strip()
                for head in _split(tinycss2.serialize(rule.prelude))
                if _can_match(head, names)
            ]
            if heads:
                yield ",".join(heads), tinycss2.serialize(rule.content)
        elif rule.type == "at-rule" and rule.at_keyword in ("media", "supports") and rule.content:
            inner = tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True)
            for head, body in _kept(inner, names):
                condition = f"@{rule.at_keyword}{tinycss2.serialize(rule.prelude)}"
                yield f"{condition}{{{head}", f"{body}}}"


def _shows_a_picture(body: str, pictures: Collection[str]) -> bool:
    own = _PICTURE.sub("", body)
    return "url(" in own.lower() or any(name in pictures for name in _VARIABLE.findall(own))


def _split(selectors: str) -> list[str]:
    """Return the selectors of a list, commas within brackets left alone."""
    parts, depth, start = [], 0, 0
    for place, sign in enumerate(selectors):
        depth += (sign in "([") - (sign in ")]")
        if sign == "," and depth == 0:
            parts.append(selectors[start:place])
            start = place + 1
    return [*parts, selectors[start:]]


def _can_match(selector: str, names: Collection[str]) -> bool:
    positive = re.sub(r":not\([^)]*\)", "", selector)
    for sign, name in _NAMED.findall(positive):
        if sign == "#" or name not in names:
            return False
    for attribute in _ATTRIBUTE.findall(positive):
        if attribute.startswith("data-md") or attribute == "dir":
            return False
    bare = _NAMED.sub("", _ATTRIBUTE.sub("", positive))
    bare = re.sub(r"::?[\w-]+(\([^)]*\))?", "", bare)
    return all(name.lower() in names for name in _ELEMENT.findall(bare))


def _without_variables(head: str, body: str, wanted: Collection[str]) -> str:
    lines = [
        line
        for line in tinycss2.parse_declaration_list(
            body.rstrip("}") if head.startswith("@") else body,
            skip_comments=True,
            skip_whitespace=True,
        )
        if line.type == "declaration" and (not line.name.startswith("--") or line.name in wanted)
    ]
    if not lines:
        return ""
    end = "}}" if head.startswith("@") else "}"
    return f"{head}{{{';'.join(_declaration(line) for line in lines)}{end}"


def _declaration(line: Any) -> str:
    important = "!important" if line.important else ""
    return f"{line.name}:{tinycss2.serialize(line.value).strip()}{important}"
