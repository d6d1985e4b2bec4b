"""The company's machines, hoses, nozzles and the pipes' ceilings, as the worksheet picks them."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.hydraulics import Reading, Rig
from refgen.model.equipment import Hose, Nozzle, Pattern
from refgen.model.figure import Ceiling
from refgen.model.machines import Machine
from refgen.model.pipes import CONDITIONS, Material
from refgen.rigs import calibration_of, coefficient_of
from refgen.units import Quantity


def fleet(catalog: Catalog) -> dict[str, Any]:
    """Return the records by kind and id; quantities as written, so that a form can show them."""
    kinds: dict[str, dict[str, Any]] = {"machines": {}, "hoses": {}, "nozzles": {}, "materials": {}}
    for kind, found in kinds.items():
        for name, record in catalog.of_kind(kind).items():
            told: dict[str, Any] = {}
            if isinstance(record, Machine):
                told = _machine(record)
            elif isinstance(record, Hose):
                told = _hose(record)
            elif isinstance(record, Nozzle):
                told = _nozzle(record, catalog)
            elif isinstance(record, Material):
                told = _material(record, catalog, name)
            href = record_address(kind, name)
            found[name] = _filled({"title": record.title, "href": href, **told})
    return {**kinds, "own": _as_read(catalog), "read": _readings(catalog)}


def _filled(values: dict[str, Any]) -> dict[str, Any]:
    """Return a map without what is not there."""
    return {name: value for name, value in values.items() if value not in (None, "", (), [])}


def _text(quantity: Quantity | None) -> str:
    """Return a quantity so that the form, and a setup's YAML, can read it again."""
    return f"{quantity.number} {quantity.unit.symbol}" if quantity else ""


def _number(number: float | None, share: float = 1.0) -> str:
    return "" if number is None else f"{number * share:.4g}"


def _machine(machine: Machine) -> dict[str, Any]:
    return {
        "flow": _text(machine.flow),
        "pressure": _text(machine.pressure),
        "unloader": _text(machine.unloader),
        "plungers": str(machine.plungers),
        "power": _text(machine.power),
        "tank": _text(machine.tank),
        "hoses": [
            _filled(
                {
                    "id": carried.id,
                    "hose": carried.hose.id,
                    "length": _text(carried.length),
                    "onReel": _text(carried.on_reel),
                    "reel": _text(carried.reel_diameter),
                    "nozzles": [ref.id for ref in machine.nozzles_for(carried)],
                }
            )
            for carried in machine.hoses
        ],
    }


def _hose(hose: Hose) -> dict[str, Any]:
    return {
        "bore": _text(hose.bore),
        "roughness": _text(hose.roughness),
        "weight": _text(hose.weight),
        "rating": _text(hose.working_pressure),
        "warmest": _text(hose.warmest),
    }


def _as_read(catalog: Catalog) -> dict[str, Any]:
    """Return the jets of nozzles as they pass water on machines whose gauge was read.

    By machine, hose and nozzle, with strokes between.
    """
    found = {}
    for name, machine in catalog.machines().items():
        share = calibration_of(catalog, machine).share
        for carried in machine.hoses if share != 1.0 else ():
            for ref in machine.nozzles_for(carried):
                nozzle = catalog.entries["nozzles", ref.id].record
                assert isinstance(nozzle, Nozzle)
                jets = _jets(nozzle, _pattern(nozzle, catalog), share)
                found[f"{name}/{carried.id}/{ref.id}"] = jets
    return found


def _readings(catalog: Catalog) -> dict[str, Any]:
    """Return the gauge readings that sized jets, by machine, hose and nozzle as `_as_read`.

    SI throughout, the rig as the script's own model has it.
    """
    found = {}
    for name, machine in catalog.machines().items():
        calibration = calibration_of(catalog, machine)
        reading = calibration.reading
        for carried in machine.hoses:
            if reading is not None:
                found[f"{name}/{carried.id}/{calibration.nozzle}"] = _reading(reading)
    return found


def _reading(reading: Reading) -> dict[str, Any]:
    rig = {**told_rig(reading.rig), "jets": []}
    return {"gauge": reading.gauge, "error": reading.error, "flow": reading.flow, "rig": rig}


def told_rig(rig: Rig) -> dict[str, Any]:
    """Return a rig as the script takes it."""
    return {
        "temperature": rig.water_temperature,
        "pump": asdict(rig.pump),
        "hoses": [
            {
                "bore": hose.bore,
                "length": hose.length,
                "roughness": hose.roughness,
                "onReel": hose.on_reel,
                "reel": hose.reel_diameter,
            }
            for hose in rig.hoses
        ],
        "jets": [
            {
                "count": jet.count,
                "area": jet.flow_area,
                "angle": jet.angle,
                "faces": jet.faces,
                "byNumber": jet.by_number,
            }
            for jet in rig.jets
        ],
        "cv": rig.velocity_coefficient,
        "below": rig.below_pump,
    }


def _pattern(nozzle: Nozzle, catalog: Catalog) -> Pattern:
    pattern = catalog.entries["patterns", nozzle.pattern.id].record
    assert isinstance(pattern, Pattern)
    return pattern


def _nozzle(nozzle: Nozzle, catalog: Catalog) -> dict[str, Any]:
    pattern = _pattern(nozzle, catalog)
    return {
        "pattern": nozzle.pattern.id,
        "cv": f"{pattern.velocity_coefficient:g}",
        "stiff": _text(nozzle.stiff_length),
        "thread": nozzle.thread,
        "from": _text(pattern.pipe_from),
        "to": _text(pattern.pipe_to),
        **_jets(nozzle, pattern),
    }


def _jets(nozzle: Nozzle, pattern: Pattern, share: float = 1.0) -> dict[str, Any]:
    sizes = {jets.id: jets for jets in nozzle.jets}
    return {
        "cd": f"{coefficient_of(nozzle, pattern) * share:.3g}",
        "jets": [
            _filled(
                {
                    "count": str(group.count),
                    "bore": _text(sizes[group.id].bore),
                    "number": _number(sizes[group.id].number, share),
                    "angle": _text(group.angle),
                    "faces": group.faces,
                }
            )
            for group in pattern.jets
        ],
    }


def _material(material: Material, catalog: Catalog, name: str) -> dict[str, Any]:
    ceilings = {}
    for condition in CONDITIONS:
        ceiling: Ceiling | None = getattr(material.ceilings, condition)
        if ceiling is not None:
            whole = catalog.figures["materials", name, condition]
            ceilings[condition] = _filled(
                {
                    "is": _text(ceiling.is_),
                    "jet": ceiling.jet,
                    "when": ceiling.when,
                    "mark": catalog.w[f"mark_{whole.basis}"],
                }
            )
    return {
        "ceilings": ceilings,
        "heat": _text(material.heat.is_ if material.heat else None),
        "n": _number(material.manning_n),
        "keepOff": [advice.pattern.id for advice in material.keep_off],
    }
