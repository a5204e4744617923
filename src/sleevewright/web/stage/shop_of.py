"""The shop as the pages show it, taken from an open bench."""

from __future__ import annotations

from sleevewright.services.bench import Bench
from sleevewright.services.instruments import instruments, snapshot
from sleevewright.services.people import asks_pin, people
from sleevewright.web.stage.shop import Gauge, ShopView
from sleevewright.web.stage.views import PersonChoice


def shop_view(bench: Bench) -> ShopView:
    """Who may sign, and the gauges with what they carry."""
    everybody = people(bench, with_removed=True)
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
                tuple(snapshot(bench, one.name)),
            )
            for one in instruments(bench)
        ),
        names={one.key: one.shown for one in everybody},
    )
