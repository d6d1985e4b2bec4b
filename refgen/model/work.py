"""How the work is done: procedures and checklists."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import AnyRef, HazardRef, LocalItem, Plain, Text
from refgen.model.fit import Fitted, FittedItem, Line
from refgen.model.record import Caution, Record


class Variant(LocalItem, Fitted):
    """How a step is done on machines with, or without, certain parts."""

    text: Text = Field(description="One action.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before it.")


class Step(FittedItem):
    """One action, or one that differs by what the machine has."""

    text: Text | None = Field(None, description="One action.")
    variants: tuple[Variant, ...] = Field((), description="The action, by what is fitted.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before it.")
    good: Text | None = Field(None, description="What shows that it worked.")
    bad: Text | None = Field(None, description="What to do if it did not.")
    see: tuple[AnyRef, ...] = Field((), description="Pages that explain it, as kind/id.")

    @model_validator(mode="after")
    def _says_what_to_do(self) -> Step:
        if (self.text is None) == (not self.variants):
            hint = "Give either 'text', or 'variants' with a text each."
            raise PydanticCustomError("step", "needs either a text or variants", {"hint": hint})
        return self


class Procedure(Record):
    """Ordered steps, each caution before its step."""

    kind: ClassVar[str] = "procedures"

    who: Text = Field(description="Who may do it.")
    when: Text = Field(description="When it is done.")
    need: tuple[Line, ...] = Field((), description="What one needs.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before the first step.")
    steps: tuple[Step, ...] = Field(min_length=1, description="The steps in order.")
    done: tuple[Line, ...] = Field(min_length=1, description="What shows that it is done.")
    stop: tuple[Line, ...] = Field((), description="What means: stop work.")
    urgent: bool = Field(False, description="Whether it belongs on the emergency page.")
    handbook: bool = Field(False, description="Whether it is printed in each machine's handbook.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards of this work.")


class Tick(FittedItem):
    """One line to tick."""

    text: Text = Field(description="What must be so.")
    see: tuple[AnyRef, ...] = Field((), description="Pages that explain it, as kind/id.")


class TickSection(FittedItem):
    """Lines that belong together."""

    title: Plain = Field(description="Heading.")
    ticks: tuple[Tick, ...] = Field(min_length=1, description="The lines in order.")


class Checklist(Record):
    """What to tick before, during or after."""

    kind: ClassVar[str] = "checklists"

    when: Text = Field(description="When it is gone through, and by whom.")
    sections: tuple[TickSection, ...] = Field(min_length=1, description="Groups of lines.")
    signed: bool = Field(True, description="Whether the print has a line to sign.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards it guards against.")
