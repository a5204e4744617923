"""Which grits, and how much of the stock each takes.  Stock is diametral, Rz a depth."""

from __future__ import annotations

from sleevewright.core.cutting.hone_stock import (
    HoneSteps,
    StockSplit,
    grit_of,
    marks_stock,
    split_stock,
    steps_of,
)
from sleevewright.core.formulas import formula_of
from sleevewright.planning.answers import Basis, Kind, Plan, Quantity
from sleevewright.planning.facts import given
from sleevewright.planning.hone_rates import sound_grit
from sleevewright.planning.hone_told import HoneTold
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.units import shown

Q = Quantity


def planned_steps(told: HoneTold) -> HoneSteps:
    """The grits that are usual for this bore and its rings."""
    use = "fit" if told.key == "honefit" else "piston"
    return steps_of(use=use, metal=told.metal, rings=told.rings)


def enter_grits(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter the grits in order, what each takes, and whether the stock is enough for the marks."""
    steps = planned_steps(told)
    order = Line(told.named("grits"), "Grits in order", Q.TEXT, of=steps.note)
    ledger.fact(order, Given(", then ".join(map(str, steps.grits)), Kind.ASSUMED, steps.source))
    _enter_roughness(ledger, told)
    share = ledger.default("hone_marks_share")
    fact = Line(told.named("marks_share"), "times the depth of the marks", Q.RATIO, is_detail=True)
    ledger.fact(fact, Given(share.value, Kind.ASSUMED, share.source, share.note))
    marks = Line(
        told.named("marks"),
        "Least stock for the marks that are there",
        Q.DEVIATION,
        "diametral",
        of="twice their depth and more, as they lie on both sides",
    )
    ledger.compute(marks, marks_stock, CENTRALLY, roughness=told.named("rz"), share=fact.id)
    stock = ledger.value(told.named("stock"))
    if stock is None or stock <= 0.0:
        return
    in_use = sound_grit(told)
    left = tuple(one for one in steps.grits if in_use is None or one >= in_use)
    numbers = left or steps.grits[-1:]
    rows = tuple(grit_of(float(one), metal=told.metal) for one in numbers)
    rough = float(ledger.value(told.named("rz")))
    split = split_stock(stock=stock, roughness=rough, grits=rows, share=share.value)
    _enter_shares(ledger, told, split)
    if stock > ledger.value(told.named("high")) - ledger.value(told.named("target")):
        _advise(ledger, plan, split, stock)


def _enter_roughness(ledger: Ledger, told: HoneTold) -> None:
    """Enter Rz as it is now: of the grit in use, else as bored, told or usual."""
    line = Line(told.named("rz"), "Rz as it is now", Q.DEVIATION, is_detail=True)
    number = sound_grit(told)
    if number is not None:
        row = grit_of(number, metal=told.metal)
        ledger.fact(line, Given(row.roughness, Kind.ASSUMED, row.source, f"{row.grit} grit"))
        return
    if told.roughness is not None:
        ledger.fact(line, given(told.roughness, need="roughness as bored"))
        return
    usual = ledger.default("hone_bored_rz")
    ledger.fact(line, Given(usual.value, Kind.ASSUMED, usual.source, usual.note))


def _enter_shares(ledger: Ledger, told: HoneTold, split: StockSplit) -> None:
    """Enter what each grit takes, with the way that it was reckoned."""
    declared = formula_of(split_stock)
    inputs = tuple(
        (name, told.named(one))
        for name, one in (("stock", "stock"), ("roughness", "rz"), ("share", "marks_share"))
    )
    basis = Basis(declared.name, declared.expression, declared.function, inputs, declared.sources,
                  declared.validity)  # fmt: skip
    for number, one in enumerate(split.shares, start=1):
        line = Line(told.named(f"grit_{number}"), f"With {one.grit} grit", Q.DEVIATION,
                    "diametral", of="of what is still to hone")  # fmt: skip
        ledger.fact(line, Given(one.stock, Kind.COMPUTED, "derived"))
        ledger.amend(line.id, basis=basis, source="")


def _advise(ledger: Ledger, plan: Plan, split: StockSplit, stock: float) -> None:
    """Say so where the stock is too little for the marks, or more than a hone should take."""

    def said(value: float) -> str:
        figures = shown(value, quantity=Q.DEVIATION.value, system=plan.units)
        return f"{figures.figure} {figures.unit}"

    first = split.shares[0].grit
    if split.lacking > 0.0:
        ledger.advise(
            f"The stock is {said(split.lacking)} too little to clear the marks that are there "
            f"with {first} grit: some of them stay."
        )
    elif split.left_out:
        coarse = " and ".join(map(str, split.left_out))
        ledger.advise(f"Too little is left for {coarse} grit: begin with {first}.")
    most = ledger.default("hone_stock")
    if stock > most.high:
        ledger.advise(
            f"{said(stock)} is much for a hone, {said(most.high)} is the most that is usual: "
            "bore it closer first."
        )
