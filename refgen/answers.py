"""What comes out of a setup, told to a person with its working and margin, or as data."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees
from typing import Any

from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.hydraulics import Duty, Margins, Rig, margins, working_point
from refgen.hydraulics.water import water_at
from refgen.messages import read_model
from refgen.model.setup import Setup
from refgen.nodes import read_text
from refgen.setups import rig_of
from refgen.tables.shape import both
from refgen.units import System, round_to

# Name of the number in the data, of the duty's field, what it is, and how it is told.
_NUMBERS = (
    ("flow_m3_per_s", "flow", "flow", "Flow through the nozzle"),
    ("gauge_pa", "gauge", "pressure", "Gauge at the pump"),
    ("hose_loss_pa", "hose_loss", "pressure", "Lost in the hose"),
    ("nozzle_pa", "nozzle", "pressure", "Left at the nozzle"),
    ("bypass_m3_per_s", "bypass", "flow", "Back to the tank"),
    ("jet_velocity_m_per_s", "jet_velocity", "speed", "Speed of the jets"),
    ("pull_n", "pull", "force", "Pull of the nozzle"),
    ("jet_power_w", "jet_power", "power", "Power in the jets"),
)
_CAUSES = {
    "discharge-coefficient": "how well the jets pass water",
    "trade-number": "how true the trade number is",
    "velocity-coefficient": "how fast the jets really are",
    "hose-bore": "the true bore of the hose",
    "roughness": "the roughness of the liner",
    "couplings": "couplings and swivel",
    "coil": "the coils on the reel",
    "pump-flow": "what the pump really gives",
    "pressure-limit": "the gauge it was set by",
    "water-temperature": "the temperature of the water",
}
_NOTES = {
    "coil-beyond-published-range": "The coil's friction is used beyond the range in which it was "
    "published (Reynolds number 150,000).",
    "all-jets-plugged": "All jets are plugged: nothing comes out, the pump stands on its limit.",
}


@dataclass(frozen=True)
class Answer:
    """The working point of a setup, with how far each number can be off."""

    rig: Rig
    duty: Duty
    margins: Margins

    def data(self) -> dict[str, Any]:
        """Return the numbers in SI units under names that say so."""
        values: dict[str, Any] = {"state": self.duty.state}
        for name, field, _, _ in _NUMBERS:
            values[name] = getattr(self.duty, field)
        values["margins"] = {
            name: {
                "lower": getattr(self.margins, field).lower,
                "upper": getattr(self.margins, field).upper,
                "cause": getattr(self.margins, field).cause,
            }
            for name, field, _, _ in _NUMBERS
        }
        values["notes"] = list(self.duty.notes)
        return values

    def text(self, first: System = "us") -> str:
        """Return the answer as a person reads it."""
        lines = [self._headline(), ""]
        for _, field, what, title in _NUMBERS:
            value, margin = getattr(self.duty, field), getattr(self.margins, field)
            lines.append(f"  {title:24} {both(value, what, first, self._digits(value, margin))!s}")
            if margin.lower or margin.upper:
                low = both(max(value - margin.lower, min(value, 0.0)), what, first)
                high = both(value + margin.upper, what, first)
                cause = _CAUSES.get(margin.cause, margin.cause)
                span = f"{low.first} to {high.first} ({low.other} to {high.other})"
                lines.append(f"  {'':24} may be {span}, most from {cause}")
        lines += ["", "Working", *(f"  {line}" for line in self._working(first))]
        notes = [_NOTES.get(note, note) for note in self.duty.notes]
        if notes:
            lines += ["", *notes]
        lines += [
            "",
            "The machine's plate, the hose's tag and the pipe's ceiling go before these numbers.",
        ]
        return "\n".join(lines) + "\n"

    @staticmethod
    def _digits(value: float, margin: Any) -> int:
        """Return the digits a value bears: two where it can be off by more than a tenth."""
        spread = max(margin.lower, margin.upper)
        return 2 if value and spread > abs(value) * 0.1 else 3

    def _headline(self) -> str:
        if self.duty.state == "full flow":
            return "Full flow: all the pump's water goes through the nozzle."
        share = self.duty.bypass / self.rig.pump.flow if self.rig.pump.flow else 0.0
        return (
            f"Regulated: the jets are too small for all the water, so {round_to(share * 100, 2)}% "
            "of it goes back to the tank."
        )

    def _working(self, first: System) -> list[str]:
        rig, duty = self.rig, self.duty
        water = water_at(rig.water_temperature)
        lines = [
            f"water at {rig.water_temperature - 273.15:.0f} °C: density {water.density:.1f} kg/m³, "
            f"viscosity {water.viscosity * 1e3:.3f} mPa·s (IAPWS SR6-08)",
        ]
        for jet in rig.jets:
            lines.append(
                f"{jet.count} to the {jet.faces} at {degrees(jet.angle):.0f}°: "
                f"Cd·A = {jet.flow_area * 1e6:.3f} mm² each, Q = Cd·A·√(2Δp/ρ)"
            )
        for segment, reynolds, loss in zip(
            rig.hoses, duty.reynolds, duty.segment_losses, strict=True
        ):
            lines.append(
                f"hose {both(segment.bore, 'bore', first)} bore, "
                f"{both(segment.length, 'length', first)}: Re = {reynolds:,.0f}, "
                f"loss {both(loss, 'pressure', first)} (Darcy-Weisbach, Colebrook-White)"
            )
        head = water.density * 9.80665 * rig.below_pump
        lines.append(
            f"gauge = hose loss + nozzle − ρ·g·height = {both(duty.hose_loss, 'pressure', first)}"
            f" + {both(duty.nozzle, 'pressure', first)} − {both(head, 'pressure', first)}"
        )
        lines.append(
            f"limit at the gauge: {both(rig.pump.limit, 'pressure', first)}, the lower of plate "
            "and unloader"
        )
        lines.append("pull = Σ rear ρ·Q·v·cos a − Σ front ρ·Q·v·cos a, v = Cv·√(2Δp/ρ)")
        return lines


def read_setup(text: str, name: str) -> Setup:
    """Return the setup written in a YAML text.

    Raises:
        DataError: With every mistake in it.
    """
    node, problems = read_text(text, name)
    setup = None
    if node is not None and not problems:
        setup, problems = read_model(Setup, node)
    if problems or setup is None:
        raise DataError(problems)
    return setup


def answer(setup: Setup, catalog: Catalog | None = None) -> Answer:
    """Return what comes out of a setup.

    Raises:
        OutOfRange: If no formula holds for it.
        UnknownId: If it names what the catalog does not have.
    """
    rig = rig_of(setup, catalog)
    return Answer(rig, working_point(rig), margins(rig))
