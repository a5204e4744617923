"""The shop as the plan sees it: one frozen snapshot that services take from the store.

Everything that may differ from shop to shop and is not of one job stands here.  Later
parts of the snapshot (learned posteriors, digest of past jobs, solid results by hash) are
empty until something fills them; an empty part changes no number.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.core.materials import default
from sleevewright.core.metals import Default
from sleevewright.jobs.model import Instrument

DEFAULT_SEED = 20_200_001
"""Fixed seed of every sampled answer, so that a plan of the same facts is the same plan."""


THE_SHOP = "the shop's settings"
"""What stands as the source of a default that the shop has set itself."""


@dataclass(frozen=True)
class ShopDefault:
    """A named default as the shop has set it: SI value, and the text as it was keyed."""

    name: str
    value: float
    text: str


Chosen = tuple[ShopDefault, ...]


def default_in(chosen: Chosen, name: str) -> Default:
    """The named default, with what the shop has set in its place.

    A doubt that the default carries stays: setting a value does not make it better known.
    """
    found = default(name)
    own = next((one for one in chosen if one.name == name), None)
    if own is None:
        return found
    return replace(
        found, value=own.value, stated=own.text, source=THE_SHOP, note=f"set here to {own.text}"
    )


@dataclass(frozen=True)
class Settings:
    """Numbers that the shop's owner may set; each default has its line in the data."""

    budget_samples: int = 100_000
    drop_samples: int = 2_000
    seed: int = DEFAULT_SEED
    least_chance_most: float = default("least_chance_most").value  # of less than the least


@dataclass(frozen=True)
class Shop:
    """A frozen snapshot of the shop."""

    settings: Settings = Settings()
    chosen: Chosen = ()  # named defaults that the shop has set itself
    instruments: tuple[Instrument, ...] = ()
    presets: tuple[tuple[str, float], ...] = ()
    posteriors: tuple[tuple[str, float, float], ...] = ()
    past_jobs: tuple[str, ...] = ()
    solid_results: tuple[tuple[str, str], ...] = ()
