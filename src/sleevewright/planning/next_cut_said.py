"""Words for the boring head: what to set, which way, what a spring pass does, when to stop."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.cutting.closing_in import Move, NextCut, ShopCut, left_over
from sleevewright.core.cutting.dialled import asked_chances, one_graduation
from sleevewright.core.cutting.head_dial import DialOrder, HeadDial, dial_order, head_turn
from sleevewright.core.cutting.next_cut import BoreLimits, BoreRead
from sleevewright.core.cutting.pass_doubts import HALF, LESS, NOTHING_ASKED, TWICE, Pass
from sleevewright.core.cutting.passes import CutState, expected_taken
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.shown import percent_words
from sleevewright.units import shown

Q = Quantity
TELLING = 1e-7
"""Rounding of less than this is none. [m]"""

WORTH_A_WORD = 0.05
"""A chance of too small a bore above this is told of where boring stops. Practice."""


@dataclass(frozen=True)
class Found:
    """The next pass as it can be dialled, as it was planned, and what it was found from."""

    cut: NextCut
    ideal: NextCut  # by a dial without steps
    state: CutState
    head: HeadDial
    shop: ShopCut
    limits: BoreLimits
    read: BoreRead
    last: Pass | None

    @property
    def left(self) -> float:
        """What the last pass left on the head, diametral; nought where none was made."""
        if self.last is None:
            return 0.0
        return float(left_over(last_asked=self.last.asked, last_taken=self.last.taken))

    @property
    def order(self) -> DialOrder:
        """How the head is set from where it stands."""
        return dial_order(boring_head=self.head, head_move=self.cut.ask - self.left)


@dataclass(frozen=True)
class Said:
    """Figures in the units of the job."""

    units: str
    of: str = "bore"

    def small(self, value: float) -> str:
        """A small length with its unit."""
        return shown(value, quantity=Q.DEVIATION.value, system=self.units).words

    def size(self, value: float) -> str:
        """A size with its unit."""
        return shown(value, quantity=Q.SIZE.value, system=self.units).words

    def doubtful(self, one: Pass, why: str) -> str:
        """Why a pass teaches nothing, and what to look at."""
        asked, took = self.small(one.asked), self.small(abs(one.taken))
        head = f"Pass {one.number}: you asked {asked} on diameter, it took {took}"
        if why == TWICE:
            return (
                f"{head}, twice what this bar takes of that. Was the head set that far on radius, "
                "or was the ask keyed on radius? Gauge the bore again before anything is cut; the "
                "pass teaches nothing until it is put right."
            )
        if why == HALF:
            return (
                f"{head}, half of what this bar takes of that. Was the head set that far by a dial "
                "that reads diameter, or was the ask keyed double? Look before the next cut; the "
                "pass teaches nothing until it is put right."
            )
        words = {
            LESS: f"Pass {one.number}: the bore became smaller by {took}. A cut takes metal off: "
            "read it again, cooled down, with the same gauge.",
            NOTHING_ASKED: f"Pass {one.number}: it was asked nothing. Key what the head was set to "
            "take, on diameter.",
        }
        return words[why]

    def overtaken(self, one: Pass) -> str:
        """That a pass took more than it was asked, which no bar does."""
        asked, took = self.small(one.asked), self.small(one.taken)
        return (
            f"Pass {one.number}: you asked {asked} on diameter, it took {took}. A bar takes no "
            "more than it is asked: either the dial was not where it was meant to be, or one of "
            "the two readings is off. Gauge the bore again before the next cut."
        )

    def order(self, order: DialOrder, head: HeadDial, *, with_back: bool = False) -> str:
        """How a head is set, with both words beside the figures."""
        if order.graduations == 0:
            return "leave the head as it is"
        radius, diameter = self.small(abs(order.radius)), self.small(abs(order.diameter))
        marked = f"its dial reads {'radius' if head.is_on_radius else 'diameter'}"
        both = f"{radius} on radius ({diameter} on diameter)"
        if order.graduations < 0:
            return f"turn the head back {both}, {marked}: {turn_words(order, head)}"
        text = f"set the head +{both}: {turn_words(order, head)}, {marked}"
        way, back = ways_of(head)
        if order.back and with_back:
            text += (
                f"; come up to it {way}: where it was ever turned back, go "
                f"{graduations(order.back)} {back} of it first"
            )
        return text


def graduations(count: int) -> str:
    """A number of graduations in words."""
    return f"{count} graduation{'' if count == 1 else 's'}"


def turn_words(order: DialOrder, head: HeadDial) -> str:
    """How many graduations and which way; back only past the lost motion, and up again."""
    way, back = ways_of(head)
    if order.graduations == 0:
        return "leave the head as it is: a spring pass"
    count = abs(order.graduations)
    if order.graduations > 0:
        return f"{graduations(count)} {way}"
    words = f"{graduations(count)} {back}"
    if not order.back:
        return words
    return (
        f"{words}; to take up the lost motion go {count + order.back} {back} and come "
        f"{order.back} up again {way}"
    )


def ways_of(head: HeadDial) -> tuple[str, str]:
    """Which way bores larger, and the other one."""
    ways = ("clockwise", "counter-clockwise")
    return ways if head.is_clockwise else (ways[1], ways[0])


def say_nothing(ledger: Ledger, of: str, lacks: tuple[str, ...]) -> None:
    """Say what a next cut waits for."""
    line = Line(f"{of}.next_ask", "Next cut, asked", Q.DEVIATION, "diametral")
    ledger.fact(line, Given(None, Kind.COMPUTED, need="; ".join(lacks)))


def say_stop(ledger: Ledger, said: Said, why: str) -> None:
    """Say that nothing is cut now, and why; no order stands beside it."""
    line = Line(f"{said.of}.next_stop", "Now", Q.TEXT, of=why)
    ledger.fact(line, Given("stop", Kind.COMPUTED, source="derived"))


def say_next(ledger: Ledger, said: Said, found: Found) -> None:
    """Enter the move, the order to the head, the schedule and what speaks of a spring pass."""
    cut = found.cut
    if cut.ask <= 0.0:
        why = stop_words(found, said)
        say_stop(ledger, said, why)
        if cut.next_move is Move.STOP_ABOVE:
            ledger.caution(f"pass-above:{said.of}.pass", f"Stop: {why}.", "practice")
        return
    _text(ledger, said, "next_move", "Next", _go_words(cut))
    _say_dial(ledger, said, found)
    _text(ledger, said, "passes_left", "Passes planned", left_words(cut))
    _text(ledger, said, "schedule", "Passes from here", schedule_words(cut, said))
    ends = cut.chances_then
    words = f"{said.size(ends.low)} to {said.size(ends.high)}, nine times in ten"
    _text(ledger, said, "next_span", "Bore after it lies from", words)
    spring = spring_words(found, said)
    if spring:
        _text(ledger, said, "spring", "Spring pass", spring)
    _advise(ledger, said, found)


def _text(ledger: Ledger, said: Said, name: str, label: str, words: str) -> None:
    ledger.fact(
        Line(f"{said.of}.{name}", label, Q.TEXT), Given(words, Kind.COMPUTED, source="derived")
    )


def _say_dial(ledger: Ledger, said: Said, found: Found) -> None:
    """Enter the order to the head: from where the last pass left it, and from touching the bore."""
    cut, head, last = found.cut, found.head, found.last
    whole = dial_order(boring_head=head, head_move=cut.ask)
    order = found.order
    of = f"{said.of}.next_ask"
    touching = said.order(whole, head, with_back=True)
    if whole.graduations == 0:
        touching = "less than one graduation: set it from where the last pass left it"
    _text(ledger, said, "next_dial", "Head, from touching the bore", touching)
    if last is not None:
        words = f"{left_on(found, said)} pass {last.number}: {said.order(order, head)}"
        _text(ledger, said, "next_turn", "Head, from where that pass left it", words)
    ledger.amend(of, of=f"from the bore as it is; {said.small(0.5 * cut.ask)} on radius")
    if abs(found.ideal.ask - cut.ask) > TELLING:
        _text(ledger, said, "next_rounding", "In whole graduations", rounding_words(found, said))
    _enter_turn(ledger, said, found, order if last is not None else whole)


def _enter_turn(ledger: Ledger, said: Said, found: Found, order: DialOrder) -> None:
    """Enter what the dial of the head is turned by, on what it is marked for."""
    head = found.head
    move = Line(f"{said.of}.head_move", "Head is set out by", Q.DEVIATION, is_detail=True)
    ledger.fact(Line(f"{said.of}.head", "head", Q.RECORD, is_detail=True),
                Given(head, Kind.ASSUMED, source="practice"))  # fmt: skip
    ledger.fact(move, Given(found.cut.ask - found.left, Kind.COMPUTED, source="derived"))
    ids = {"boring_head": f"{said.of}.head", "head_move": move.id}
    on, other = ("on radius", "on diameter") if head.is_on_radius else ("on diameter", "on radius")
    too = order.diameter if head.is_on_radius else order.radius
    since = "" if found.last is None else f", from where pass {found.last.number} left it"
    line = Line(
        f"{said.of}.head_turn", "Turn the head", Q.READING, on,
        of=f"{said.small(abs(too))} {other}; {turn_words(order, head)}{since}",
    )  # fmt: skip
    ledger.compute(line, head_turn, CENTRALLY, **ids)


def left_on(found: Found, said: Said) -> str:
    """What is on the head still, or how far it lies inside the bore."""
    if found.left < 0.0:
        return f"the head stands {said.small(-found.left)} on diameter inside the bore after"
    return f"{said.small(found.left)} on diameter is on the head still from"


def rounding_words(found: Found, said: Said) -> str:
    """What whole graduations do to the next pass; all other figures are of the dialled ask."""
    cut, ideal = found.cut, found.ideal
    off = cut.ask - ideal.ask
    words = (
        f"{said.small(cut.ask)} on diameter, {said.small(abs(off))} "
        f"{'less' if off < 0.0 else 'more'} than the {said.small(ideal.ask)} that were planned"
    )
    if len(cut.ladder) > 1:
        return f"{words}: the next pass makes up for it"
    words += (
        f": {percent_words(cut.chances_then.inside)} chance to end inside instead of "
        f"{percent_words(ideal.chances_then.inside)}"
    )
    if ideal.chances_then.inside - cut.chances_then.inside < WORTH_A_WORD:
        return words
    return f"{words}. A finer dial serves, or a part of a graduation set by eye"


def _go_words(cut: NextCut) -> str:
    more = len(cut.ladder) - 1
    after = {0: "to the target", 1: "one more after it"}.get(more, f"{more} more after it")
    return f"{cut.pass_kind} cut, {after}"


def stop_words(found: Found, said: Said) -> str:
    """Why no further pass is to be made."""
    cut, limits, read = found.cut, found.limits, found.read
    if cut.next_move is Move.STOP_ABOVE:
        over = said.small(read.size - limits.high)
        return (
            f"the bore is {over} above its upper limit. Metal cannot be put back: a larger "
            "sleeve turned to this bore, or the fit that it gives accepted in writing"
        )
    rest = said.small(limits.aim - read.size)
    if cut.next_move is Move.STOP_COARSE:
        step = said.small(one_graduation(boring_head=found.head))
        return (
            f"the dial is too coarse: {rest} is left, the next cut would be asked "
            f"{said.small(found.ideal.ask)} on diameter, and one graduation is {step} on diameter. "
            "No graduation serves: less gains nothing, more risks too much. A finer dial, a part "
            "of a graduation set by eye, or the hone takes the rest"
        )
    gauge = gauge_words(found, said)
    if cut.next_move is Move.STOP_THIN:
        if gauge:
            return f"no more boring yet: {rest} is left, and {gauge}"
        return f"no more boring: {rest} is left, which another pass risks more with than it gains"
    return _inside_words(found, gauge)


def _inside_words(found: Found, gauge: str) -> str:
    """That the bore is read inside, with the chances that it is not."""
    now = found.cut.now_chances
    inside = percent_words(now.inside)
    words = f"you are inside: {inside} chance that the bore lies within its limits"
    if now.beyond >= WORTH_A_WORD:
        words += f", {percent_words(now.beyond)} that it is too large already"
    if now.under >= WORTH_A_WORD:
        words += f", {percent_words(now.under)} that it is too small still"
    if gauge and (now.beyond >= WORTH_A_WORD or now.under >= WORTH_A_WORD):
        return f"{words}. Cut nothing more: {gauge}"
    if now.beyond >= WORTH_A_WORD:
        return f"{words}. Take no more metal off, and settle it with a better gauge"
    if now.under >= WORTH_A_WORD:
        return (
            f"{words}. Another pass would risk more than it gains: hone the rest, or settle it "
            "with a better gauge"
        )
    return words


def gauge_words(found: Found, said: Said) -> str:
    """That the gauge is at fault, where what it may be set wrong by fills the limits."""
    half = STATED_COVERAGE_FACTOR * found.read.setting
    if half <= 0.5 * (found.limits.high - found.limits.low):
        return ""
    return (
        f"the gauge may be set wrong by {said.small(half)}, more than half of what the limits "
        "allow. Gauge better first: set it on a master near this size, read again, then ask again"
    )


def left_words(cut: NextCut) -> str:
    """How many passes are planned, and how likely one more is."""
    count = len(cut.ladder)
    if count == 1:
        return f"1, and {percent_words(cut.once_more)} chance of one more"
    return f"{count}, fewer or more as each teaches"


def schedule_words(cut: NextCut, said: Said) -> str:
    """The planned passes in a line: kind, ask on diameter and per side, the bore after it."""
    words = [
        f"{one.pass_kind} {said.small(one.ask)} on diameter ({said.small(0.5 * one.ask)} per side) "
        f"to {said.size(one.bore_after)}"
        for one in cut.ladder
    ]
    return "; ".join(words)


def spring_words(found: Found, said: Said) -> str:
    """What a pass with the head left as it is would take, and whether it serves."""
    if found.last is None:
        return ""
    left = found.left
    takes = float(expected_taken(cut_state=found.state, cut_asked=left))
    if left <= 0.0 or takes <= 0.0:
        return "takes nothing: the last pass took all that it was asked"
    words = f"with the head as it is about {said.small(takes)} more comes off, on diameter"
    if left < found.shop.pass_depths.least_ask:
        words += "; so thin that the tip may rub"
    return f"{words}: {_spring_verdict(found, takes)}"


def _spring_verdict(found: Found, takes: float) -> str:
    """Whether a pass with the head left as it is serves, by its chances."""
    if found.order.graduations == 0:
        return "the next cut is that pass"
    limits, read, shop, left = found.limits, found.read, found.shop, found.left
    then = asked_chances(
        cut_state=found.state, bore_read=read, limits=limits, shop_cut=shop, cut_asked=left
    )
    if then.middle > limits.high:
        return "it spoils the bore, do not make one"
    if then.beyond > shop.cut_risk:
        return (
            f"{percent_words(then.beyond)} chance that it passes the upper limit, do not make one"
        )
    if then.middle >= limits.low and takes >= limits.aim - read.size - shop.cut_repeat:
        return f"worth one, {percent_words(then.inside)} chance that it ends inside"
    if found.cut.ask <= left:
        return "more than is wanted"
    return "not worth one, the next cut takes it along"


def held_words(found: Found, said: Said) -> str:
    """That the risk asks for less than the plan does."""
    return (
        f"The ask is held back: more than {said.small(found.ideal.ask)} on diameter would carry "
        f"more than {percent_words(found.shop.cut_risk)} chance of passing the upper limit"
    )


def _advise(ledger: Ledger, said: Said, found: Found) -> None:
    """What to mind at this cut."""
    cut, shop, last = found.cut, found.shop, found.last
    if cut.is_held_back:
        ledger.advise(f"{held_words(found, said)}.")
    if cut.is_thin:
        ledger.advise(
            f"So thin a cut ({said.small(0.5 * cut.ask)} per side) may rub: below "
            f"{said.small(0.5 * shop.pass_depths.least_ask)} per side a tip does not cut cleanly. "
            "Sharpen the tip, or leave the rest to the hone."
        )
    if len(cut.ladder) == 2:
        ledger.advise(
            "The last two passes ask the same, but for a graduation, so that the bar bends the "
            "same: key what the first takes before the second is set."
        )
    if last is not None:
        beyond = found.left - (found.limits.high - found.read.size)
        if beyond > 0.0:
            ledger.caution(
                f"pass-dialled-beyond:{said.of}.pass",
                f"Pass {last.number} was set {said.small(beyond)} beyond the upper limit; only the "
                "spring of the bar kept the bore. Turn the head back before it goes in again.",
                "derived",
            )
