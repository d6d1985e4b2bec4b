"""What a step, control, check or cause needs a machine to have, or not to have."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError

from refgen.model.base import Item, Model, PartRef, Ref, Text


class Parts(Model):
    """A condition on parts: `part`, a list (all of them) or `any:` with a list (one of them)."""

    all: tuple[PartRef, ...] = Field((), description="Every one of these parts.")
    any: tuple[PartRef, ...] = Field((), description="At least one of these parts.")

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, value: Any) -> Any:
        if isinstance(value, str):
            return {"all": [value]}
        return {"all": value} if isinstance(value, list) else value

    @model_validator(mode="after")
    def _names_a_part(self) -> Parts:
        if not self.all and not self.any:
            raise PydanticCustomError("parts", "names no part", {"hint": "Write a part's id."})
        return self

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        whole = handler.resolve_ref_schema(handler(schema))
        several = {"type": "array", "items": {"type": "string"}}
        return {"anyOf": [{"type": "string"}, several, whole]}

    def met_by(self, fitted: Collection[str]) -> bool:
        """Whether a machine with these parts meets the condition."""
        return all(ref.id in fitted for ref in self.all) and (
            not self.any or any(ref.id in fitted for ref in self.any)
        )

    @property
    def named(self) -> tuple[Ref, ...]:
        """Every part the condition speaks of."""
        return (*self.all, *self.any)


class Fitted(Model):
    """Something shown only for machines that have, or lack, certain parts."""

    needs: Parts | None = Field(None, description="Shown where the machine has this part.")
    unless: Parts | None = Field(None, description="Not shown where the machine has this part.")

    def applies_to(self, fitted: Collection[str]) -> bool:
        """Whether this holds for a machine with these parts."""
        return (self.needs is None or self.needs.met_by(fitted)) and (
            self.unless is None or not self.unless.met_by(fitted)
        )


class FittedItem(Item, Fitted):
    """An item that only some machines have."""


class Line(Fitted):
    """A line of a list: the text alone, or with what a machine must have for it."""

    text: Text = Field(description="What it says.")

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, value: Any) -> Any:
        return {"text": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        whole = handler.resolve_ref_schema(handler(schema))
        return {"anyOf": [{"type": ["string", "number"]}, whole]}
