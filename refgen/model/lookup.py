"""Lookup tables: computed from the hydraulics, or given with their sources."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    AnyQuantity,
    Item,
    LocalItem,
    Model,
    Of,
    Plain,
    Pressure,
    Temperature,
    Text,
)
from refgen.model.equipment import Coefficient
from refgen.model.figure import Figure
from refgen.model.record import Record
from refgen.units import Quantity

Computed = Literal["nozzle-size", "machine-jets"]


class Assumptions(Model):
    """What a computed table takes for granted; it is printed under the table."""

    discharge_coefficient: Coefficient = Field(0.75, description="Share of ideal flow.")
    velocity_coefficient: Coefficient = Field(0.97, description="Share of ideal speed.")
    water: Temperature | None = Field(None, description="Water temperature; 15 °C if left out.")
    roughness: Annotated[Quantity, Of("length", "0 mm", "0.5 mm")] | None = Field(
        None, description="Roughness of the hose liner."
    )
    pressure: Pressure | None = Field(None, description="Pressure, where it is not on an axis.")


class GivenColumn(LocalItem):
    """A column of a given table."""

    title: Plain = Field(description="Head of the column.")


class GivenRow(Item):
    """A row of a given table."""

    title: Plain = Field(description="Head of the row.")
    cells: tuple[Plain | Figure, ...] = Field(
        description="A column each: a word, or a figure as `is: …` with its basis."
    )


class Table(Record):
    """A lookup table."""

    kind: ClassVar[str] = "tables"

    compute: Computed | None = Field(None, description="Which computed table it is.")
    rows: tuple[AnyQuantity, ...] = Field((), description="Values down the side.")
    columns: tuple[AnyQuantity, ...] = Field((), description="Values across the top.")
    jets: tuple[Annotated[int, Field(ge=1, le=60)], ...] = Field(
        (), description="Numbers of equal jets to give a size for."
    )
    assume: Assumptions = Field(Assumptions(), description="What is taken for granted.")
    given_columns: tuple[GivenColumn, ...] = Field((), description="Columns of a given table.")
    given_rows: tuple[GivenRow, ...] = Field((), description="Rows of a given table.")
    how_to_read: tuple[Text, ...] = Field(min_length=1, description="How to read it.")

    @model_validator(mode="after")
    def _computed_or_given(self) -> Table:
        if (self.compute is None) == (not self.given_rows):
            hint = "Give either 'compute', or 'given_columns' and 'given_rows'."
            raise PydanticCustomError("table", "is neither computed nor given", {"hint": hint})
        for row in self.given_rows:
            if len(row.cells) != len(self.given_columns):
                raise PydanticCustomError(
                    "table",
                    "row '{row}' has {cells} cells for {columns} columns",
                    {
                        "row": row.id,
                        "cells": len(row.cells),
                        "columns": len(self.given_columns),
                        "hint": "Give one cell a column; write '–' for an empty one.",
                    },
                )
        return self
