"""What a company sets for itself: its brand, and the words of the interface."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.colours import LEAST_CONTRAST, contrast, ink_on, nearest_ground
from refgen.model.base import ENTRY_KINDS, AnyRef, LocalItem, Model, Plain, Text

Colour = Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$")]
LanguageCode = Annotated[str, Field(pattern=r"^[a-z]{2}(-[A-Z]{2})?$")]
WebAddress = Annotated[str, Field(pattern=r"""^https?://[^\s"'<>]+$""", max_length=300)]


class Colours(Model):
    """Colours of the brand, as #rrggbb."""

    primary: Colour = Field(description="Colour of the heading bar.")
    on_primary: Colour = Field(description="Colour of text on it.")
    logo_ground: Colour | None = Field(
        None, description="Colour behind the logo; left out, that of the heading bar."
    )

    @model_validator(mode="after")
    def _can_be_read_in_the_sun(self) -> Colours:
        found = contrast(self.primary, self.on_primary)
        if found >= LEAST_CONTRAST:
            return self
        hints = []
        if nearest := nearest_ground(self.primary, self.on_primary):
            hints.append(f"The nearest that passes is '{nearest}'.")
        ink = ink_on(self.primary)
        if contrast(self.primary, ink) >= LEAST_CONTRAST:
            hints.append(f"Or keep it, with 'on_primary: \"{ink}\"'.")
        details = {
            "text": self.on_primary,
            "found": f"{found:.1f}",
            "least": f"{LEAST_CONTRAST:g}",
            "hint": " ".join(hints) or "Take black or white for the text.",
            "at": ("primary",),
        }
        message = "text of {text} on it has a contrast of {found} to 1, and needs {least} to 1"
        raise PydanticCustomError("contrast", message, details)


class Contact(LocalItem):
    """Someone to call."""

    label: Plain = Field(description="Who it is.")
    number: Plain | None = Field(None, description="Telephone number.")
    note: Plain | None = Field(None, description="When to call, or what to say.")


class LocalRule(LocalItem):
    """A rule of the company or its place that goes before this reference."""

    text: Text = Field(description="The rule.")


class Withdrawn(LocalItem):
    """A page that must no longer be gone by, though its address goes on existing."""

    page: AnyRef = Field(description="Kind and id of the record, such as 'materials/brick'.")
    why: Plain = Field(description="What was wrong, and what to go by instead.")

    @model_validator(mode="after")
    def _has_a_page(self) -> Withdrawn:
        if self.page.kind in ENTRY_KINDS or self.page.item:
            details = {"hint": "Hide the item, or mend it.", "at": ("page",)}
            message = "only a record with a page of its own can be withdrawn"
            raise PydanticCustomError("withdrawn", message, details)
        return self


class Language(Model):
    """The same reference in one language: a site of its own, with the same addresses below it."""

    code: LanguageCode = Field(description="Code of the language, such as 'es'.")
    name: Plain = Field(description="What the language calls itself, such as 'Español'.")
    address: WebAddress = Field(description="Where the site in this language is found.")


class Brand(Model):
    """A company's own face on the reference."""

    name: Plain = Field(description="Name of the company.")
    site: Plain = Field(description="Name of the reference.")
    address: WebAddress | None = Field(None, description="Where the site will be found.")
    language: LanguageCode = Field("en", description="Language of the texts.")
    languages: tuple[Language, ...] = Field(
        (), description="Every language this reference is published in, this one among them."
    )
    units_first: Literal["us", "metric"] = Field("us", description="Units shown first.")
    colours: Colours = Field(description="Colours of the brand.")
    logo: Plain | None = Field(None, description="File of the logo in the layer's assets folder.")
    approver: Plain | None = Field(None, description="Role that approved it, for prints.")
    document: Plain | None = Field(None, description="Number of the document, for prints.")
    emergency: tuple[Contact, ...] = Field((), description="Numbers for an emergency.")
    contacts: tuple[Contact, ...] = Field((), description="Other numbers.")
    local_rules: tuple[LocalRule, ...] = Field((), description="Rules that go before this site.")
    withdrawn: tuple[Withdrawn, ...] = Field(
        (), description="Pages that must no longer be gone by; phones tell it at once."
    )


PageAddress = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9/-]*$")]


class Words(Model):
    """Every word of the interface, and words that search takes for one another."""

    words: dict[Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")], Plain] = Field(
        description="Words and sentences of the interface, by name."
    )
    synonyms: tuple[tuple[Plain, ...], ...] = Field(
        (), description="Words that search takes for one another."
    )
    names: dict[PageAddress, tuple[Plain, ...]] = Field(
        {}, description="What else pages that are no record go by, by address without `.html`."
    )

    @cached_property
    def groups(self) -> list[str]:
        """Ids of the groups that have a heading, in the order of their headings."""
        heads = (name.removeprefix("group_") for name in self.words if name.startswith("group_"))
        return [head.replace("_", "-") for head in heads]
