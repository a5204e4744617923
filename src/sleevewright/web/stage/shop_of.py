"""The shop as the pages show it, taken from an open bench."""

from __future__ import annotations

from collections.abc import Mapping

from sleevewright.services.bench import Bench
from sleevewright.services.devices import device_names
from sleevewright.services.instruments import Instrument, carried, instruments
from sleevewright.services.people import asks_pin, people
from sleevewright.web.stage.shop import Gauge, ShopView
from sleevewright.web.stage.views import PersonChoice


def shop_view(bench: Bench) -> ShopView:
    """Who may sign, and the gauges with what they carry."""
    everybody = people(bench, with_removed=True)
    every_gauge = {one.name: one for one in instruments(bench, with_retired=True)}
    return ShopView(
        now=bench.clock(),
        store=bench.store.identity,
        people=tuple(PersonChoice(one.key, one.shown) for one in everybody if one.is_active),
        asks_pin=asks_pin(bench),
        gauges=tuple(
            Gauge(
                one.name,
                f"{one.name}, {one.setting}" if one.setting else one.name,
                one.kind,
                _snapshot(one, every_gauge),
            )
            for one in every_gauge.values()
            if one.is_active
        ),
        names={one.key: one.shown for one in everybody},
        devices=device_names(bench),
    )


def _snapshot(gauge: Instrument, known: Mapping[str, Instrument]) -> tuple[dict[str, str], ...]:
    """A gauge and what it was set from, as its readings carry them; read in one go for all."""
    chain = [gauge]
    while chain[-1].set_from in known and len(chain) <= len(known):
        chain.append(known[chain[-1].set_from])
    return tuple(carried(one) for one in chain)
