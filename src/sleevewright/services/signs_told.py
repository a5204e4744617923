"""Use case: which ports of a cylinder show signs of hand work, at As found."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping

from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import passes_down
from sleevewright.core.ports.manualdegrees import roof_by_true_opening
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import CAST_MAP, FOUND_MAP
from sleevewright.jobs.catalog_targets import AT_LIFT
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import beside, known_in, ledger_of
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.port_manual import ManualTold, manual_openings
from sleevewright.planning.port_signs import SignsTold, enter_signs
from sleevewright.services.cut_told import CutTold
from sleevewright.services.port_maps import map_of
from sleevewright.services.target_told import manual_of


def signs_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """As found: which ports show signs of hand work, each with its figure."""
    found = map_of(plan, told, FOUND_MAP).read.map
    if found is None:
        return None
    ledger = ledger_of(plan)
    names = [port.name for port in found.ports]
    pin = told.length("found.pin_offset")
    crank = _crank(plan, pin)
    printed = {name: manual_of(told, name) for name in names}
    manuals = _at_first_light(printed, crank, is_off=pin is not None)
    enter_signs(
        ledger,
        SignsTold(
            found,
            map_of(plan, told, CAST_MAP).read.map,
            manuals,
            {port.name: one for port in found.ports if (one := _opens(port, crank)) is not None},
            {name: told.text(f"port/{escaped(name)}/bright") for name in names},
            ledger.default("target_casting_side").value / STATED_COVERAGE_FACTOR,
        ),
    )
    return beside(plan, "found", "As found", ledger.result())


def _at_first_light(
    told: Mapping[str, ManualTold | None], crank: Crank | None, *, is_off: bool
) -> dict[str, float]:
    """The manual's openings; of one that counts at a lift, when its roof lets the first light."""
    rods = None
    if is_off and crank is not None:
        rods = {"stroke": crank.stroke, "rod": crank.rod, "pin_offset": crank.pin_offset}
    found = manual_openings(told, rods)
    for name, one in told.items():
        if one is None or one.at != AT_LIFT or name not in found:
            continue
        opens = found.pop(name)
        if crank is None or one.lift is None:
            continue
        with contextlib.suppress(SleevewrightError):  # no port opens there: no sign is seen by it
            roof = roof_by_true_opening(opens=opens, lift=one.lift.value, **crank.parts)
            found[name] = float(passes_down(edge_depth=roof, **crank.parts))
    return found


def _crank(plan: Plan, pin: Entry | None) -> Crank | None:
    """Stroke, rod and deck with the pin as it was told; nothing where one is not known."""
    known = [known_in(plan, f"engine.{name}") for name in ("stroke", "rod", "deck")]
    values = [one.value for one in known if one is not None and isinstance(one.value, float)]
    if len(values) != len(known):
        return None
    stroke, rod, deck = values
    return Crank(stroke, rod, deck, 0.0 if pin is None else pin.value)


def _opens(port: MappedPort, crank: Crank | None) -> float | None:
    """When a port opens as found; nothing where the crank is not known."""
    if crank is None:
        return None
    try:
        return float(passes_down(edge_depth=port.roof, **crank.parts))
    except SleevewrightError:
        return None
