"""Hazards: what can hurt, and what to do at once."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from refgen.model.base import Plain, Text
from refgen.model.fit import FittedItem
from refgen.model.record import Caution, Record

# Meanings by ANSI Z535.6 and ISO 3864-2: danger will, warning could, kill or maim if not avoided;
# caution could injure less; notice is about damage, not injury.
Signal = Literal["danger", "warning", "caution", "notice"]


class Measure(FittedItem):
    """One thing that keeps the hazard away, or one step of help."""

    text: Text = Field(description="What to do.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before it.")


class Hazard(Record):
    """What can hurt."""

    kind: ClassVar[str] = "hazards"

    signal: Signal = Field(description="Signal word: danger, warning, caution or notice.")
    urgent: bool = Field(False, description="Whether it belongs on the emergency page.")
    harm: tuple[Text, ...] = Field(min_length=1, description="What it does to the body.")
    prevent: tuple[Measure, ...] = Field(min_length=1, description="What keeps it away.")
    stop: tuple[Text, ...] = Field((), description="What means: stop work.")
    first_response: tuple[Measure, ...] = Field((), description="What to do at once, in order.")
    tell_hospital: tuple[Text, ...] = Field((), description="What those who treat must know.")
    on_card: tuple[Plain, ...] = Field(
        (), description="Facts to fill in on a card for the hospital; without, it has no card."
    )
    defer_to: tuple[Text, ...] = Field(
        min_length=1, description="Which local rule, manual or licensed person decides."
    )
