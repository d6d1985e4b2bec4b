"""The short sums in the order in which the page shows them."""

from __future__ import annotations

from refgen.worksheet.machine_sums import MACHINE_SUMS
from refgen.worksheet.water_sums import WATER_SUMS

_ORDER = """
hose jet tank bucket gap glycol mix suction outlet sheaves altitude cap culvert volume run turn
"""
SUMS = tuple(sorted((*MACHINE_SUMS, *WATER_SUMS), key=lambda one: _ORDER.split().index(one.id)))
