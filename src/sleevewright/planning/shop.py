"""The shop as the plan sees it: one frozen snapshot that services take from the store.

Everything that may differ from shop to shop and is not of one job stands here.  Later
parts of the snapshot (learned posteriors, digest of past jobs, solid results by hash) are
empty until something fills them; an empty part changes no number.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.model import Instrument

DEFAULT_SEED = 20_200_001
"""Fixed seed of every sampled answer, so that a plan of the same facts is the same plan."""


@dataclass(frozen=True)
class Settings:
    """Numbers that the shop's owner may set; each default has its line in the data."""

    budget_samples: int = 100_000
    drop_samples: int = 2_000
    seed: int = DEFAULT_SEED
    least_chance_most: float = 0.05  # chance of less than the least interference, at most


@dataclass(frozen=True)
class Shop:
    """A frozen snapshot of the shop."""

    settings: Settings = Settings()
    instruments: tuple[Instrument, ...] = ()
    presets: tuple[tuple[str, float], ...] = ()
    posteriors: tuple[tuple[str, float, float], ...] = ()
    past_jobs: tuple[str, ...] = ()
    solid_results: tuple[tuple[str, str], ...] = ()
