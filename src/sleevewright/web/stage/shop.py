"""What a stage's page takes from the shop: who may sign, which gauges there are, the hour."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from sleevewright.jobs.evidence import Lack
from sleevewright.services.devices import named_device
from sleevewright.web.stage.views import PersonChoice


@dataclass(frozen=True)
class Gauge:
    """A gauge that can be chosen, with the snapshot that a set of readings carries."""

    name: str
    words: str
    kind: str
    snapshot: tuple[Mapping[str, str], ...] = ()

    @property
    def carried(self) -> str:
        """The snapshot as the form of a new set hands it in."""
        return json.dumps([dict(one) for one in self.snapshot], ensure_ascii=False)


@dataclass(frozen=True)
class ShopView:
    """Everything of the shop that a page shows."""

    now: datetime
    store: str = ""
    people: tuple[PersonChoice, ...] = ()
    asks_pin: bool = False
    gauges: tuple[Gauge, ...] = ()
    names: Mapping[str, str] = field(default_factory=dict)  # of persons, by key
    devices: Mapping[str, str] = field(default_factory=dict)  # their names, by key

    def name_of(self, key: str) -> str:
        """Who a key stands for; a name that was told stays what it is."""
        return self.names.get(key, key)

    def named(self, lack: Lack) -> tuple[str, str]:
        """Why a hold is not met and what would meet it, with the device by its name."""
        if not lack.device:
            return lack.why, lack.cure
        name = named_device(self.devices, lack.device)
        return lack.why.replace(lack.device, name), lack.cure.replace(lack.device, name)
