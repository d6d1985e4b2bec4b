"""A culvert or storm pipe packed with soil: how much it is, and the water to wash it out."""

from __future__ import annotations

from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.stored_water import pipe_volume

# A slurry that still runs carries about a tenth of its volume as solids.
SLURRY_SOLIDS = 0.10


def plug_volume(diameter: float, length: float, filled: float = 1.0) -> float:
    """Return the volume of soil [m³] in a round culvert.

    Args:
        diameter: Bore of the culvert [m].
        length: Packed length [m].
        filled: Share of the bore's area that is packed [-], 0 to 1.
    """
    require("share of the bore that is packed [-]", filled, 0.0, 1.0)
    return pipe_volume(diameter, length) * filled


def soil_mass(volume: float, bulk_density: float) -> float:
    """Return the mass of soil [kg]; bulk density 1000 to 2500 kg/m³, wet soil about 1800."""
    require("volume of soil [m³]", volume, 0.0)
    require("bulk density of soil [kg/m³]", bulk_density, 1000.0, 2500.0)
    return volume * bulk_density


def slurry_water(volume: float, solids: float = SLURRY_SOLIDS) -> float:
    """Return the water [m³] that carries a volume of soil away: volume·(1 − s)/s.

    >>> round(slurry_water(1.0), 9)
    9.0

    Args:
        volume: Volume of soil [m³].
        solids: Solids in the slurry by volume [-], 0.02 to 0.4.
    """
    require("volume of soil [m³]", volume, 0.0)
    require("solids in the slurry [-]", solids, 0.02, 0.4)
    return volume * (1 - solids) / solids


def washing_time(water: float, flow: float) -> float:
    """Return how long [s] a flow [m³/s] takes to deliver so much water [m³]."""
    require("volume of water [m³]", water, 0.0)
    require_positive("flow [m³/s]", flow)
    return water / flow
