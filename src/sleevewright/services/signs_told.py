"""Use case: which ports of a cylinder show signs of hand work, at As found."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping

from sleevewright.core.engine.crank import port_opens
from sleevewright.core.ports.manualdegrees import roof_by_opening
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import CAST_MAP, FOUND_MAP
from sleevewright.jobs.catalog_targets import AT_LIFT
from sleevewright.jobs.livingdoc import escaped
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
    manuals = _at_first_light(plan, {name: manual_of(told, name) for name in names})
    enter_signs(
        ledger,
        SignsTold(
            found,
            map_of(plan, told, CAST_MAP).read.map,
            manuals,
            {port.name: one for port in found.ports if (one := _opens(plan, port)) is not None},
            {name: told.text(f"port/{escaped(name)}/bright") for name in names},
            ledger.default("target_casting_side").value / STATED_COVERAGE_FACTOR,
        ),
    )
    return beside(plan, "found", "As found", ledger.result())


def _at_first_light(plan: Plan, told: Mapping[str, ManualTold | None]) -> dict[str, float]:
    """The manual's openings; of one that counts at a lift, when its roof lets the first light."""
    found = manual_openings(told)
    crank = _crank(plan)
    for name, one in told.items():
        if one is None or one.at != AT_LIFT or name not in found:
            continue
        opens = found.pop(name)
        if crank is None or one.lift is None:
            continue
        with contextlib.suppress(SleevewrightError):  # no port opens there: no sign is seen by it
            roof = roof_by_opening(opens=opens, lift=one.lift.value, **crank)
            found[name] = float(port_opens(roof_depth=roof, **crank))
    return found


def _crank(plan: Plan) -> dict[str, float] | None:
    """Deck, stroke and rod by their names in the core; nothing where one is not known."""
    names = {"deck_clearance": "deck", "stroke": "stroke", "rod": "rod"}
    known = {key: known_in(plan, f"engine.{name}") for key, name in names.items()}
    values = {
        key: one.value
        for key, one in known.items()
        if one is not None and isinstance(one.value, float)
    }
    return values if len(values) == len(names) else None


def _opens(plan: Plan, port: MappedPort) -> float | None:
    """When a port opens as found; nothing where the crank is not known."""
    crank = _crank(plan)
    if crank is None:
        return None
    try:
        return float(port_opens(roof_depth=port.roof, **crank))
    except SleevewrightError:
        return None
