"""What all records share: text, ids, references and the fields every record has."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, get_args

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    model_validator,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from refgen.units import UNITS, NotAQuantity, Quantity, how_to_write, parse_quantity

ID_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*$"


class Model(BaseModel):
    """A frozen set of fields; anything not described here is refused."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, str_strip_whitespace=True, arbitrary_types_allowed=True
    )


def models_within(roots: Iterable[Any]) -> set[type[BaseModel]]:
    """Return some models and every model that stands in a field of theirs, however deep."""
    found: set[type[BaseModel]] = set()
    waiting = list(roots)
    while waiting:
        kind = waiting.pop()
        waiting += get_args(kind)
        if isinstance(kind, type) and issubclass(kind, BaseModel) and kind not in found:
            found.add(kind)
            waiting += [info.annotation for info in kind.model_fields.values()]
    return found


class Plain(str):
    """Text shown exactly as typed, on one line."""

    __slots__ = ()

    @classmethod
    def __get_pydantic_core_schema__(cls, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(
            cls._checked, core_schema.str_schema(min_length=1, max_length=300)
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return _typed(handler(schema))

    @classmethod
    def _checked(cls, text: str) -> Plain:
        if "\n" in text:
            raise PydanticCustomError(
                "lines", "must stand on one line", {"hint": "Join the lines."}
            )
        return cls(text)


class Text(str):
    """A sentence or a few, with *emphasis*, **strength**, `{figure}` and `{= 10 ft}`."""

    __slots__ = ()

    @classmethod
    def __get_pydantic_core_schema__(cls, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(
            cls, core_schema.str_schema(min_length=1, max_length=1500)
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return _typed(handler(schema))


def _typed(schema: JsonSchemaValue) -> JsonSchemaValue:
    # `2015` is text here, as typed; to an editor it is a number.
    return {**schema, "type": ["string", "number"]}


Id = Annotated[str, Field(pattern=ID_PATTERN, max_length=60)]


def _as_typed(value: object) -> object:
    return str(value).lower() if isinstance(value, bool) else value


NUMBER = BeforeValidator(_as_typed)
"""Belongs to every whole or broken number: pydantic alone would take `true` for 1."""


@dataclass(frozen=True, slots=True, order=True)
class Ref:
    """A link to a record, or to one item in it."""

    kind: str
    id: str
    item: str = ""

    def __str__(self) -> str:
        return f"{self.kind}/{self.id}" + (f"#{self.item}" if self.item else "")


@dataclass(frozen=True, slots=True)
class RefTo:
    """Reads a reference: `id` or `id#item` of one kind, or `kind/id#item` of any kind."""

    kind: str = ""

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(self._read, core_schema.str_schema())

    def __get_pydantic_json_schema__(self, _: Any, __: Any) -> dict[str, Any]:
        word = "[a-z0-9]+(-[a-z0-9]+)*"
        where = f"({self.kind}/)?" if self.kind else "[a-z]+/"
        return {"type": "string", "pattern": f"^{where}{word}(#{word})?$"}

    def _read(self, text: str) -> Ref:
        path, _, item = text.partition("#")
        kind, slash, record = path.rpartition("/")
        if not slash:
            kind = self.kind
        if not kind or (self.kind and kind != self.kind):
            example = f"{self.kind}/some-id" if self.kind else "symptoms/gauge-low"
            raise PydanticCustomError(
                "ref",
                "'{text}' is no reference",
                {"text": text, "hint": f"Write it like '{example}'."},
            )
        for word in (record, item) if item else (record,):
            if not re.fullmatch(ID_PATTERN, word):
                hint = "Ids have small letters, digits and single hyphens."
                raise PydanticCustomError(
                    "ref", "'{text}' is no reference", {"text": text, "hint": hint}
                )
        return Ref(kind, record, item)


# Kinds whose records are entries on one page instead of pages of their own.
ENTRY_KINDS = ("terms", "sources")

AnyRef = Annotated[Ref, RefTo()]
MaterialRef = Annotated[Ref, RefTo("materials")]
PatternRef = Annotated[Ref, RefTo("patterns")]
NozzleRef = Annotated[Ref, RefTo("nozzles")]
HoseRef = Annotated[Ref, RefTo("hoses")]
MachineRef = Annotated[Ref, RefTo("machines")]
PartRef = Annotated[Ref, RefTo("parts")]
SymptomRef = Annotated[Ref, RefTo("symptoms")]
ProcedureRef = Annotated[Ref, RefTo("procedures")]
HazardRef = Annotated[Ref, RefTo("hazards")]
SourceRef = Annotated[Ref, RefTo("sources")]


@dataclass(frozen=True, slots=True)
class Of:
    """Reads a quantity of one dimension, within limits given in the unit a person would use."""

    dimension: str | None = None
    low: str = ""
    high: str = ""

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, _: Any, __: Any) -> dict[str, Any]:
        names = sorted(
            {
                name
                for unit in UNITS
                if self.dimension in (None, unit.dimension)
                for name in (unit.symbol, *unit.also)
            }
        )
        # An editor's patterns are ECMAScript's, where only signs with a meaning may be escaped.
        units = "|".join(re.sub(r"[$()*+.?\[\\\]^{|}]", r"\\\g<0>", name) for name in names)
        number = r"([0-9][0-9 ./-]*|\.[0-9]+|[0-9 ]*[½¼¾⅛⅜⅝⅞])"
        return {"type": "string", "pattern": rf"^[-−+]?\s*{number}\s*({units})$"}

    def _read(self, text: Any) -> Quantity:
        # A bare number goes on to our own message, which asks for the unit.
        if isinstance(text, bool) or not isinstance(text, (str, int, float)):
            hint = {"hint": how_to_write(self.dimension)}
            raise PydanticCustomError("quantity_type", "must be a quantity", hint)
        try:
            quantity = parse_quantity(str(text), self.dimension)
        except NotAQuantity as error:
            raise PydanticCustomError(
                "quantity", "{what}", {"what": error.message, "hint": error.hint}
            ) from error
        low = parse_quantity(self.low).si if self.low else None
        high = parse_quantity(self.high).si if self.high else None
        if (low is not None and quantity.si < low) or (high is not None and quantity.si > high):
            limits = f"{self.low} to {self.high}" if self.low and self.high else ""
            limits = limits or (f"{self.low} or more" if self.low else f"{self.high} or less")
            raise PydanticCustomError(
                "limits",
                "'{text}' cannot be right",
                {"text": str(text), "hint": f"It must lie within {limits}; check the unit."},
            )
        return quantity


AnyQuantity = Annotated[Quantity, Of()]
Pressure = Annotated[Quantity, Of("pressure", "0 psi", "25000 psi")]
Flow = Annotated[Quantity, Of("flow", "0.01 gpm", "500 gpm")]
Length = Annotated[Quantity, Of("length", "0 m", "5 km")]
JetBore = Annotated[Quantity, Of("length", "0.2 mm", "20 mm")]
HoseBore = Annotated[Quantity, Of("length", "2 mm", "60 mm")]
PipeBore = Annotated[Quantity, Of("length", "20 mm", "5 m")]
Temperature = Annotated[Quantity, Of("temperature", "-60 degC", "200 degC")]
Angle = Annotated[Quantity, Of("angle", "0 deg", "90 deg")]
Mass = Annotated[Quantity, Of("mass", "0 kg", "50000 kg")]
Weight = Annotated[Quantity, Of("mass per length", "0 kg/m", "20 kg/m")]
Time = Annotated[Quantity, Of("time", "0 s", "200 years")]
Volume = Annotated[Quantity, Of("volume", "0 L", "100000 L")]
Power = Annotated[Quantity, Of("power", "0 kW", "1000 kW")]


def _day(value: Any) -> Any:
    # Taken alone, pydantic also reads a bare number, as seconds since 1970.
    if isinstance(value, str) and not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        details = {"text": value, "hint": "Such as 2026-11-20."}
        raise PydanticCustomError("day", "'{text}' is no date", details)
    return value


Day = Annotated[date, BeforeValidator(_day)]


class Item(Model):
    """A part of a record that can be linked by its own id."""

    id: Id = Field(description="Short name of this item in its record; never changed once shown.")
    was: tuple[Id, ...] = Field((), description="Former ids, so that old links go on working.")


class LocalItem(Model):
    """A part of an item; its id steers the merging of layers and is no address."""

    id: Id = Field(description="Short name of this part within its item.")


class Review(Model):
    """When a record was last read through, and by someone in what role."""

    on: Day = Field(description="Day of the review, such as 2026-11-20.")
    role: Plain = Field(description="Role of the reviewer, such as 'trainer'; no names.")
    next: Day | None = Field(None, description="Day by which it should be read again.")

    @model_validator(mode="after")
    def _goes_on(self) -> Review:
        if self.next and self.next <= self.on:
            details = {"hint": "Give a later day.", "at": ("next",)}
            raise PydanticCustomError("review", "is not after the last review", details)
        return self
