"""Computed lookup tables: numbers out of the hydraulics, laid out for a reader.

Each module computes one table; `COMPUTED` names them as the data do (`compute: nozzle-size`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from refgen.catalog import Catalog
from refgen.model.lookup import Table
from refgen.tables.at_the_nozzle import at_the_nozzle
from refgen.tables.ceilings import ceilings
from refgen.tables.grid import Cell, ComputedTable, Grid, Head
from refgen.tables.hose_loss import hose_loss
from refgen.tables.machine_jets import machine_jets
from refgen.tables.nozzle_flow import nozzle_flow
from refgen.tables.nozzle_size import nozzle_size
from refgen.tables.pipe_flow import pipe_flow

__all__ = ["COMPUTED", "Cell", "ComputedTable", "Grid", "Head", "compute_tables"]

COMPUTED: dict[str, Callable[[Table, Catalog], ComputedTable]] = {
    "nozzle-size": nozzle_size,
    "machine-jets": machine_jets,
    "ceilings": ceilings,
    "nozzle-flow": nozzle_flow,
    "hose-loss": hose_loss,
    "pipe-flow": pipe_flow,
    "at-the-nozzle": at_the_nozzle,
}


def compute_tables(catalog: Catalog) -> Mapping[str, ComputedTable]:
    """Return every computed table by the id of its record."""
    return {
        name: COMPUTED[record.compute](record, catalog)
        for name, record in catalog.of_kind("tables").items()
        if isinstance(record, Table) and record.compute is not None
    }
