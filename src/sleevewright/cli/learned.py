"""``sleevewright learned``: what past jobs say, what was accepted of it, and its end."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from sleevewright.cli.folder_options import answer, on_a_folder
from sleevewright.cli.shell import Topics
from sleevewright.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sleevewright.services.learned import Acceptance, Known
    from sleevewright.services.own_drops import DropAcceptance, OwnDrops


PIN = "Their PIN, where several people work here; else SLEEVEWRIGHT_PIN, which no history keeps."


@click.group(cls=Topics, short_help="What past jobs say, and what counts of it.")
def learned() -> None:
    """Show what the shop's own jobs say, let it count in plans, or take that back.

    \b
    Example:
      sleevewright learned list
    """


@learned.command("list", short_help="List pairings, outcomes and what was accepted.")
@on_a_folder
def list_all(data: Path | None, url: str | None, as_json: bool) -> None:
    """List each pairing with its outcomes and habit, then everything that was accepted.

    \b
    Example:
      sleevewright learned list --json
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.learned import acceptances, known
    from sleevewright.services.own_drops import drop_acceptances, own_drops
    from sleevewright.services.settings import units_of

    with reading(data_folder(data), url=url) as bench:
        pairings, accepted, units = known(bench), acceptances(bench), units_of(bench)
        drops, of_drops = own_drops(bench), drop_acceptances(bench)
    lines = [_line(one, units) for one in pairings]
    lines += [_accepted_line(one, units) for one in accepted]
    lines += _drop_lines(drops, of_drops, units)
    document = {
        "pairings": [_document(one) for one in pairings],
        "accepted": [asdict(one) for one in accepted],
        "drops": _drops_document(drops),
        "accepted_drops": [asdict(one) for one in of_drops],
    }
    answer(document, "\n".join(lines) or "No cylinder was released yet.", as_json=as_json)


def _accepted_line(one: Acceptance, units: str) -> str:
    from sleevewright.planning.habit_said import fine

    stands = "counts" if one.is_standing else f"ended {one.ended[:10]}: {one.reason}"
    return f"{one.number} {one.pairing}: {fine(one.value, units)}, diametral, {stands}"


def _line(one: Known, units: str) -> str:
    from sleevewright.planning.habit_said import fine

    habit = one.learned.habit
    said = f"{one.learned.missing} more proved jobs wanted"
    if habit is not None:
        low = fine(habit.low, units).rpartition(" ")[0]
        said = (
            f"comes out {fine(habit.value, units)} off, "
            f"{low} to {fine(habit.high, units)} at 95 %, diametral"
        )
    return f"{one.pairing}: {one.counts.words}; {said}"


def _drop_lines(drops: OwnDrops, accepted: Sequence[DropAcceptance], units: str) -> list[str]:
    """What the drops say, and what was accepted of them; nothing where none was told."""
    from sleevewright.planning.habit_said import fine
    from sleevewright.services.own_drops import LEAST_DROPS

    if not drops.drops:
        return []
    said, found = f"{drops.usable} of {LEAST_DROPS} drops that are wanted", drops.found
    if found is not None:
        said = (
            f"from {drops.usable} drops, shape uses up {fine(found.form, units)}, diametral; "
            f"leans {found.lean:.0%}, u {found.lean_standard:.0%}"
        )
    return [
        f"Seconds of the drop: {said}",
        *(
            f"{one.number} drops: {fine(one.form, units)}, diametral, leans {one.lean:.0%}, "
            + ("counts" if one.is_standing else f"ended {one.ended[:10]}: {one.reason}")
            for one in accepted
        ),
    ]


def _drops_document(drops: OwnDrops) -> dict[str, Any]:
    found = drops.found
    return {
        "usable": drops.usable,
        "of": [one.name for one in drops.drops],
        "digest": drops.digest,
        "invented": drops.is_invented,
        "form_m": None if found is None else found.form,
        "form_spread_of_logarithm": None if found is None else found.spread,
        "lean_share": None if found is None else found.lean,
        "lean_standard": None if found is None else found.lean_standard,
    }


def _document(one: Known) -> dict[str, Any]:
    habit = one.learned.habit
    return {
        "pairing": one.pairing,
        "counts": asdict(one.counts),
        "proved_jobs": one.learned.jobs,
        "missing_jobs": one.learned.missing,
        "digest": one.learned.digest,
        "habit": None if habit is None else {f"{key}_m": v for key, v in asdict(habit).items()},
    }


@learned.command("accept", short_help="Let the habit of a pairing count in plans.")
@click.argument("pairing")
@click.option("--digest", default="", help="Hash of what was looked at, or how it begins.")
@click.option("--person", default="", help="Who accepts it, by name or key.")
@click.option("--pin", envvar="SLEEVEWRIGHT_PIN", default="", help=PIN)
@on_a_folder
def accept(pairing: str, data: Path | None, url: str | None, as_json: bool, **signed: str) -> None:
    """Let the habit of a pairing count in plans from now on, until it is revoked.

    Without --digest it shows what would count, with its hash, and accepts nothing.

    \b
    Example:
      sleevewright learned accept "aluminium|iron|air" --person Ann --digest 4d7c01b2e9a6
    """
    if not signed["digest"]:
        _show_first(pairing, data, url, as_json=as_json)
    from sleevewright.planning.habit_said import fine
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    made = run(data_folder(data), "learned-accept", {"pairing": pairing, **signed}, url=url)
    words = f"{made['number']} counts for {made['pairing']}: {fine(made['value'], made['units'])}."
    answer(made, words, as_json=as_json)


def _show_first(pairing: str, data: Path | None, url: str | None, *, as_json: bool) -> NoReturn:
    """Print what would be accepted and its hash; then refuse, because nobody has looked at it."""
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.learned import SHORTEST_DIGEST, acceptable, known
    from sleevewright.services.settings import units_of

    with reading(data_folder(data), url=url) as bench:
        found, _ = acceptable(bench, pairing)
        one, units = next(one for one in known(bench) if one.pairing == pairing), units_of(bench)
    jobs = ", ".join(found.from_jobs)
    words = f"{_line(one, units)}\nFrom {jobs}.\nHash of what it rests on: {found.digest}"
    answer(_document(one), words, as_json=as_json)
    hint = f"If this is to count, say it again with --digest {found.digest[:SHORTEST_DIGEST]}."
    raise InputError("digest", "none", "", "the hash of what was looked at", hint)


@learned.command("revoke", short_help="Take an acceptance back.")
@click.argument("number")
@click.option("--reason", required=True, help="Why, in a few words.")
@click.option("--person", default="", help="Who takes it back, by name or key.")
@click.option("--pin", envvar="SLEEVEWRIGHT_PIN", default="", help=PIN)
@on_a_folder
def revoke(number: str, data: Path | None, url: str | None, as_json: bool, **signed: str) -> None:
    """Take an acceptance back; no habit counts for its pairing then, an older one neither.

    \b
    Example:
      sleevewright learned revoke B-1 --reason "new bore gauge" --person Ann
    """
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    made = run(data_folder(data), "learned-revoke", {"number": number, **signed}, url=url)
    words = f"{made['number']} no longer counts; no habit counts for {made['pairing']} now."
    answer(made, words, as_json=as_json)
