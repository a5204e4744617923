"""A quick question at the facing cutter: squish and compression, and what a cut does to them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.chamber import believed_volume, clearance_volume, disc_volume
from sleevewright.core.engine.facing import (
    deck_clearance_after,
    duration_change,
    roof_after,
    squish_change,
    volume_after,
)
from sleevewright.core.engine.squish import (
    least_squish,
    running_squish_loss,
    squish_after,
    squish_clearance,
)
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.core.materials import default, material
from sleevewright.errors import Caution, InputError, SleevewrightError
from sleevewright.planning.hazards import FLYCUT
from sleevewright.planning.squish_rules import COOLINGS, TOO_LITTLE, least_name
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, optional, read_words
from sleevewright.units import Dimension, Spoken, parse, shown

_NONE = "0 mm"
SQUISH_INPUTS = (
    *needed("bore", "stroke", "chamber", "deck", "gasket"),
    *optional("roof", "rod"),
    QuickInput("off_deck", _NONE),
    QuickInput("off_base", _NONE),
    QuickInput("step", _NONE),
    QuickInput("crown", "0 cc"),
    QuickInput("dish", "0 cc"),
    QuickInput("cooling", "air", said=(
        "How the cylinder is cooled: the least squish that is usual goes by it.", "air"
    )),
)  # fmt: skip
_RANGES = {
    "gasket": (0.0, 0.010, "0 to 10 mm"),
    "off_deck": (0.0, 0.003, "0 to 3 mm, metal taken off"),
    "off_base": (0.0, 0.003, "0 to 3 mm, metal taken off"),
    "step": (-0.030, 0.030, "-30 to 30 mm"),
    "chamber": (1e-7, 2e-3, "0.1 to 2000 cc"),
    "crown": (0.0, 3e-4, "0 to 300 cc"),
    "dish": (0.0, 3e-4, "0 to 300 cc"),
}
_NOT_MET = (
    "Cold and at rest. Rod, play and stretch take their part in the running engine; "
    "solder at both ends of the line of the pin says what the squish really is."
)


@dataclass(frozen=True)
class _Engine:
    """The engine in SI, and the cuts."""

    bore: float
    stroke: float
    chamber: float
    deck: float
    gasket: float
    step: float
    crown: float
    dish: float
    off_deck: float
    off_base: float
    roof: float | None
    rod: float | None

    @property
    def cuts(self) -> dict[str, float]:
        """The cuts, with the base gasket as it was."""
        return {"deck_cut": self.off_deck, "base_cut": self.off_base, "base_thicker": 0.0}


def quick_squish(words: Iterable[str]) -> QuickAnswer:
    """Squish, volume and both ratios before and after a cut; degrees where it moves a port."""
    typed = read_words("squish", SQUISH_INPUTS, words)
    engine = _engine(typed)
    cooling = typed.text("cooling")
    if cooling not in COOLINGS:
        raise InputError("cooling", cooling, "", ", ".join(COOLINGS))
    least = _least(typed, engine, cooling)
    try:
        lines, squish = _lines(engine)
    except SleevewrightError as refused:
        from sleevewright.planning.facing_told import in_units  # loads what a good answer needs not

        raise SleevewrightError(in_units(str(refused), typed.system)) from refused
    is_out = squish < least
    return QuickAnswer(
        "squish",
        typed,
        lines,
        (Caution("squish-cold", _NOT_MET, "practice"), FLYCUT),
        (TOO_LITTLE,) if is_out else (),
        is_out=is_out,
        said=(_verdict(squish, least, typed.system),),
    )


def _verdict(squish: float, least: float, system: str) -> str:
    """Whether the squish that is left is enough, with both figures."""
    left, usual = (shown(one, quantity="size", system=system) for one in (squish, least))
    word, how = ("out", "less than") if squish < least else ("good", "at least")
    return f"verdict: {word}; squish {left.figure} {left.unit} is {how} {usual.figure} {usual.unit}"


def _least(typed: Typed, engine: _Engine, cooling: str) -> float:
    """Least squish: by cooling, and with the rod known never less than the engine takes off."""
    usual = default(least_name(cooling))
    typed.assume("least squish", usual.stated)
    if engine.rod is None:
        return usual.value
    loss = running_squish_loss(
        rod=engine.rod,
        rod_expansion=float(material("steel").expansion.reference),
        rod_rise=default("squish_rod_rise").value,
        crown_height=default("squish_crown_height").value,
        crown_expansion=float(material("unknown-aluminium").expansion.reference),
        crown_rise=default("squish_crown_rise").value,
        play=default("squish_play").value,
    )
    return float(least_squish(usual_least=usual.value, running_loss=loss))


def _engine(typed: Typed) -> _Engine:
    """The inputs, each read and believed."""
    own = {name: _told(typed, name) for name in _RANGES}
    stroke, rod, deck = typed.value("stroke"), typed.given("rod"), typed.value("deck")
    roof = typed.given("roof")
    if rod is not None and rod <= 0.75 * stroke:
        allowed = f"more than three quarters of the stroke, {typed.text('stroke')}"
        raise InputError("rod", typed.text("rod"), "", allowed, "Were rod and stroke swapped?")
    if roof is not None and not 0.0 < roof - deck < stroke:
        allowed = f"more than the deck, {typed.text('deck')}, and less than deck and stroke"
        hint = "Is it the roof's depth below the deck, not the floor's?"
        raise InputError("roof", typed.text("roof"), "", allowed, hint)
    return _Engine(bore=typed.value("bore"), stroke=stroke, deck=deck, roof=roof, rod=rod, **own)


def _told(typed: Typed, name: str) -> float:
    """An input that is no key of a job file, read and believed."""
    low, high, allowed = _RANGES[name]
    is_volume = name in ("chamber", "crown", "dish")
    said: Spoken = parse(
        typed.text(name),
        field=name,
        dimension=Dimension.VOLUME if is_volume else Dimension.LENGTH,
    )
    if not low <= said.value <= high:
        raise InputError(name, typed.text(name), "", allowed)
    return said.value


def _lines(engine: _Engine) -> tuple[tuple[Line, ...], float]:
    """Before, then after where a cut was given; and the squish that is left."""
    squish = float(
        squish_clearance(
            deck_clearance=engine.deck, head_gasket=engine.gasket, head_step=engine.step
        )
    )
    swept = float(swept_volume(bore=engine.bore, stroke=engine.stroke))
    volume = _volume(engine, swept)
    before = (
        Line("squish_mm", "Squish", squish, "size", squish_clearance, "axial"),
        Line("volume_cc", "Above the piston", volume, "volume", clearance_volume),
        Line("swept_cc", "Swept", swept, "volume", swept_volume),
        *_ratios(engine, swept, volume, (engine.deck, engine.roof), ""),
    )
    if not (engine.off_deck or engine.off_base):
        return before, squish
    change = float(squish_change(**engine.cuts, head_thicker=0.0))
    left = float(squish_after(squish=squish, change=change))
    smaller = float(
        volume_after(
            volume=volume, bore=engine.bore, gasket_hole=engine.bore, head_thicker=0.0,
            **engine.cuts,
        )
    )  # fmt: skip
    deck = float(deck_clearance_after(deck_clearance=engine.deck, **engine.cuts))
    roof = None
    if engine.roof is not None:
        roof = float(roof_after(roof_depth=engine.roof, deck_cut=engine.off_deck, sunk=0.0))
    after = (
        Line("squish_after_mm", "Squish after", left, "size", squish_after, "axial"),
        Line("volume_after_cc", "Above the piston after", smaller, "volume", volume_after),
        *_ratios(engine, swept, smaller, (deck, roof), " after"),
        *_timing(engine, deck, roof),
    )
    return (*before, *after), left


def _volume(engine: _Engine, swept: float) -> float:
    """Volume above the piston before the cut, believed."""
    volume = clearance_volume(
        chamber=engine.chamber,
        gasket_volume=disc_volume(across=engine.bore, height=engine.gasket),
        deck_volume=disc_volume(across=engine.bore, height=engine.deck),
        step_volume=disc_volume(across=engine.bore, height=min(0.0, engine.step)),
        crown_volume=engine.crown - engine.dish,
    )
    return float(believed_volume(volume=volume, swept=swept))


def _ratios(
    engine: _Engine, swept: float, volume: float, place: tuple[float, float | None], when: str
) -> tuple[Line, ...]:
    """Both ratios; the trapped one where a roof was given."""
    deck, roof = place
    key = when.strip().replace("after", "_after")
    ratio = float(compression_ratio(swept=swept, clearance_volume=volume))
    whole = Line(f"ratio{key}", f"Compression{when}", ratio, "ratio", compression_ratio,
                 note="geometric")  # fmt: skip
    if roof is None:
        return (whole,)
    above = float(swept_volume(bore=engine.bore, stroke=float(rest_of(whole=roof, part=deck))))
    caught = float(compression_ratio(swept=above, clearance_volume=volume))
    trapped = Line(f"trapped{key}", f"Compression{when}", caught, "ratio", compression_ratio,
                   note="trapped above the roof")  # fmt: skip
    return (whole, trapped)


def _timing(engine: _Engine, deck: float, roof: float | None) -> tuple[Line, ...]:
    """What the port's roof reads now, and by how much longer the port stays open."""
    if roof is None or engine.roof is None:
        return ()
    datum = Line("roof_after_mm", "Roof below the deck after", roof, "size", roof_after, "axial")
    if engine.rod is None:
        return (datum,)
    change = float(
        duration_change(
            roof_depth=engine.roof, deck_clearance=engine.deck, new_roof=roof,
            new_clearance=deck, stroke=engine.stroke, rod=engine.rod,
        )
    )  # fmt: skip
    note = "negative where shorter; a cut off the deck alone changes nothing"
    return (
        datum,
        Line("longer_deg", "Port stays open longer by", change, "angle", duration_change,
             note=note),
    )  # fmt: skip
