"""The shop as the plan sees it: one frozen snapshot that services take from the store.

Everything that may differ from shop to shop and is not of one job stands here.  What was
learned stands here once a person has accepted it; digest of past jobs and solid results by
hash are empty until something fills them.  An empty part changes no number.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.core.materials import default
from sleevewright.core.metals import Default
from sleevewright.jobs.model import Instrument
from sleevewright.jobs.pastjobs import PastJob

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
class Posterior:
    """What was learned from past jobs of a pairing, and that a person lets it count. SI."""

    name: str  # what it is of, as ``bias``: fit obtained less fit measured
    pairing: str  # key of the pairing
    value: float
    standard: float  # with which the next job lies about it
    source: str  # its number, when it was accepted, and from how many jobs


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
    posteriors: tuple[Posterior, ...] = ()  # accepted, one of a name for each pairing
    past_jobs: tuple[PastJob, ...] = ()  # filled where somebody asks; no number rests on it
    solid_results: tuple[tuple[str, str], ...] = ()

    def learned(self, name: str, pairing: str) -> Posterior | None:
        """What was learned and accepted of this pairing; nothing for most."""
        own = (one for one in self.posteriors if (one.name, one.pairing) == (name, pairing))
        return next(own, None)
