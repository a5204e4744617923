"""What the page Set-up shows large: the move of the table, seen by whoever stands there."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.core.metrology.moves import Move
from sleevewright.core.metrology.secondsweep import SecondSweep
from sleevewright.core.metrology.shims import Shims
from sleevewright.core.metrology.sweep import Sweep
from sleevewright.core.metrology.sweepfigures import SeenPoints
from sleevewright.core.metrology.table import Axes, Travel
from sleevewright.planning.answers import Answer, Plan, Quantity, Verdict
from sleevewright.planning.setup_second import slip_words
from sleevewright.planning.shown import shown_answer
from sleevewright.units import Dimension, display_unit, shown, to_unit
from sleevewright.web.pictures.stud_shims import StudMark, StudPicture, stud_shims
from sleevewright.web.pictures.sweep_polar import PolarPicture, PolarSweep, sweep_polar
from sleevewright.web.pictures.table_move import TablePicture, table_move

DEPTHS = (("top", "at the top"), ("bottom", "near the bottom"))


@dataclass(frozen=True)
class OrderView:
    """One order: which way, how far, and what its dial does."""

    way: str
    figure: str
    unit: str
    doubt: str
    dial: str


@dataclass(frozen=True)
class SetUpView:
    """The move, large, with its pictures."""

    orders: tuple[OrderView, ...] = ()
    stays: str = ""  # why nothing is to be moved; empty where something is
    wants: str = ""  # what to give before there is a move
    slip: str = ""  # what the second sweep says of the move; empty where it did what it should
    comes_first: str = ""  # what is to be done before the table is moved
    swing: str = ""  # total swing at the worse depth, in words
    assumed: str = ""  # what was taken for granted of the machine
    table: Markup | None = None
    polar: Markup | None = None
    shims: Markup | None = None


@dataclass(frozen=True)
class Known:
    """Answers of a plan by their names, in its units."""

    plan: Plan

    def answer(self, identity: str) -> Answer | None:
        """An answer that has a value; nothing where there is none."""
        found = next((one for one in self.plan.answers() if one.id == identity), None)
        return None if found is None or found.value is None else found

    def value(self, identity: str) -> object:
        """A value, or nothing."""
        found = self.answer(identity)
        return None if found is None else found.value

    def thou(self, value: float) -> float:
        """A small length in the unit that it is shown in."""
        unit = display_unit(Quantity.DEVIATION.value, system=self.plan.units)
        return to_unit(value, unit, dimension=Dimension.LENGTH)

    def words(self, value: float, quantity: str = Quantity.DEVIATION.value) -> str:
        """A small length with its unit."""
        figures = shown(value, quantity=quantity, system=self.plan.units)
        return f"{figures.figure} {figures.unit}"


def setup_view(plan: Plan | None) -> SetUpView:
    """The set-up as it is shown large, from what the plan answers of it."""
    if plan is None:
        return SetUpView()
    known = Known(plan)
    travel, move, axes = (known.value(f"setup.{one}") for one in ("travel", "move", "axes"))
    if not (isinstance(travel, Travel) and isinstance(move, Move) and isinstance(axes, Axes)):
        return SetUpView(wants=_wants(plan), polar=_polar(known))
    orders = _orders(known, travel, axes)
    stays = _stays(known)
    return SetUpView(
        orders=orders,
        stays=stays,
        slip=_slip(known),
        comes_first=_comes_first(known),
        swing=_swing(known),
        assumed=_assumed(plan),
        table=None if stays else _table(orders, travel, axes),
        polar=_polar(known),
        shims=_shims(known),
    )


def _wants(plan: Plan) -> str:
    """What to give so that a move can be told."""
    found = next((one for one in plan.answers() if one.id == "setup.travel"), None)
    return "; ".join(found.needs) if found is not None else ""


def _orders(known: Known, travel: Travel, axes: Axes) -> tuple[OrderView, ...]:
    """Left or right, then away or toward, each with what its dial does."""
    x_is_across = axes.plus_x in ("right", "left")
    across = "right" if travel.right >= 0.0 else "left"
    along = "away" if travel.away >= 0.0 else "toward you"
    ways = ((across, travel.right, x_is_across), (along, travel.away, not x_is_across))
    return tuple(_order(known, way, far, "x" if by_x else "y") for way, far, by_x in ways)


def _order(known: Known, way: str, far: float, axis: str) -> OrderView:
    answer = known.answer(f"setup.travel_{axis}")
    figures = shown(abs(far), quantity=Quantity.DEVIATION.value, system=known.plan.units)
    doubt, dial = "", ""
    if answer is not None:
        told = shown_answer(answer, system=known.plan.units)
        doubt, dial = told.doubt, f"{axis.upper()} {told.figure} {told.unit} by its dial"
    return OrderView(way, figures.figure, figures.unit, doubt, dial)


def _stays(known: Known) -> str:
    """Why nothing is to be moved; empty where offset or lean are not good."""
    for name in ("offset", "tilt"):
        found = known.answer(f"setup.{name}")
        if found is None or found.judgement is None or found.judgement.verdict is not Verdict.GOOD:
            return ""
    return "It stays as it stands: centre and lean are within their limits."


def _slip(known: Known) -> str:
    """A turned sign, swapped axes and the like, as the second sweep tells it."""
    second = known.value("setup.second")
    return slip_words(second.slip) if isinstance(second, SecondSweep) else ""


def _comes_first(known: Known) -> str:
    """A lean is shimmed before the table is moved; empty where it is good."""
    found = known.answer("setup.tilt")
    judged = None if found is None else found.judgement
    if judged is None or judged.verdict is Verdict.GOOD:
        return ""
    return "Shim first, clamp, sweep again; then move."


def _swing(known: Known) -> str:
    """The total swing of the worse depth: twice the offset."""
    sweeps = [one for one in (known.value(f"setup.{key}") for key, _ in DEPTHS)
              if isinstance(one, Sweep)]  # fmt: skip
    if not sweeps:
        return ""
    worse = max(sweeps, key=lambda one: one.offset)
    return (
        f"Total swing {known.words(worse.total_swing)}, twice the offset of "
        f"{known.words(worse.offset)}."
    )


def _assumed(plan: Plan) -> str:
    """What was taken for granted of the machine, so that it can be told below."""
    axes = next((one for one in plan.answers() if one.id == "setup.axes"), None)
    if axes is None or axes.kind.value != "assumed" or not isinstance(axes.value, Axes):
        return ""
    return (
        f"Taken for granted: +X is {axes.value.plus_x}, +Y is {axes.value.plus_y}, as the table "
        "goes. Say it below if this mill counts otherwise."
    )


def _table(orders: tuple[OrderView, ...], travel: Travel, axes: Axes) -> Markup:
    """The table from above, with the arrows of the move."""
    across, along = orders
    words = " and ".join(f"{one.way} {one.figure} {one.unit}" for one in orders)
    return table_move(
        TablePicture(
            travel.right,
            travel.away,
            across.figure if float(across.figure) else "",
            along.figure if float(along.figure) else "",
            axes.plus_x,
            axes.plus_y,
            f"The table from above, you at the front: move it {words}.",
        )
    )


def _polar(known: Known) -> Markup | None:
    """Both sweeps as the spindle sees them, turned to how the operator stands."""
    turn = known.value("setup.axes_turn")
    drawn = []
    for key, name in DEPTHS:
        seen, sweep = known.value(f"setup.{key}_seen"), known.value(f"setup.{key}")
        if isinstance(seen, SeenPoints) and isinstance(sweep, Sweep) and isinstance(turn, float):
            points = tuple(
                (direction, known.thou(off))
                for direction, off in zip(seen.directions, seen.deviations, strict=True)
            )
            move = known.thou(sweep.move_x), known.thou(sweep.move_y)
            long, short, towards = sweep.region
            region = known.thou(long), known.thou(short), towards
            drawn.append(PolarSweep(name, points, move, key == "top", region))
    if not drawn or not isinstance(turn, float):
        return None
    unit = display_unit(Quantity.DEVIATION.value, system=known.plan.units)
    says = f"Sweep as the spindle sees it. {_swing(known)}"
    return sweep_polar(PolarPicture(tuple(drawn), unit, turn, says))


def _shims(known: Known) -> Markup | None:
    """Which stud is lifted by how much, or which side."""
    turn, leans = known.value("setup.axes_turn"), known.value("setup.lean_at")
    thickest = known.value("setup.shim")
    if not all(isinstance(one, float) for one in (turn, leans, thickest)):
        return None
    shims = known.value("setup.shims")
    marks: tuple[StudMark, ...] = ()
    if isinstance(shims, Shims):
        marks = tuple(
            StudMark(
                stud.name,
                stud.angle + float(turn),  # type: ignore[arg-type] # a float, looked at above
                stud.radius,
                known.words(under) if under else "none",
                bool(under),
            )
            for stud, under in zip(shims.studs, shims.stepped, strict=True)
        )
    side = known.words(float(thickest))  # type: ignore[arg-type] # a float, looked at above
    words = ", ".join(f"stud {one.name} {one.shim}" for one in marks) or f"{side} on the low side"
    return stud_shims(
        StudPicture(
            marks,
            float(leans) + float(turn),  # type: ignore[arg-type] # floats, looked at above
            "" if marks else side,
            f"The casting from above, you at the front. Shims: {words}.",
        )
    )
