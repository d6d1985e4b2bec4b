"""What comes out of a setup, told to a person with its working and margin, or as data.

One module a question; each returns its part of the answer, or None where it is not asked. `told`
holds what a part is made of, `spread` how far a sum can be off, `ask` what several parts need.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from refgen.answers.ask import Ask
from refgen.answers.calibrate import calibrate_part, measured_share
from refgen.answers.choose import choose_part
from refgen.answers.clearance import air_gap_part, turn_part
from refgen.answers.cold import fill_part, mixture_part
from refgen.answers.culvert import culvert_part
from refgen.answers.duty import duty_part
from refgen.answers.engine import engine_part, outlet_part, sheaves_part
from refgen.answers.feed import suction_part, supply_part, tank_part
from refgen.answers.guards import mix_ups, which_gallon
from refgen.answers.hose import hose_part
from refgen.answers.in_pipe import back_up_part, flow_part
from refgen.answers.jets import jet_part, lance_part
from refgen.answers.reach import reach_part
from refgen.answers.run import bypass_part, run_part
from refgen.answers.setting import setting_part
from refgen.answers.stored_water import stack_part, trailer_part
from refgen.answers.told import Part, Sentence, say
from refgen.answers.what_if import what_if_part
from refgen.catalog import Catalog
from refgen.errors import DataError, OutOfRange, RefgenError
from refgen.messages import read_model
from refgen.model.setup import Setup
from refgen.nodes import read_text
from refgen.units import System

__all__ = ["Answer", "answer", "read_setup"]

_PARTS: dict[str, Callable[[Ask], Part | None]] = {
    "working_point": duty_part,
    "hose": hose_part,
    "calibration": calibrate_part,
    "setting": setting_part,
    "choose": choose_part,
    "what_if": what_if_part,
    "reach": reach_part,
    "flow_in_pipe": flow_part,
    "back_up": back_up_part,
    "run": run_part,
    "tank": tank_part,
    "supply": supply_part,
    "suction": suction_part,
    "bypass": bypass_part,
    "engine": engine_part,
    "outlet": outlet_part,
    "sheaves": sheaves_part,
    "antifreeze": fill_part,
    "mixture": mixture_part,
    "jet": jet_part,
    "lance": lance_part,
    "stack": stack_part,
    "air_gap": air_gap_part,
    "turn_round": turn_part,
    "culvert": culvert_part,
    "trailer": trailer_part,
}
_LAST = "The machine's plate, the hose's tag and the pipe's ceiling go before these numbers."


@dataclass(frozen=True)
class Answer:
    """The answer to a setup: a part a question, in the order in which they are told."""

    parts: tuple[Part, ...]
    checks: tuple[Sentence, ...] = ()
    """Where a unit or a size may have been mixed up."""
    reminders: tuple[Sentence, ...] = ()
    """How what was written has been understood."""

    def data(self) -> dict[str, Any]:
        """Return the numbers in SI units under names that say so."""
        found: dict[str, Any] = {}
        for part in self.parts:
            if part.name:
                found[part.name] = part.values()
            else:
                found |= part.values()
        if self.checks:
            found["checks"] = [check.text("metric") for check in self.checks]
        return found

    def text(self, first: System = "us") -> str:
        """Return the answer as a person reads it."""
        reminders = [sentence.text(first) for sentence in self.reminders]
        return "\n".join([*self._lines(first), "", *reminders, _LAST]) + "\n"

    def _lines(self, first: System) -> Iterator[str]:
        yield from (sentence.text(first) for part in self.parts for sentence in part.said)
        yield from (f"Check: {check.text(first)}" for check in self.checks)
        for part in self.parts:
            lines = list(part.lines(first))
            if lines:
                yield ""
                if len(self.parts) > 1:
                    yield part.title
                yield from lines[1:] if lines[0] == "" else lines


def read_setup(text: str, name: str) -> Setup:
    """Return the setup written in a YAML text.

    Raises:
        DataError: With every mistake in it.
    """
    node, problems = read_text(text, name)
    setup = None
    if node is not None and not problems:
        setup, problems = read_model(Setup, node)
    if problems or setup is None:
        raise DataError(problems)
    return setup


def answer(setup: Setup, catalog: Catalog | None = None) -> Answer:
    """Return what comes out of a setup.

    Where one of several questions has no answer, its part says why.

    Raises:
        OutOfRange: If no formula holds for anything that is asked.
        UnknownId: If it names what the catalog does not have.
        RefgenError: If it asks nothing.
    """
    ask = Ask(setup, catalog, measured_share(Ask(setup, catalog)))
    parts: list[Part] = []
    refused: list[OutOfRange] = []
    for name, part_of in _PARTS.items():
        try:
            part = part_of(ask)
        except OutOfRange as error:
            refused.append(error)
            title = name.replace("_", " ").capitalize()
            told = say("{title}: no number. {why}.", title=title, why=_sentence(str(error)))
            part = Part(name, title, (told,), data={"refused": str(error)})
        if part is not None:
            parts.append(part)
    if refused and len(refused) == len(parts):
        raise refused[0]
    if not parts:
        raise RefgenError("the setup asks nothing that these values answer")
    parts.sort(key=lambda part: not part.forbids)
    return Answer(tuple(parts), tuple(mix_ups(ask)), tuple(which_gallon(ask)))


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]
