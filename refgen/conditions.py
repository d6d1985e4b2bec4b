"""Which machines a piece of a page, or a row that leads somewhere, is for."""

from __future__ import annotations

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.diagnosis import whole_cause
from refgen.model.base import Ref
from refgen.model.equipment import Part
from refgen.model.fit import Fitted
from refgen.model.trouble import Cause


def attributes_of(item: Fitted) -> Markup:
    """Return the attributes by which the chosen machine shows or hides an element.

    >>> print(attributes_of(Fitted.model_validate({"needs": ["pedal", "reel"]})))
     data-needs="pedal reel"
    """
    attributes = [
        Markup(' data-{}{}="{}"').format(word, ending, " ".join(ref.id for ref in refs))
        for word, parts in (("needs", item.needs), ("unless", item.unless))
        if parts is not None
        for ending, refs in (("", parts.all), ("-any", parts.any))
        if refs
    ]
    return Markup("").join(attributes)


def condition_of(catalog: Catalog, ref: Ref) -> Fitted:
    """Return what a machine must have for a page, or an item of it, to be worth going to.

    A part is for the machines that have it; an item for those that are shown it.
    """
    entry = catalog.entries[ref.kind, ref.id]
    if isinstance(entry.record, Part):
        return Fitted.model_validate({"needs": ref.id}) if entry.record.ask else Fitted()
    found = next((i for _, i in entry.contents.items if ref.item and i.id == ref.item), None)
    if isinstance(found, Cause):
        return whole_cause(found, catalog.symptoms)
    return found if isinstance(found, Fitted) else Fitted()
