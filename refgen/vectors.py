"""An SVG made safe: only what draws, nothing that acts or fetches.

A list of what is allowed, not of what is forbidden: what nobody has thought of stays out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

_SVG = "http://www.w3.org/2000/svg"
_XLINK = "http://www.w3.org/1999/xlink"
_DRAWS = frozenset(
    re.findall(
        r"\w+",
        "svg g path rect circle ellipse line polyline polygon defs linearGradient radialGradient "
        "stop clipPath mask pattern symbol use image title desc style",
    )
)
_SPOKEN = frozenset(("title", "desc", "style"))
_MOST_USES = 20
"""Copies of copies of copies grow without end, and a phone stands still drawing them."""
_OUTSIDE = re.compile(
    r"url\(\s*(?![\s'\"]*#)|@import|://|[a-z]+script:|(?:image-set|image|src|element)\(|\\",
    re.IGNORECASE,
)
_PICTURE = re.compile(r"data:image/(png|jpeg);base64,[A-Za-z0-9+/=\s]+")
_NUMBER = re.compile(r"\s*([0-9.]+(?:e-?[0-9]+)?)\s*(?:px)?\s*", re.IGNORECASE)


class Unsafe(Exception):
    """The picture cannot be published: what stands in it, on which line, and what to do."""

    def __init__(self, line: int, message: str, hint: str = "") -> None:
        self.line, self.message, self.hint = line, message, hint
        super().__init__(message)


def safe_svg(content: bytes) -> tuple[str, float, float]:
    """Return an SVG with nothing but what draws it, its width and its height.

    Raises:
        Unsafe: If it has a script, a handler, a link, a text, or anything from outside.
    """
    reader = _Reader()
    try:
        reader.parser.Parse(content, True)
    except expat.ExpatError as error:
        message = f"the SVG cannot be read ({expat.errors.messages[error.code]})"
        raise Unsafe(error.lineno, message, "Save it again from a drawing program.") from error
    return "".join(reader.written), reader.width, reader.height


@dataclass
class _Reader:
    """Reads an SVG piece by piece and writes down what may stay."""

    written: list[str] = field(default_factory=list)
    width: float = 0.0
    height: float = 0.0
    uses: int = 0
    depth: int = 0
    dropping: int = 0
    """Depth at which something is left out, 0 while nothing is."""
    speaking: str = ""
    said: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self.begin
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.text
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.ProcessingInstructionHandler = self.instruction

    def refuse(self, message: str, hint: str) -> Unsafe:
        return Unsafe(self.parser.CurrentLineNumber, message, hint)

    def doctype(self, name: str, system: str | None, public: str | None, has_subset: int) -> None:
        # The plain one of old drawing programs says nothing; with entities it can say anything.
        if has_subset:
            raise self.refuse("the SVG declares entities", "Remove all of '<!DOCTYPE … >'.")

    def instruction(self, target: str, data: str) -> None:
        raise self.refuse(f"the SVG has an instruction '{target}'", "Remove '<?… ?>'.")

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        self.depth += 1
        if self.dropping:
            return
        space, _, local = name.rpartition(" ")
        if self.depth == 1 and (space, local) != (_SVG, "svg"):
            raise self.refuse("the file is no SVG", "Save it as SVG.")
        if space != _SVG or local == "metadata":
            self.dropping = self.depth
            return
        self._allow(local)
        kept = {k: v for n, v in attributes.items() for k in [self._attribute(local, n, v)] if k}
        if self.depth == 1:
            kept = {"xmlns": _SVG, **self._size(kept)}
        self.speaking, self.said = (local if local in _SPOKEN else ""), []
        told = "".join(f" {key}={quoteattr(value)}" for key, value in kept.items())
        self.written.append(f"<{local}{told}>")

    def _allow(self, local: str) -> None:
        if local in ("text", "tspan", "textPath"):
            hint = "Turn it into outlines; a phone may lack its font."
            raise self.refuse("the SVG has text in it", hint)
        if local not in _DRAWS:
            hint = "Remove it; a logo may only draw."
            raise self.refuse(f"the SVG has a '{local}' in it", hint)
        self.uses += local == "use"
        if self.uses > _MOST_USES:
            raise self.refuse(f"the SVG has more than {_MOST_USES} copies", "Draw them out.")

    def _attribute(self, element: str, name: str, value: str) -> str:
        """Return the name under which an attribute is kept, '' if it is dropped."""
        space, _, local = name.rpartition(" ")
        if local.lower().startswith("on"):
            hint = "Remove it; a logo may only draw."
            raise self.refuse(f"the SVG has a handler '{local}' in it", hint)
        if local == "href" and space in ("", _XLINK):
            inside = value.startswith("#") or (
                element == "image" and _PICTURE.fullmatch(value) is not None
            )
            if not inside:
                hint = "Put the picture itself into the file, or draw it."
                raise self.refuse(f"the SVG leads outside, to '{value[:60]}'", hint)
            return "href"
        if space:
            return ""
        if found := _OUTSIDE.search(value):
            hint = "Remove it; a logo may fetch nothing."
            raise self.refuse(f"the SVG has '{found[0]}' in its '{local}'", hint)
        return local

    def _size(self, attributes: dict[str, str]) -> dict[str, str]:
        """Return the root's attributes with one size that holds: that of its view box."""
        box = re.split(r"[\s,]+", attributes.get("viewBox", "").strip())
        given = [_NUMBER.fullmatch(attributes.get(side, "")) for side in ("width", "height")]
        try:
            if len(box) == 4:
                self.width, self.height = float(box[2]), float(box[3])
            elif all(given):
                self.width, self.height = (float(found[1]) for found in given if found)
                attributes = {**attributes, "viewBox": f"0 0 {self.width:g} {self.height:g}"}
        except ValueError:
            self.width = 0
        if not (0 < self.width < 1e6 and 0 < self.height < 1e6):
            raise self.refuse("the SVG has no size", "Give it a viewBox.")
        return {k: v for k, v in attributes.items() if k not in ("x", "y", "width", "height")}

    def end(self, name: str) -> None:
        if not self.dropping:
            if self.speaking:
                self.written.append(self._spoken("".join(self.said)))
            self.written.append(f"</{name.rpartition(' ')[2]}>")
            self.speaking = ""
        elif self.dropping == self.depth:
            self.dropping = 0
        self.depth -= 1

    def text(self, data: str) -> None:
        if self.speaking and not self.dropping:
            self.said.append(data)

    def _spoken(self, text: str) -> str:
        """Return a title or a style, looked at only when it is whole."""
        if self.speaking == "style" and (found := _OUTSIDE.search(text)):
            hint = "Remove it; a logo may fetch nothing."
            raise self.refuse(f"the SVG has '{found[0]}' in its style", hint)
        return escape(text)
