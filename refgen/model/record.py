"""The fields that every record has, whatever its kind."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from refgen.model.base import (
    ID_PATTERN,
    AnyRef,
    HazardRef,
    Id,
    Model,
    Plain,
    Review,
    SourceRef,
    Text,
)
from refgen.model.figure import Basis, Figures

FormerId = Annotated[str, Field(pattern=rf"^([a-z]+/)?{ID_PATTERN[1:]}", max_length=80)]


class Record(Model):
    """One file of data, one page or entry of the reference."""

    kind: ClassVar[str]
    """Name of the folder, and of the address."""

    title: Plain = Field(description="Name of the thing, as the trade says it.")
    answer: Text = Field(
        description="The answer in one or two sentences; shown first and in lists."
    )
    also_called: tuple[Plain, ...] = Field(
        (), description="Other names, slang, short forms, common misspellings; search finds them."
    )
    group: Id | None = Field(None, description="Heading under which the index lists it.")
    basis: Basis | None = Field(None, description="What its figures rest on, unless they say.")
    source: SourceRef | None = Field(None, description="Source of its figures, unless they say.")
    why: Text | None = Field(None, description="Why its figures are what they are.")
    figures: Figures = Field({}, description="Values that someone acts on, by id.")
    notes: tuple[Text, ...] = Field((), description="What else is worth knowing.")
    see: tuple[AnyRef, ...] = Field((), description="Related pages, as kind/id.")
    was: tuple[FormerId, ...] = Field(
        (), description="Former ids, as kind/id if it was of another kind; old links lead here."
    )
    moved: dict[Id, AnyRef] = Field(
        {}, description="Items that now stand on another page: former id here to kind/id#item."
    )
    reviewed: Review | None = Field(None, description="Last review.")


class Caution(Model):
    """A warning that stands before what it warns of."""

    hazard: HazardRef = Field(description="The hazard; its signal word is shown.")
    text: Text = Field(description="What to do or not to do.")


class Confusable(Model):
    """Another thing it is taken for."""

    with_: AnyRef = Field(alias="with", description="The other record, as kind/id.")
    tell: Text = Field(description="How to tell the two apart.")
