"""Lessons, terms and sources."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import NUMBER, AnyRef, Item, LocalItem, Plain, SourceRef, Text, Time
from refgen.model.record import Record


class LessonStep(Item):
    """One stretch of a lesson."""

    title: Plain = Field(description="What it is about.")
    time: Time | None = Field(None, description="How long it takes, for the trainer's plan.")
    pages: tuple[AnyRef, ...] = Field((), description="Pages, steps and tables, as kind/id#item.")
    say: Text | None = Field(None, description="Notes for the trainer.")
    task: Text | None = Field(None, description="Practical task.")
    observe: tuple[Text, ...] = Field((), description="What the trainer watches for.")


class QuizAnswer(LocalItem):
    """One answer offered."""

    text: Text = Field(description="The answer.")
    right: bool = Field(False, description="Whether it is right.")
    because: Text = Field(description="Why it is right or wrong.")


class QuizQuestion(Item):
    """A question to the learner."""

    ask: Text = Field(description="The question.")
    answers: tuple[QuizAnswer, ...] = Field(min_length=2, description="The answers offered.")
    proof: AnyRef = Field(description="The page that proves it, as kind/id#item.")

    @model_validator(mode="after")
    def _has_both_kinds(self) -> QuizQuestion:
        if len({answer.right for answer in self.answers}) != 2:
            hint = "Mark at least one answer 'right: true', and leave at least one wrong."
            raise PydanticCustomError("quiz", "cannot be answered right and wrong", {"hint": hint})
        return self

    @property
    def rights(self) -> int:
        """How many of its answers are right."""
        return sum(answer.right for answer in self.answers)


class Lesson(Record):
    """A trainer's path through the reference."""

    kind: ClassVar[str] = "lessons"

    number: Annotated[int, Field(ge=1, le=99), NUMBER] | None = Field(
        None, description="Its place in the course, from 1; left out, it stands by itself."
    )
    time: Time = Field(description="How long it takes.")
    aims: tuple[Text, ...] = Field(min_length=1, description="What the learner can do after it.")
    need: tuple[Text, ...] = Field((), description="What the trainer needs.")
    steps: tuple[LessonStep, ...] = Field(min_length=1, description="The lesson in order.")
    questions: tuple[QuizQuestion, ...] = Field((), description="Questions at the end.")

    @model_validator(mode="after")
    def _steps_fit_in(self) -> Lesson:
        taken = sum(step.time.si for step in self.steps if step.time is not None)
        if taken > self.time.si + 1:
            details = {
                "taken": f"{taken / 60:.0f} min",
                "time": str(self.time),
                "hint": "Raise its time, or shorten a step.",
                "at": ("time",),
            }
            message = "its steps take {taken}, more than {time}"
            raise PydanticCustomError("time", message, details)
        return self


class Term(Record):
    """A word of the trade; its `answer` is the meaning in one plain sentence."""

    kind: ClassVar[str] = "terms"


class Source(Record):
    """Something a figure rests on."""

    kind: ClassVar[str] = "sources"

    body: Plain = Field(description="Who published it.")
    year: Plain = Field(description="Year or edition.")
    form: Literal[
        "law", "code", "standard", "test", "guidance", "paper", "trade press", "training", "physics"
    ] = Field(description="What kind of thing it is.")
    read: Literal["whole", "part", "reported"] = Field(
        description="How far it was read: whole, part, or only reported by others."
    )
    where: Plain | None = Field(None, description="Where it can be read.")
    reported_by: SourceRef | None = Field(None, description="Source that reported it.")
