"""Pipe materials and what lies in the pipe."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from refgen.model.base import NUMBER, HazardRef, Item, Model, PatternRef, Text
from refgen.model.figure import Ceiling, HeatLimit
from refgen.model.record import Caution, Confusable, Record


class Ceilings(Model):
    """The most pressure at the nozzle, by the pipe's condition."""

    unknown: Ceiling | None = Field(None, description="Condition not known.")
    worn: Ceiling | None = Field(None, description="Old, worn, damaged or thin.")
    sound: Ceiling | None = Field(None, description="Seen to be sound from end to end.")


CONDITIONS = tuple(Ceilings.model_fields)


class PatternAdvice(Model):
    """A nozzle pattern with what to do or fear with it."""

    pattern: PatternRef = Field(description="Id of the pattern.")
    why: Text = Field(description="Why it is used, or kept off.")


class Material(Record):
    """A pipe material."""

    kind: ClassVar[str] = "materials"

    recognise: tuple[Text, ...] = Field(min_length=1, description="How to know it.")
    confused_with: tuple[Confusable, ...] = Field((), description="What it is taken for.")
    ceilings: Ceilings = Field(description="Most pressure at the nozzle by condition.")
    heat: HeatLimit | None = Field(None, description="Warmest water for the pipe.")
    manning_n: Annotated[float, Field(ge=0.005, le=0.05, allow_inf_nan=False), NUMBER] | None = (
        Field(None, description="Manning's n for flow part full.")
    )
    cautions: tuple[Caution, ...] = Field((), description="What to heed before jetting it.")
    hurt_by: tuple[Text, ...] = Field(min_length=1, description="What damages it.")
    technique: tuple[Text, ...] = Field(min_length=1, description="How to jet it.")
    stop: tuple[Text, ...] = Field((), description="What means: stop work.")
    use: tuple[PatternAdvice, ...] = Field((), description="Nozzle patterns that suit.")
    keep_off: tuple[PatternAdvice, ...] = Field((), description="Patterns to keep away.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards of working on it.")


class Move(Item):
    """One thing to try, in its order."""

    text: Text = Field(description="What to do.")
    patterns: tuple[PatternRef, ...] = Field((), description="Patterns for it.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before.")


class Deposit(Record):
    """What is in the way."""

    kind: ClassVar[str] = "deposits"

    know_by: tuple[Text, ...] = Field(min_length=1, description="How to know it.")
    confused_with: tuple[Confusable, ...] = Field((), description="What it is taken for.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before starting.")
    moves: tuple[Move, ...] = Field(min_length=1, description="What works, in order.")
    goes_wrong: tuple[Text, ...] = Field((), description="What goes wrong, and why.")
    stop: tuple[Text, ...] = Field((), description="What means: stop work.")
    use: tuple[PatternAdvice, ...] = Field((), description="Nozzle patterns that suit.")
    keep_off: tuple[PatternAdvice, ...] = Field((), description="Patterns to keep away.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards of working on it.")
