"""What only judgement can tell: grounds of a figure, overridden safety, texts to look at."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from refgen.entries import Entry
from refgen.errors import Problem
from refgen.layers import Key, Override
from refgen.messages import read_model
from refgen.model.figure import ARGUED, SOURCED, Ceiling, Figure, Grounds, HeatLimit
from refgen.model.record import Record
from refgen.nodes import Node
from refgen.noted import Noted, changed_below
from refgen.references import CITATION
from refgen.spelling import cut
from refgen.units import UNITS

# Fields whose loss or change can hurt someone.
_SAFETY_FIELDS = {
    "cautions",
    "stop",
    "hazards",
    "prevent",
    "first_response",
    "signal",
    "first",
    "harm",
    "tell_hospital",
    "defer_to",
    "ceilings",
    "heat",
    "jet",
    "urgent",
}
_LIMITS = {"ceilings", "heat"}


def grounded(figure: Figure, record: Record) -> Figure:
    """Return the figure with basis, source and reason of its record where it has none."""
    if figure.basis is not None:
        return figure
    return figure.model_copy(
        update={
            "basis": record.basis,
            "source": figure.source or record.source,
            "why": figure.why or record.why,
        }
    )


def missing_grounds(figure: Figure, record: Record) -> Iterator[tuple[str, str]]:
    """Yield what a figure lacks to be believed, with what to write."""
    yield from _lacking(grounded(figure, record), "the figure")
    for other in figure.differs:
        yield from _lacking(other, "the differing value")
        if isinstance(figure, Ceiling) and figure.is_ and other.is_.si < figure.is_.si:
            hint = f"Put {other.is_} first and {figure.is_} under 'differs'."
            yield "the cautious value must stand first", hint


def _lacking(grounds: Grounds, what: str) -> Iterator[tuple[str, str]]:
    basis = grounds.basis
    if basis is None:
        hint = "Add 'basis: …' with a source, or 'basis: caution' with 'why: …'."
        yield f"{what} has no basis", hint
    elif basis in SOURCED and grounds.source is None:
        yield f"basis '{basis}' needs a source", "Add 'source: id-of-a-source'."
    elif basis in ARGUED and grounds.why is None:
        yield f"basis '{basis}' needs a reason", "Add 'why: …'."
    elif basis == "physics" and grounds.formula is None:
        yield "basis 'physics' needs its formula", "Add 'formula: …'."


def judge(
    overrides: Iterable[Override], noted: Mapping[str, Noted] | None = None
) -> tuple[tuple[Override, ...], list[Problem]]:
    """Return the overrides that touch safety, and those that lack a reason.

    Args:
        overrides: What later layers changed or hid.
        noted: What each layer says its overrides were made against, so that one which the layers
            below have turned from stricter to laxer is told as that.
    """
    overrides = tuple(overrides)
    below = {o.place: (was, now) for o, was, now in changed_below(overrides, noted or {})}
    kept: list[Override] = []
    problems: list[Problem] = []
    for override in overrides:
        if not _touches_safety(override):
            continue
        kept.append(override)
        if override.reason or _only_stricter(override):
            continue
        kind, name = override.record
        if _LIMITS & set(override.path):
            message = f"raises or removes a limit of {kind}/{name}"
        elif override.now is None:
            message = f"hides a safety text of {kind}/{name}"
        else:
            message = f"changes a safety text of {kind}/{name}"
        hint = "Add 'reason: …'; it is shown on the page."
        if override.place in below:
            was, now = below[override.place]
            hint = f"The layers below said {was}, and now say {now}. Follow them, or a{hint[1:]}"
        problems.append(Problem(override.place, ".".join(override.path), message, hint))
    return tuple(kept), problems


def _touches_safety(override: Override) -> bool:
    if _SAFETY_FIELDS & set(override.path) or _holds_safety(override.was):
        return True
    # What keeps a hazard away often hangs on a distance or a time.
    return override.record[0] == "hazards" and override.path[:1] in ((), ("figures",))


def _holds_safety(node: Node) -> bool:
    """Whether a safety text or limit stands somewhere inside: with its step, a caution goes too."""
    if isinstance(node.value, dict):
        return bool(_SAFETY_FIELDS & node.value.keys()) or any(
            _holds_safety(inner) for inner in node.value.values()
        )
    return isinstance(node.value, list) and any(_holds_safety(inner) for inner in node.value)


def _only_stricter(override: Override) -> bool:
    """Whether a limit was only made stricter, which anyone may do."""
    if override.now is None or not _LIMITS & set(override.path):
        return False
    model = HeatLimit if "heat" in override.path else Ceiling
    old, _ = read_model(model, override.was)
    new, _ = read_model(model, override.now)
    if old is None or new is None:
        return True  # what is wrong with them is told elsewhere
    if isinstance(old, Ceiling) and isinstance(new, Ceiling) and (old.jet or new.jet):
        return new.jet == "no" or (new.jet is not None and old.jet in (None, new.jet))
    if old.is_ is None or new.is_ is None:
        return False
    return new.is_.si <= old.is_.si and (new.to or new.is_).si <= (old.to or old.is_).si


# Kinds whose records people look for by their own words; what is in stock goes by its name.
LOOKED_FOR = {
    *("symptoms", "paths", "procedures", "checklists", "hazards"),
    *("materials", "deposits", "patterns", "parts", "machines", "tables"),
}

_UNIT_WORDS = "|".join(
    sorted(
        (re.escape(u.symbol) for u in UNITS if u.symbol not in ("A", "V", "K", "h", "s", "m", "×")),
        key=len,
        reverse=True,
    )
)
_BARE_NUMBER = re.compile(rf"(?<![\w{{])\d[\d,./]*\s?(?:{_UNIT_WORDS})(?![\w])")


def bare_numbers(text: str) -> list[str]:
    """Return numbers with a unit that were typed into a text instead of being a quantity.

    >>> bare_numbers("Hold it under 1900 psi, {= 10 ft} from the 2-inch pipe.")
    ['1900 psi']
    """
    return _BARE_NUMBER.findall(CITATION.sub(" ", text))


def advice(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield what an author should look at though it is not wrong."""
    for entry in entries.values():
        for path, text in entry.contents.texts:
            for number in bare_numbers(text):
                hint = f"Write '{{= {number}}}', or cite a figure, so that both units are shown."
                yield entry.problem(path, f"'{number}' is typed as plain text", hint)
    yield from _nameless(entries)
    yield from _claimed_twice(entries)


def _nameless(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield records that only their title finds, of the kinds that people look for."""
    for (kind, _), entry in entries.items():
        if kind in LOOKED_FOR and not entry.record.also_called:
            hint = "Add 'also_called: […]': slang, short forms, how it is misspelt."
            yield entry.problem(("title",), "goes by no other name, so few words find it", hint)


def _claimed_twice(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield names that two records go by, told of the later one.

    Names are compared as search compares them. The glossary explains words that are other pages'
    titles; that is what it is for.
    """
    hint = "Leave it to the page that answers it."
    claimed = {
        "".join(cut(entry.record.title)): entry
        for (kind, _), entry in reversed(list(entries.items()))
        if kind not in ("terms", "sources")
    }
    for entry in entries.values():
        for number, name in enumerate(entry.record.also_called):
            other = claimed.setdefault("".join(cut(name)), entry)
            if other is not entry:
                message = f"'{name}' is also claimed by {other.record.kind}/{other.id}"
                yield entry.problem(("also_called", number), message, hint)
