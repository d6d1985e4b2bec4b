"""Lookup tables: computed from the hydraulics, or given with their sources."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    NUMBER,
    AnyQuantity,
    Flow,
    Item,
    Length,
    LocalItem,
    Model,
    Of,
    Plain,
    Pressure,
    Temperature,
    Text,
)
from refgen.model.equipment import Coefficient, Roughness
from refgen.model.figure import Figure
from refgen.model.record import Caution, Record
from refgen.units import Quantity

Computed = Literal[
    "nozzle-size",
    "machine-jets",
    "ceilings",
    "nozzle-flow",
    "hose-loss",
    "pipe-flow",
    "at-the-nozzle",
    "settings",
    "jet-wear",
    "plugged-jets",
    "reach",
    "lance-push",
    "engine-power",
    "antifreeze",
    "tank-time",
    "turn-round",
    "air-gap",
    "full-stack",
    "jet-speed",
    "flow-in-pipe",
]
AXES: dict[str, tuple[str, str]] = {
    "nozzle-size": ("flow", "pressure"),
    "nozzle-flow": ("", "pressure"),
    "hose-loss": ("flow", "length"),
    "pipe-flow": ("length", "share"),
    "jet-wear": ("share", ""),
    "lance-push": ("flow", "pressure"),
    "engine-power": ("length", "temperature"),
    "antifreeze": ("length", "length"),
    "tank-time": ("volume", "flow"),
    "turn-round": ("length", ""),
    "air-gap": ("length", ""),
    "full-stack": ("length", "length"),
    "jet-speed": ("pressure", ""),
    "flow-in-pipe": ("length", "share"),
}
"""Dimensions of the values down the side and across the top; '' where there are none."""
JETS_WANTED = ("nozzle-size", "machine-jets", "plugged-jets")
FLOWS_WANTED = ("flow-in-pipe",)


class Assumptions(Model):
    """What a computed table takes for granted; it is printed under the table."""

    discharge_coefficient: Coefficient = Field(0.75, description="Share of ideal flow.")
    velocity_coefficient: Coefficient = Field(0.97, description="Share of ideal speed.")
    water: Temperature | None = Field(None, description="Water temperature; 15 °C if left out.")
    roughness: Roughness | None = Field(None, description="Roughness of the hose liner.")
    pressure: Pressure | None = Field(None, description="Pressure, where it is not on an axis.")
    most_loss: Pressure | None = Field(
        None, description="Loss over the length above which a cell is left empty."
    )
    flow: Flow | None = Field(None, description="Flow, where it is not on an axis.")
    length: Length | None = Field(None, description="Length the numbers are for.")
    dial: Pressure | None = Field(
        None, description="End of the gauges' dials; left out, one that suits each machine."
    )
    gauge_class: Annotated[Quantity, Of("share", "0 %", "10 %")] | None = Field(
        None, description="Error of the gauges over the end of the dial; 2.5 % if left out."
    )
    overshoot: Annotated[Quantity, Of("share", "0 %", "50 %")] | None = Field(
        None, description="What the unloader adds as the flow stops; 10 % if left out."
    )
    bend_at: Length | None = Field(None, description="How far in the bend lies.")
    manning_n: Annotated[float, Field(ge=0.008, le=0.035, allow_inf_nan=False), NUMBER] = Field(
        0.013, description="Manning's n of the pipe's wall."
    )


class GivenColumn(LocalItem):
    """A column of a given table."""

    title: Plain = Field(description="Head of the column.")


class GivenRow(Item):
    """A row of a given table."""

    title: Plain = Field(description="Head of the row.")
    cells: tuple[Text | Figure, ...] = Field(
        description="A column each: a text that may cite figures, or a figure as `is: …`."
    )


class Table(Record):
    """A lookup table."""

    kind: ClassVar[str] = "tables"

    compute: Computed | None = Field(None, description="Which computed table it is.")
    rows: tuple[AnyQuantity, ...] = Field((), description="Values down the side.")
    columns: tuple[AnyQuantity, ...] = Field((), description="Values across the top.")
    jets: tuple[Annotated[int, Field(ge=1, le=60), NUMBER], ...] = Field(
        (), description="Numbers of equal jets to give a size for."
    )
    flows: tuple[Flow, ...] = Field((), description="Flows, a grid each.")
    assume: Assumptions = Field(Assumptions(), description="What is taken for granted.")
    given_columns: tuple[GivenColumn, ...] = Field((), description="Columns of a given table.")
    given_rows: tuple[GivenRow, ...] = Field((), description="Rows of a given table.")
    how_to_read: tuple[Text, ...] = Field(min_length=1, description="How to read it.")
    cautions: tuple[Caution, ...] = Field(
        (), description="What to heed before acting on its numbers."
    )

    @model_validator(mode="after")
    def _computed_or_given(self) -> Table:
        if (self.compute is None) == (not self.given_rows):
            hint = "Give either 'compute', or 'given_columns' and 'given_rows'."
            raise PydanticCustomError("table", "must be either computed or given", {"hint": hint})
        for number, row in enumerate(self.given_rows):
            if len(row.cells) != len(self.given_columns):
                raise PydanticCustomError(
                    "table",
                    "row '{row}' has {cells} cells for {columns} columns",
                    {
                        "row": row.id,
                        "cells": len(row.cells),
                        "columns": len(self.given_columns),
                        "hint": "Give one cell a column; write '–' for an empty one.",
                        "at": ("given_rows", number, "cells"),
                    },
                )
        return self

    @model_validator(mode="after")
    def _axes_fit(self) -> Table:
        if self.compute is None:
            return self
        down, across = AXES.get(self.compute, ("", ""))
        _check_axis(self.compute, "rows", self.rows, down)
        _check_axis(self.compute, "columns", self.columns, across)
        wanted = self.compute in JETS_WANTED
        if bool(self.jets) != wanted:
            hint = "Give numbers of equal jets, such as 'jets: [4, 6, 8]'."
            raise _misfit(self.compute, "jets", wanted, hint if wanted else "Take it out.")
        wanted = self.compute in FLOWS_WANTED
        if bool(self.flows) != wanted:
            hint = "Give flows, such as 'flows: [4 gpm, 18 gpm]'."
            raise _misfit(self.compute, "flows", wanted, hint if wanted else "Take it out.")
        return self


def _check_axis(compute: Computed, name: str, values: tuple[Quantity, ...], dimension: str) -> None:
    if bool(values) != bool(dimension):
        hint = f"Give them as quantities of {dimension}." if dimension else "Take them out."
        raise _misfit(compute, name, bool(dimension), hint)
    for number, value in enumerate(values):
        if value.dimension != dimension:
            raise PydanticCustomError(
                "axis",
                "{value} is no {dimension}",
                {
                    "value": str(value),
                    "dimension": dimension,
                    "hint": f"'{compute}' takes a {dimension} there.",
                    "at": (name, number),
                },
            )


def _misfit(compute: Computed, name: str, wanted: bool, hint: str) -> PydanticCustomError:
    message = "'{compute}' needs '{name}'" if wanted else "'{compute}' has no use for '{name}'"
    context = {"compute": compute, "name": name, "hint": hint, "at": (name,)}
    return PydanticCustomError("axis", message, context)
