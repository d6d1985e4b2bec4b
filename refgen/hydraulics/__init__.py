"""Pure functions that turn what a crew knows into the numbers it needs.

Every value is an SI float: Pa, m³/s, m, m², kg, N, W, s, temperatures in kelvin, angles in
radians. Units as people write them are the business of `refgen.units`. Each function states
formula, range and source, and raises `OutOfRange` where the formula does not hold; nothing is
extrapolated, clipped or rounded.

How to read the package, from the bottom up:

    ranges         how a value outside its range is refused
    water          density and viscosity from temperature
    mixture        the same of water with antifreeze in it
    orifice        holes: flow, pressure, bore, trade number, jet speed, push
    hose           friction in straight and coiled hose
    resistance     one hose for one water, worked out for the solver
    flow_path      hoses and nozzle in series: pressure from flow, flow from pressure
    duty           pump + hoses + nozzle = the working point
    gauge_reading  what one reading tells of the jets
    variation      what may be off in a rig, and by how much
    margin         how far the working point can be off therefore
    open_channel   water running part full in a pipe
    transport      what that water carries away

Then what a crew works out around it, each module on its own:

    choice, drill  the nozzle that fits a pump and hose, and the drills beside its bore
    setting        the regulator's setting for a soft pipe
    wear, plunger  worn and plugged jets; pulse, throttle
    reach          hose weight, slope, bends: how far a nozzle pulls
    power, derate, belt          engine and outlet; height and heat; sheaves
    tank, suction, heating       water supply; suction hose; bypass heat
    antifreeze, stored_water, culvert    contents and mixtures; standing water; packed soil
    geometry, lance              turn-round length, air gap; the push of a lance
"""

from refgen.hydraulics.duty import Duty, Pump, Rig, working_point
from refgen.hydraulics.gauge_reading import Reading
from refgen.hydraulics.hose import Segment
from refgen.hydraulics.margin import Margin, Margins, margins
from refgen.hydraulics.orifice import Jet, area_of_bore, area_of_number
from refgen.hydraulics.variation import CALIBRATED, Variations

__all__ = [
    "CALIBRATED",
    "Duty",
    "Jet",
    "Margin",
    "Margins",
    "Pump",
    "Reading",
    "Rig",
    "Segment",
    "Variations",
    "area_of_bore",
    "area_of_number",
    "margins",
    "working_point",
]
