"""What a pipe holds, what it carries by its own slope, and how soon it fills."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.open_channel import full_flow
from refgen.hydraulics.stored_water import pipe_volume, time_to_back_up
from refgen.model.lookup import Table
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.hose_loss import LENGTH
from refgen.tables.shape import both, duration, in_words, kept
from refgen.texts import show_quantity
from refgen.units import US_GALLON, parse_quantity

FLOW = parse_quantity("10 gpm")
"""Flow that fills the pipe, where the record names none."""


def pipe_flow(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a row for each bore, contents, own full flow at each slope, and time to fill."""
    words, first, assume = catalog.w, catalog.brand.units_first, table.assume
    length, filling = assume.length or LENGTH, assume.flow or FLOW
    rows, records = [], []
    for bore in table.rows:
        volume = pipe_volume(bore.si, length.si)
        seconds = time_to_back_up(filling.si, bore.si, length.si)
        record: Record = {
            "bore_m": bore.si,
            "bore": str(bore),
            "length_m": length.si,
            "volume_m3": kept(volume),
            "volume_gal": kept(volume / US_GALLON, 3),
            "filling_m3_per_s": filling.si,
            "time_s": kept(seconds),
        }
        cells = [Cell((both(volume, "volume", first, 2),)), Cell((duration(seconds),))]
        for slope in table.columns:
            name = f"full_flow_m3_per_s_at_{slope.si:g}"
            record[name] = None
            try:
                flow = full_flow(bore.si, slope.si, assume.manning_n)
            except OutOfRange as error:
                cells.append(Cell(reason=str(error)))
                continue
            record[name] = kept(flow)
            cells.append(Cell((both(flow, "flow", first, 2),)))
        rows.append((Head(show_quantity(bore, first)), tuple(cells)))
        records.append(record)
    shown_length = in_words(show_quantity(length, first))
    columns = [words["holds_in_length"].format(length=shown_length)]
    shown_flow = in_words(show_quantity(filling, first))
    columns += [words["fills_length_in"].format(flow=shown_flow, length=shown_length)]
    columns += [words["full_flow_at_slope"].format(slope=slope) for slope in table.columns]
    heads = tuple(Head(column) for column in columns)
    grid = Grid(words["pipe_by_bore"], words["pipe_bore"], heads, tuple(rows))
    assumptions = (
        words["assume_manning"].format(n=assume.manning_n),
        words["assume_margin_pipe"],
        words["assume_formula_pipe"],
    )
    bore = table.rows[-1]
    volume = pipe_volume(bore.si, length.si)
    example = words["example_pipe"].format(
        bore=in_words(show_quantity(bore, first)),
        length=shown_length,
        metres=f"{bore.si:.4g}",
        long=f"{length.si:.4g}",
        volume=in_words(both(volume, "volume", first)),
        flow=shown_flow,
        time=duration(volume / filling.si),
    )
    formulas = (words["formula_pipe_time"], words["formula_full_pipe"])
    working = Working(formulas, example, ("manning-formula",))
    return ComputedTable((grid,), tuple(records), assumptions, working=working)
