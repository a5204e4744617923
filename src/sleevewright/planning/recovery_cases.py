"""Words of a recovery: what can have happened, what the hands do now, and why.

Common practice, with the figures of the job put in where a name stands in braces.
"""

from __future__ import annotations

from dataclasses import dataclass

FREES, TOO_HOT, IRON, UNKNOWN = "frees", "too hot", "iron", "unknown"
"""What helps a sleeve that is caught: heat; heat above the limit; no heat; nobody knows."""


@dataclass(frozen=True)
class Branch:
    """One case of what can have happened, what to do with the hands now, and why."""

    key: str
    title: str
    do: str
    why: str


CLOCKED = "off-clock"
"""Beginning of the keys of cases that only a sleeve with ports can have."""

AGAIN = (
    "Then: casting back in the oven, sleeve left until it is as warm as the room, edges and lead "
    "looked at, slip gauged again, and the whole drop anew"
)
BORE_OUT = (
    "Bored out, leaving a skin that is collapsed inwards, it becomes a new job: the parent bore is "
    "measured again and nothing of the old fit carries over"
)
NO_FORCE = "Never a hammer, never water: iron shatters, and a quench cracks it and throws steam"

EARLY = (
    Branch(
        "stopped-early",
        "It stopped in the first half",
        "Pull it straight out. Now.",
        "It is tilted or hangs on an edge; it has not been caught yet, and each second takes some "
        "of the slip. Within the first {wedge} a tilted sleeve can wedge for good, so it is pulled "
        "and not pushed. Every 10 K (18 °F) that it was warmed cost {lost} of slip. " + AGAIN,
    ),
    Branch(
        "off-clock-free",
        "It is home, off its mark, and still turns",
        "Turn it to the mark and hold it down.",
        "While it turns by hand it is not caught. Turn it by the flange, in the plane of the deck, "
        "and press it to its seat again: a turn can lift it",
    ),
)

LATE = {
    FREES: (
        Branch(
            "past-half",
            "It stopped past the middle",
            "Leave it. The whole back into the oven.",
            "Past the middle it comes out no easier than it goes in. Casting and sleeve together "
            "to {reheat}, stopped on the casting's own temperature; both then have slip, and it "
            "is pushed home or lifted out straight. At the casting's limit the slip would be "
            "{slip}. A sleeve kept colder than the casting gains more: air through the bore, no "
            "water. " + NO_FORCE,
        ),
        Branch(
            "off-clock-gripped",
            "It is home, off its mark, and does not turn",
            "Leave it. Reheat the whole to {reheat}.",
            "Both parts alike warm let go above {grip}; some way above it the sleeve turns. Below "
            "that no bar turns it without scoring the bore. If it is off by less than the ports "
            "can be matched for, leaving it is the smaller harm",
        ),
        Branch(
            "not-seated",
            "It went in, and the flange is not down",
            "Push it down with the flat plate, and hold.",
            "While it is loose a straight push seats it. If it does not follow it is caught: "
            "the whole to {reheat}, then down with the plate and clamped until it has cooled. A "
            "chip or a burr under the flange looks the same: lift it out hot and look. " + NO_FORCE,
        ),
    ),
    TOO_HOT: (
        Branch(
            "past-half",
            "It stopped past the middle",
            "Leave it. It will be bored out.",
            "To move it the whole would have to be at {reheat}, more than the casting may see; "
            "at its limit the slip is {slip}. Kept at the limit and cooled from inside by air "
            "alone it may come; it is not driven. " + BORE_OUT + ". " + NO_FORCE,
        ),
        Branch(
            "off-clock-gripped",
            "It is home, off its mark, and does not turn",
            "Leave it where it is.",
            "Freeing it asks for {reheat}, more than the casting may see. If the ports can be "
            "matched as it stands, match them; else " + BORE_OUT[0].lower() + BORE_OUT[1:],
        ),
        Branch(
            "not-seated",
            "It went in, and the flange is not down",
            "Push it down with the flat plate, and hold.",
            "While it is loose a straight push seats it; caught, it would need {reheat}, more "
            "than the casting may see. Press it cold only with a plate that fills the flange, "
            "behind a shield; else " + BORE_OUT[0].lower() + BORE_OUT[1:],
        ),
    ),
    IRON: (
        Branch(
            "past-half",
            "It stopped past the middle",
            "Pull, once. If it does not come, stop.",
            "Iron in iron: reheating the whole frees nothing, because both grow alike. Chill the "
            "sleeve from inside only while there is still slip; once it is closed the casting "
            "warms it faster than cold can be brought in, and no more than about {chilled} of the "
            "fit comes off. " + BORE_OUT + ". " + NO_FORCE,
        ),
        Branch(
            "off-clock-gripped",
            "It is home, off its mark, and does not turn",
            "Leave it where it is.",
            "Iron in iron: no heat of the whole frees it, and the sleeve alone would have to be "
            "below {cold} through and through. If the ports can be matched as it stands, match "
            "them; else press it out towards the flange, behind a shield, or bore it out",
        ),
        Branch(
            "not-seated",
            "It went in, and the flange is not down",
            "Push it down with the flat plate, now.",
            "Iron in iron closes within seconds and no heat opens it again. If it does not follow "
            "the plate it is caught: press it down cold with a plate that fills the flange, "
            "behind a shield, or bore it out. " + NO_FORCE,
        ),
        Branch(
            "iron-gripped",
            "It is caught in iron",
            "Press it or bore it out. No heat, no quench.",
            "There is no temperature at which both let go. Chilling a closed fit from inside takes "
            "off about {chilled}. The press needs the force that the fit holds with, the casting "
            "borne on its deck all round the counterbore, and the owner's word. " + BORE_OUT,
        ),
    ),
    UNKNOWN: (
        Branch(
            "past-half",
            "It stopped past the middle",
            "Leave it, and look up the metals.",
            "An aluminium casting lets go of an iron sleeve when the whole is hot enough; an iron "
            "one never does. Metals, sizes and fit of this job are not all told. " + NO_FORCE,
        ),
    ),
}


def cases(late: str, *, has_ports: bool) -> tuple[Branch, ...]:
    """All cases of a job, in the order in which they are asked; no mark where no port is."""
    told = (*EARLY, *LATE[late])
    return told if has_ports else tuple(one for one in told if not one.key.startswith(CLOCKED))
