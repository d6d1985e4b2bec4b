"""What leads where: references, citations and former ids, each to something that exists."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Set

from refgen.addresses import BESIDE, beside_address, index_address, record_address
from refgen.entries import Entry
from refgen.errors import Problem, did_you_mean
from refgen.layers import Key
from refgen.messages import locate
from refgen.model import KINDS
from refgen.model.base import Ref
from refgen.model.company import Brand
from refgen.model.figure import Figure
from refgen.nodes import Node
from refgen.references import CITATION, Contents, FigureKey, contents_of
from refgen.units import NotAQuantity, parse_quantity

Figures = Mapping[FigureKey, Figure]
Wrong = tuple[str, str]
# What someone will have meant as a citation and is none. Other braces, such as those of program
# text, are shown as typed.
_STRAY_BRACE = re.compile(r"(?<!\{)\{(?:[\w /#=.-]{0,60}\}(?!\})|[a-z][\w/#-]*(?=[\s.,;:]|$))")


class Links:
    """Checks what one record or the brand says of others, against all that there is."""

    def __init__(self, entries: Mapping[Key, Entry], known: Set[Key], figures: Figures) -> None:
        # `known` has more than `entries`: a record that could not be read still exists, and a
        # link to it is not a second mistake.
        self.entries, self.known, self.figures = entries, known, figures

    def of_entry(self, entry: Entry) -> Iterator[Problem]:
        """Yield every link and citation of a record that leads nowhere."""
        yield from self._of(entry.contents, entry.node, entry.key)

    def of_brand(self, brand: Brand, node: Node) -> Iterator[Problem]:
        """Yield every citation of the brand that leads nowhere."""
        yield from self._of(contents_of(brand), node, ("", ""))

    def _of(self, contents: Contents, node: Node, home: Key) -> Iterator[Problem]:
        for path, ref in contents.refs:
            if (wrong := self._ref(ref)) is not None:
                yield Problem(*locate(node, path), *wrong)
        for path, text in contents.texts:
            for wrong in self._citations(text, home):
                yield Problem(*locate(node, path), *wrong)

    def _ref(self, ref: Ref) -> Wrong | None:
        if ref.kind not in KINDS:
            return f"no kind of record '{ref.kind}'", did_you_mean(ref.kind, KINDS)
        target = (ref.kind, ref.id)
        if target not in self.known:
            names = [name for kind, name in self.known if kind == ref.kind]
            what = KINDS[ref.kind].__name__.lower()
            return f"no {what} '{ref.id}'", did_you_mean(ref.id, names)
        if ref.item and target in self.entries:
            anchors = self.entries[target].anchors
            if ref.item not in anchors:
                return f"'{ref.id}' has no item '{ref.item}'", did_you_mean(ref.item, anchors)
        return None

    def _citations(self, text: str, home: Key) -> Iterator[Wrong]:
        for citation in CITATION.finditer(text):
            if quantity := citation["quantity"]:
                try:
                    parse_quantity(quantity)
                except NotAQuantity as error:
                    yield error.message, error.hint
                continue
            kind, name = (citation["kind"], citation["id"]) if citation["kind"] else home
            unread = (kind, name) in self.known and (kind, name) not in self.entries
            if (kind, name, citation["figure"]) in self.figures or unread:
                continue
            mine = [figure for k, n, figure in self.figures if (k, n) == (kind, name)]
            hint = did_you_mean(citation["figure"], mine) or (
                "Add it under 'figures:', or double the braces to show them as typed."
            )
            yield f"no figure '{citation[0][1:-1]}'", hint
        for stray in _STRAY_BRACE.finditer(CITATION.sub("", text)):
            hint = "Write {figure}, {kind/id#figure} or {= 10 ft}; double a brace to show it."
            yield f"'{stray[0]}' cites nothing", hint


def moved_records(
    entries: Mapping[Key, Entry], known: Set[Key]
) -> tuple[dict[Key, Key], list[Problem]]:
    """Return each former kind and id of a record with its present one, and what clashes."""
    moved: dict[Key, Key] = {}
    problems = []
    hint = "An old address can lead to one place only."
    for key, entry in entries.items():
        for named in entry.record.was:
            kind, _, old = named.rpartition("/")
            former = (kind or key[0], old)
            if kind and kind not in KINDS:
                message = f"no kind of record '{kind}'"
                problems.append(entry.problem(("was",), message, did_you_mean(kind, KINDS)))
                continue
            if former in known:
                problems.append(entry.problem(("was",), f"a record '{old}' still exists", hint))
            elif former in moved:
                message = f"'{old}' was also the id of '{moved[former][1]}'"
                problems.append(entry.problem(("was",), message, hint))
            else:
                moved[former] = key
    return moved, problems


def one_page_each(entries: Mapping[Key, Entry], moved: Mapping[Key, Key]) -> Iterator[Problem]:
    """Yield every record whose page, present or former, would stand where another page stands."""
    taken = {index_address(kind): "the list of its kind" for kind in KINDS}
    taken[record_address("machines", "compare")] = "the page that compares machines"
    for kind, name in entries:
        for what in BESIDE.get(kind, ()):
            taken[beside_address(kind, name, what)] = f"the {what} of '{name}'"
    former = [((kind, old), key) for (kind, old), key in moved.items()]
    for (kind, name), key in [*((key, key) for key in entries), *former]:
        other = taken.get(record_address(kind, name))
        if other is not None:
            path = () if (kind, name) == key else ("was",)
            message = f"the page of '{name}' would stand where {other} stands"
            yield entries[key].problem(path, message, "Give the record another id.")


def backlinks(entries: Mapping[Key, Entry]) -> dict[Key, tuple[Key, ...]]:
    """Return the records that link to each record, in the order of kinds and titles."""
    links: dict[Key, set[Key]] = {}
    for key, entry in entries.items():
        for target in _targets(entry):
            if target != key and target in entries:
                links.setdefault(target, set()).add(key)
    order = list(KINDS)
    return {
        target: tuple(sorted(keys, key=lambda k: (order.index(k[0]), entries[k].record.title, k)))
        for target, keys in links.items()
    }


def _targets(entry: Entry) -> Iterator[Key]:
    for _, ref in entry.contents.refs:
        yield ref.kind, ref.id
    for _, text in entry.contents.texts:
        for citation in CITATION.finditer(text):
            if citation["kind"]:
                yield citation["kind"], citation["id"]
