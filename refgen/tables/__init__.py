"""Computed lookup tables: numbers out of the hydraulics, laid out for a reader.

Each module computes one table; `COMPUTED` names them as the data do (`compute: nozzle-size`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from refgen.catalog import Catalog
from refgen.model.lookup import Table
from refgen.tables.air_gap import air_gaps
from refgen.tables.antifreeze import antifreeze
from refgen.tables.at_the_nozzle import at_the_nozzle
from refgen.tables.ceilings import ceilings
from refgen.tables.engine_power import engine_powers
from refgen.tables.flow_in_pipe import flow_in_pipe
from refgen.tables.full_stack import full_stack
from refgen.tables.grid import Cell, ComputedTable, Grid, Head
from refgen.tables.hose_loss import hose_loss
from refgen.tables.jet_speed import jet_speeds
from refgen.tables.jet_wear import jet_wear
from refgen.tables.lance_push import lance_pushes
from refgen.tables.machine_jets import machine_jets
from refgen.tables.nozzle_flow import nozzle_flow
from refgen.tables.nozzle_size import nozzle_size
from refgen.tables.pipe_flow import pipe_flow
from refgen.tables.plugged_jets import plugged_jets
from refgen.tables.reach import reach
from refgen.tables.settings import settings
from refgen.tables.tank_time import tank_times
from refgen.tables.turn_round import turn_round

__all__ = ["COMPUTED", "Cell", "ComputedTable", "Grid", "Head", "compute_tables"]

COMPUTED: dict[str, Callable[[Table, Catalog], ComputedTable]] = {
    "nozzle-size": nozzle_size,
    "machine-jets": machine_jets,
    "ceilings": ceilings,
    "nozzle-flow": nozzle_flow,
    "hose-loss": hose_loss,
    "pipe-flow": pipe_flow,
    "at-the-nozzle": at_the_nozzle,
    "settings": settings,
    "jet-wear": jet_wear,
    "plugged-jets": plugged_jets,
    "reach": reach,
    "lance-push": lance_pushes,
    "engine-power": engine_powers,
    "antifreeze": antifreeze,
    "tank-time": tank_times,
    "turn-round": turn_round,
    "air-gap": air_gaps,
    "full-stack": full_stack,
    "jet-speed": jet_speeds,
    "flow-in-pipe": flow_in_pipe,
}


def compute_tables(catalog: Catalog) -> Mapping[str, ComputedTable]:
    """Return every computed table by the id of its record."""
    return {
        name: COMPUTED[record.compute](record, catalog)
        for name, record in catalog.of_kind("tables").items()
        if isinstance(record, Table) and record.compute is not None
    }
