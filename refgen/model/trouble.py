"""What goes wrong: symptoms, and the paths of questions that lead to them."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    AnyRef,
    HazardRef,
    Id,
    LocalItem,
    PartRef,
    Plain,
    ProcedureRef,
    SymptomRef,
    Text,
)
from refgen.model.fit import Fitted, FittedItem
from refgen.model.record import Caution, Record


class Cause(FittedItem):
    """One cause, with the check that tells it from the others and the fix.

    A cause that shows itself in several symptoms is written once; elsewhere `same_as` takes it
    over, and only the check, which differs by what else is in question, is written anew.
    """

    same_as: SymptomRef | None = Field(None, description="The same cause there: symptom#cause.")
    title: Plain | None = Field(None, description="The cause in a few words.")
    check: Text = Field(description="The check that tells it from the other causes here.")
    fix: Text | None = Field(None, description="What to do about it.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before check and fix.")
    fix_by: tuple[ProcedureRef, ...] = Field((), description="Procedures for the fix.")
    parts: tuple[PartRef, ...] = Field((), description="Parts in question.")

    @model_validator(mode="after")
    def _is_whole(self) -> Cause:
        if self.same_as is None and (self.title is None or self.fix is None):
            hint = "Give both, or 'same_as: symptom#cause'."
            raise PydanticCustomError("cause", "needs a title and a fix", {"hint": hint})
        if self.same_as is not None and not self.same_as.item:
            hint = "Name the cause too: symptom#cause."
            raise PydanticCustomError("cause", "'same_as' names no cause", {"hint": hint})
        return self


class StopLine(FittedItem):
    """What means: stop work."""

    text: Text = Field(description="The sign, and what to do.")
    hazard: HazardRef | None = Field(None, description="The hazard behind it.")


class Symptom(Record):
    """What the tech sees."""

    kind: ClassVar[str] = "symptoms"

    urgent: bool = Field(False, description="Whether someone may be hurt: shown as emergency.")
    first: Text = Field(description="The first thing to do.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before anything else.")
    stop: tuple[StopLine, ...] = Field(min_length=1, description="When to stop work.")
    causes: tuple[Cause, ...] = Field(min_length=1, description="Causes, the likeliest first.")
    log: tuple[Text, ...] = Field((), description="What to write down.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards nearby.")


class Choice(LocalItem, Fitted):
    """One answer to a question."""

    text: Plain = Field(description="The answer as the tech would give it.")
    go: Id = Field(description="Id of the question or end it leads to.")


class Question(FittedItem):
    """A question of a path."""

    ask: Text = Field(description="The question.")
    how: Text | None = Field(None, description="How to find the answer.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before finding out.")
    choices: tuple[Choice, ...] = Field(min_length=2, description="The possible answers.")


class End(FittedItem):
    """Where a path ends."""

    text: Text = Field(description="What it is, and what to do.")
    to: tuple[AnyRef, ...] = Field(min_length=1, description="Pages to go on with.")


class Path(Record):
    """A diagnosis as questions, branches and ends."""

    kind: ClassVar[str] = "paths"

    cautions: tuple[Caution, ...] = Field((), description="What to heed before the first one.")
    questions: tuple[Question, ...] = Field(min_length=1, description="First one first.")
    ends: tuple[End, ...] = Field(min_length=1, description="Where it can end.")

    def number_of(self, name: str) -> int:
        """Return the number under which a question or an end is shown, from 1."""
        return [item.id for item in (*self.questions, *self.ends)].index(name) + 1
