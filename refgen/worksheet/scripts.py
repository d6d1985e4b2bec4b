"""The worksheet's script: its parts joined in one function, without what only people read.

The parts share one scope, so each may use what another declares. Comments, spaces and the names of
variables are no use to a phone: names become short ones, each name the same one everywhere, so
nothing can come to mean something else. Properties and texts are left alone.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

PARTS = ("model", "units", "sums", "pictures", "setup", "fields", "answers", "page")
"""Parts in the order in which they run, each `theme/worksheet-<part>.js`."""

_TOKEN = re.compile(
    r"""(?P<space>\s+|//[^\n]*|/\*.*?\*/)
    |(?P<text>"(?:[^"\\\n]|\\.)*")
    |(?P<pattern>(?:(?<=[(=,:?&|!])|(?<=[(=,:?&|!][ ]))  # where an expression may begin
        /(?:[^/\\\n[]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/[a-z]*)
    |(?P<name>[A-Za-z_$][\w$]*)
    |(?P<number>\.?\d[\w.]*(?:(?<=e)[-+]\d+)?)
    |(?P<sign>=>|\.\.\.|\?\?|\?\.|[-+*/%&|^<>=!]=+|&&|\|\||.)""",
    re.VERBOSE | re.DOTALL,
)
_KEYWORDS = """
as async await break case catch class const continue debugger default delete do else enum export
extends false finally for function get if implements import in instanceof interface let new null of
package private protected public return set static super switch this throw true try typeof undefined
var void while with yield
"""
_BROWSER = """
Array Blob Boolean FileReader Infinity JSON Map Math Number Object Option Set String URL
addEventListener clearTimeout decodeURIComponent document encodeURIComponent history isFinite
localStorage location navigator setTimeout window
"""
_KEPT = frozenset(f"{_KEYWORDS} {_BROWSER}".split())
# What may be written as `const` holds just as well as `let`, and one word packs better than two.
_AS_SHORT = {"true": "!0", "false": "!1", "const": "let", "Infinity": "1/0"}
_SMALL = "abcdefghijklmnopqrstuvwxyz"
_CAPITALS = _SMALL.upper()

Token = tuple[str, str]


def whole_script(theme: Path) -> str:
    """Return the parts as one classic script, as written."""
    parts = [(theme / f"worksheet-{part}.js").read_text("utf-8") for part in PARTS]
    head = '(function () {\n"use strict";\nconst data = window.refgenSheet;\n'
    head += "const k = data.constants, w = data.words;\n"
    return head + "\n".join(parts) + "})();\n"


def shortened(script: str) -> str:
    r"""Return a script that does the same with fewer letters.

    What is declared outermost goes by a capital, and a name that is used in one outermost
    statement only by a small letter, which another statement may use again. Holds for scripts in
    one function that end every statement with a semicolon, write out `{name: name}`, declare one
    name at a time, and put no names into templates of text.

    >>> shortened("(function () {const wide = 2; // m\nconst area = {wide: wide * 2}.wide;})();")
    '(function(){let A=2,B={wide:A*2}.wide})();'
    """
    tokens = [
        (str(match.lastgroup), match[0])
        for match in _TOKEN.finditer(script)
        if match.lastgroup != "space"
    ]
    variables = [_is_variable(tokens, place) for place in range(len(tokens))]
    regions, outermost = _regions(tokens)
    uses = Counter(text for (_, text), is_one in zip(tokens, variables, strict=True) if is_one)
    capital = _names(_CAPITALS)
    shared = {name: next(capital) for name, _ in uses.most_common() if name in outermost}
    local: dict[str, str] = {}
    small, region = _names(_SMALL), -1
    said: list[str] = []
    for place, (_, text) in enumerate(tokens):
        if regions[place] != region:
            local, small, region = {}, _names(_SMALL), regions[place]
        word = _AS_SHORT.get(text, text.removeprefix("0") if text.startswith("0.") else text)
        if variables[place]:
            word = shared.get(text) or local.get(text) or local.setdefault(text, next(small))
        said.append(word)
    return "".join(_spaced(_joined(said)))


def _joined(words: list[str]) -> Iterator[str]:
    """Yield words with neighbouring declarations as one, and no semicolon at the end of a block."""
    begun = [""]  # how the statement at hand began, for each bracket that is open
    fresh, skip = True, False
    for word, after in zip(words, [*words[1:], ""], strict=True):
        if skip:
            skip = False
            continue
        if fresh and re.match(r"[\w$]", word):  # what follows an object's end begins nothing
            begun[-1] = word
        fresh = word in ("{", ";", "}")
        if word in ("{", "(", "["):
            begun.append("")
        elif word in ("}", ")", "]"):
            begun.pop()
        if word == ";" and after == "}":
            continue
        if word == ";" and after in ("const", "let") and begun[-1] == after:
            yield ","
            skip, fresh = True, False
            continue
        yield word


def _spaced(words: Iterable[str]) -> Iterator[str]:
    """Yield words with a space wherever two would otherwise become another word."""
    before = ""
    for word in words:
        if before and _run_together(before, word):
            yield " "
        yield word
        before = word


def _regions(tokens: list[Token]) -> tuple[list[int], set[str]]:
    """Return the outermost statement in which each token stands, and the names declared there."""
    depth, region, declaring = 0, 0, ""
    regions: list[int] = []
    declared: set[str] = set()
    inside = 2  # `(function () {` opens two brackets that stay open
    for place, (kind, text) in enumerate(tokens):
        regions.append(region)
        if text in ("{", "(", "["):
            depth += 1
        elif text in ("}", ")", "]"):
            depth -= 1
        if depth != inside:
            continue
        before = tokens[place - 1][1]
        if text in ("const", "let", "function"):
            declaring = text
        elif kind == "name" and (
            before == declaring or (before == "," and declaring != "function")
        ):
            if declaring:
                declared.add(text)
        elif text == ";" or (text == "}" and declaring in ("function", "")):
            region, declaring = region + 1, ""
    return regions, declared


def _is_variable(tokens: list[Token], place: int) -> bool:
    """Return whether a token names a variable: no property, no key of an object, nothing kept."""
    kind, text = tokens[place]
    if kind != "name" or text in _KEPT:
        return False
    before = tokens[place - 1][1] if place else ""
    after = tokens[place + 1][1] if place + 1 < len(tokens) else ""
    return before not in (".", "?.") and not (after == ":" and before in ("{", ","))


def _names(letters: str) -> Iterator[str]:
    """Yield names that begin with one of some letters, the shortest first."""
    yield from letters
    for letter in letters:
        for tail in (*_SMALL, *_CAPITALS):
            if letter + tail not in _KEPT:
                yield letter + tail


def _run_together(before: str, after: str) -> bool:
    """Return whether two tokens would become another one without a space between."""
    both_words = re.match(r"[\w$]", before[-1]) and re.match(r"[\w$]", after[0])
    return bool(both_words) or (before[-1] == after[0] and after[0] in "+-")
