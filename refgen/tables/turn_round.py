"""How long the stiff part of a nozzle must be, and in which pipes each nozzle can turn round."""

from __future__ import annotations

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.hydraulics.geometry import CAREFUL, turn_round_length
from refgen.model.equipment import Nozzle
from refgen.model.lookup import Table
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import at_least, at_most, both, in_words, kept
from refgen.texts import show_quantity


def turn_round(table: Table, catalog: Catalog) -> ComputedTable:
    """Return the stiff length by bore, and the widest bore for each nozzle in stock."""
    words, first = catalog.w, catalog.brand.units_first
    factor = _factor(catalog)
    rows, records = [], []
    for bore in table.rows:
        careful, least = turn_round_length(bore.si, factor), turn_round_length(bore.si, 1.0)
        cells = (Cell((at_least(careful, "bore", first),)), Cell((at_least(least, "bore", first),)))
        rows.append((Head(show_quantity(bore, first)), cells))
        records.append(_record(bore_m=bore.si, careful_m=careful, least_m=least))
    columns = (Head(words["stiff_careful"]), Head(words["stiff_jams"]))
    grids = [Grid(words["stiff_by_bore"], words["widest_bore"], columns, tuple(rows))]
    own = []
    for name, nozzle in catalog.of_kind("nozzles").items():
        assert isinstance(nozzle, Nozzle)
        stiff = nozzle.stiff_length.si
        own.append(
            (
                Head(nozzle.title, record_address("nozzles", name), name),
                (
                    Cell((show_quantity(nozzle.stiff_length, first),)),
                    Cell((at_most(stiff / factor, "bore", first),)),
                    Cell((both(stiff, "bore", first, 2),)),
                ),
            )
        )
        records.append(_record(nozzle=name, stiff_m=stiff, widest_careful_m=stiff / factor))
    if own:
        heads = ("stiff_length", "safe_to_bore", "turns_above")
        grids.append(
            Grid(
                words["nozzles_turning"],
                words["nozzle"],
                tuple(Head(words[head]) for head in heads),
                tuple(own),
            )
        )
    example = ""
    if table.rows:
        bore = table.rows[-1]
        example = words["example_turn"].format(
            factor=f"{factor:g}",
            bore=in_words(show_quantity(bore, first)),
            length=in_words(at_least(turn_round_length(bore.si, factor), "bore", first)),
        )
    assumptions = (
        words["assume_turn_widest"],
        words["assume_turn_careful"].format(factor=f"{factor:g}"),
        words["assume_turn_with_hose"],
    )
    working = Working((words["formula_turn"],), example, ("public-works-2023",))
    ids = tuple(head.id for head, _ in own)
    return ComputedTable(tuple(grids), tuple(records), assumptions, ids, working=working)


def _factor(catalog: Catalog) -> float:
    """Return the rule's length over bore, as the data give it."""
    figure = catalog.figures.get(("hazards", "nozzle-out-of-pipe", "turn-round"))
    return figure.is_.si if figure and figure.is_ else CAREFUL


def _record(**found: float | str) -> Record:
    names = ("bore_m", "careful_m", "least_m", "nozzle", "stiff_m", "widest_careful_m")
    record: Record = {}
    for name in names:
        value = found.get(name)
        record[name] = kept(value) if isinstance(value, float) else value
    return record
