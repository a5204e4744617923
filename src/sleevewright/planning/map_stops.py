"""What stops two maps from being laid over each other: nothing is turned or ground by it.

A remark about a map stands beside its answers; what is told here takes their place.
"""

from __future__ import annotations

from sleevewright.core.ports.clocking import Pose
from sleevewright.core.ports.handed import handedness
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.sound import TURN, bridges, most_round, short_way
from sleevewright.planning.map_checks import is_mirrored

TOUCHING = 1.0e-9
"""Wall below which two windows are one. [m]"""

EVEN_ENOUGH = 1.0e-4
"""Likenesses of two maps that differ by less tell nothing. Practice."""

FAR_GONE = 2.0e-3
"""Metal gone at the best turn beyond which a map is asked whether it is mirrored. [m]"""

MIRRORED = (
    "is one of the maps mirrored? Mirrored, the sleeve's map fits the wanted one better than "
    "straight. Look in both at the mark that is not symmetric: was one looked at from outside, "
    "do its angles count the other way round, or are left and right swapped in its names? Put "
    "that one right"
)


def own_fault(port_map: PortMap) -> str:
    """What cannot be about one map by itself; empty where it can.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    """
    if not port_map.is_placed:
        return ""
    found = bridges(port_map, less_than=TOUCHING)
    if found:
        return (
            f"{' and '.join(found[0].names)} overlap: two windows cannot. Look at their angles, "
            f"their widths and the diameter that they were measured on"
        )
    if most_round(port_map) > TURN:
        return (
            "the windows take more than the whole way round. Look at the widths and at the "
            "diameter that they were measured on"
        )
    return ""


def map_stop(target: PortMap, sleeve: PortMap) -> str:
    """Why two maps cannot be used together; empty where they can.

    Parameters
    ----------
    target, sleeve : PortMap
        The ports as they are to become, and those of the sleeve. [record]
    """
    for title, one in (("the ports as they are to become", target), ("the sleeve", sleeve)):
        fault = own_fault(one)
        if fault:
            return f"in the map of {title} {fault}"
    return MIRRORED if is_mirrored(sleeve, target) else ""


def pose_stop(target: PortMap, sleeve: PortMap, pose: Pose) -> str:
    """Why the best pose of two maps is no order; empty where it is one.

    Parameters
    ----------
    target, sleeve : PortMap
        The ports as they are to become, and those of the sleeve. [record]
    pose : Pose
        The best pose. [record]
    """
    if pose.worst <= FAR_GONE:
        return ""
    seen = handedness(sleeve, target)
    if seen.mirrored > seen.straight + EVEN_ENOUGH:
        return MIRRORED
    lies = sleeve.turned(pose.turn, down=pose.down)
    apart = [port.name for port in target.ports if _lies_beside(port, lies.port(port.name))]
    if not apart:
        return ""
    one = len(apart) == 1
    return (
        f"even at the best turn {' and '.join(apart)} of the sleeve {'does' if one else 'do'} not "
        f"lie over the wanted {'one' if one else 'ones'}. Was an angle or a depth mistyped, are "
        f"two names swapped, or is the sleeve for another cylinder?"
    )


def _lies_beside(wanted: MappedPort, mine: MappedPort | None) -> bool:
    """Whether the middle of a window lies outside the wanted one."""
    if mine is None:
        return False
    beside = abs(short_way(mine.middle - wanted.middle)) > wanted.span / 2.0
    middle = 0.5 * (mine.roof + mine.floor)
    return beside or not wanted.roof <= middle <= wanted.floor
