"""A figure: a quantity that someone acts on, with what it rests on."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError

from refgen.model.base import (
    AnyQuantity,
    Id,
    Model,
    Plain,
    Pressure,
    SourceRef,
    Temperature,
    Text,
)

Basis = Literal["regulation", "code", "test", "maker", "owner", "physics", "practice", "caution"]
SOURCED: tuple[Basis, ...] = ("regulation", "code", "test", "maker", "owner")
ARGUED: tuple[Basis, ...] = ("practice", "caution")


class Grounds(Model):
    """What a value rests on; left out, the record's own basis and source hold."""

    basis: Basis | None = Field(None, description="What the figure rests on.")
    source: SourceRef | None = Field(None, description="Id of the source that gives it.")
    why: Text | None = Field(None, description="Why this value, where no source gives it.")
    formula: Plain | None = Field(None, description="The formula, for a figure from physics.")


class Differing(Grounds):
    """What another source says of the same thing."""

    is_: AnyQuantity = Field(alias="is", description="The other value, with its unit.")
    to: AnyQuantity | None = Field(None, description="Upper end, where it is a range.")
    when: Plain | None = Field(None, description="In which case the other value is meant.")


class Figure(Grounds):
    """A value that someone acts on. `1900 psi` alone takes basis and source from its record."""

    label: Plain | None = Field(None, description="Name shown beside the value.")
    is_: AnyQuantity | None = Field(None, alias="is", description="The value, with its unit.")
    to: AnyQuantity | None = Field(None, description="Upper end, where it is a range.")
    when: Plain | None = Field(None, description="In which case it holds.")
    differs: tuple[Differing, ...] = Field(
        (), description="What other sources say; the cautious value stands above."
    )
    was: tuple[Id, ...] = Field((), description="Former ids, so that old links go on working.")

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, value: Any) -> Any:
        return {"is": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        whole = handler.resolve_ref_schema(handler(schema))
        short = {"type": "string", "description": "The value alone, with its unit."}
        return {"anyOf": [short, whole]}

    @model_validator(mode="after")
    def _has_a_value(self) -> Figure:
        if self.is_ is None and not isinstance(self, Ceiling):
            raise PydanticCustomError("value", "has no value", {"hint": "Write 'is: …'."})
        others = [self.to, *(q for d in self.differs for q in (d.is_, d.to))]
        for other in others:
            if self.is_ and other and other.dimension != self.is_.dimension:
                raise PydanticCustomError(
                    "mixed",
                    "{text} is of another kind than {mine}",
                    {"text": str(other), "mine": str(self.is_), "hint": "Compare like with like."},
                )
        if self.is_ and self.to and self.to.si <= self.is_.si:
            raise PydanticCustomError(
                "range", "the range ends below its start", {"hint": "'is' is the lower end."}
            )
        return self


class Ceiling(Figure):
    """The most pressure at the nozzle; `jet` says if there must be none at all."""

    is_: Pressure | None = Field(None, alias="is", description="Most pressure at the nozzle.")
    jet: Plain | None = Field(
        None, description="'no', or on what condition alone: then no setting is computed."
    )

    @model_validator(mode="after")
    def _says_something(self) -> Ceiling:
        if self.is_ is None and self.jet is None:
            hint = "Write 'is: 1500 psi', or 'jet: no'."
            raise PydanticCustomError("value", "says neither pressure nor 'jet'", {"hint": hint})
        return self


class HeatLimit(Figure):
    """The warmest water."""

    is_: Temperature | None = Field(None, alias="is", description="Warmest water allowed.")


Figures = dict[Id, Figure]
