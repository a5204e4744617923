"""Use case: outlines that were read out of a drawing become cells of a port map."""

from __future__ import annotations

import math

from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import MAPS
from sleevewright.jobs.records import VALUE
from sleevewright.services.bench import Bench
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import folded_job, server_draft
from sleevewright.services.outlines_in import OutlinesIn, ReadOutline

FROM_FILE = "file"


def refuse_unnamed(read: OutlinesIn) -> None:
    """Refuse windows of which nobody said what they are, and tell where each lies.

    Raises
    ------
    InputError
        If a window has no name; the text tells all windows in their order.
    """
    if all(one.was_named for one in read.outlines):
        return
    listed = "; ".join(f"{number} {where(one)}" for number, one in enumerate(read.outlines, 1))
    hint = f"In their order: {listed}."
    raise InputError("names", "not told", "", "a name for each window", hint)


def where(one: ReadOutline) -> str:
    """Where a window lies, in words.

    Examples
    --------
    >>> import numpy as np
    >>> points = np.array([[-0.1, 0.03], [0.1, 0.03], [0.1, 0.05], [-0.1, 0.05]])
    >>> where(ReadOutline("exhaust", points, "", was_named=True))
    'at +0.0 deg, 11.5 deg wide, roof 30.00 mm, floor 50.00 mm'
    """
    angles, depths = one.points[:, 0], one.points[:, 1] * 1e3
    middle = math.degrees(0.5 * float(angles.min() + angles.max()))
    wide = math.degrees(float(angles.max() - angles.min()))
    return (
        f"at {middle:+.1f} deg, {wide:.1f} deg wide, "
        f"roof {depths.min():.2f} mm, floor {depths.max():.2f} mm"
    )


def keep_outlines(
    bench: Bench, number: str, read: OutlinesIn, *, key: str, cylinder: int = 1
) -> tuple[str, ...]:
    """Keep the outlines as one map of a cylinder.

    Depths count from the map's own datum, which the line on the layer FLANGE stands for.

    Parameters
    ----------
    bench : Bench
        The open bench.
    number : str
        Number of the job.
    read : OutlinesIn
        What was read.
    key : str
        One of the five maps.
    cylinder : int
        Which cylinder.

    Returns
    -------
    tuple[str, ...]
        Names of the ports that were kept.

    Raises
    ------
    InputError
        If there is no such map or a window has no name.
    """
    if key not in MAPS:
        raise InputError("map", key, "", ", ".join(MAPS))
    refuse_unnamed(read)
    folded = folded_job(bench, number)
    drafts = []
    for one in read.outlines:
        name = one.name.replace("%", "%25").replace("/", "%2F")
        cell = f"port/{name}/{key}.outline"
        body = {
            "cylinder": cylinder,
            "cell": cell,
            "text": one.text,
            "source": FROM_FILE,
            "replaces": [told.id for told in folded.heads(cell, cylinder=cylinder)],
        }
        drafts.append(server_draft(number, VALUE, body_of(VALUE, body, folded)))
    bench.store.append(drafts)
    return tuple(one.name for one in read.outlines)
