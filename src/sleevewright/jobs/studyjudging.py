"""May a gauge study be accepted? Not where it repeats worse than a set of readings can carry."""

from __future__ import annotations

import numpy as np

from sleevewright.errors import InputError
from sleevewright.jobs.fields_readings import FINE
from sleevewright.jobs.studies import Place, Study
from sleevewright.units import shown

MOST_REPEAT = FINE.high
"""Largest standard deviation of one reading that a set of readings takes over. [m]"""


def farthest(study: Study) -> Place:
    """The place whose reading lies farthest from the median of its feature."""
    read = study.values()
    off = np.abs(read - np.median(read, axis=(1, 2), keepdims=True))
    feature, person, repeat = (int(one) for one in np.unravel_index(off.argmax(), off.shape))
    return feature, person, repeat


def refuse_absurd(study: Study, standard: float, *, reader: str = "") -> None:
    """Refuse a study that no set could use, with the reading that stands apart.

    Parameters
    ----------
    study : Study
        A whole study.
    standard : float
        What one reading would be said to repeat to. [m]
    reader : str
        Who took the reading that stands apart; empty where nobody is named.

    Raises
    ------
    InputError
        If one reading repeats worse than a set can carry.
    """
    if standard <= MOST_REPEAT:
        return
    repeats, most = (_said(one, study.system) for one in (standard, MOST_REPEAT))
    place = farthest(study)
    feature, _, repeat = place
    who = f" by {reader}" if reader else ""
    hint = (
        f"The reading farthest from the others is {study.readings[place].text.strip()} of "
        f"{study.features[feature].name}{who}, round {repeat + 1}. Was it keyed wrong, take "
        "readings back until it is asked for again; else set this study aside and begin anew."
    )
    raise InputError(f"study {study.id}: one hand repeats to", repeats, "", f"{most} or less", hint)


def _said(length: float, system: str) -> str:
    return shown(length, quantity="fine deviation", system=system).words
