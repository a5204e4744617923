"""The shop's settings: what was set, by whom and when; and the shop as the planner sees it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sqlalchemy import Connection, delete, insert, select, update

from sleevewright.errors import InputError, SleevewrightError
from sleevewright.jobs.model import Instrument
from sleevewright.planning.shop import Settings, Shop, ShopDefault
from sleevewright.services.bench import Bench
from sleevewright.services.setting_specs import Sort, Spec, spec_of, specs
from sleevewright.services.shelf import outdate_verdicts
from sleevewright.store.tables import setting as setting_table
from sleevewright.units import parse

_MONEY = re.compile(r"\d{1,9}(?:[.,]\d{1,2})?")


@dataclass(frozen=True)
class SettingRow:
    """A setting as it stands: its text, whether it is the shop's own, who set it and when."""

    spec: Spec
    text: str
    is_own: bool
    said: str = ""
    person: str = ""
    problem: str = ""  # why what was set once can no longer be taken


@dataclass(frozen=True)
class PriceRates:
    """What a quote is reckoned with."""

    hour: float
    risk: float
    tax: float
    deposit: float
    currency: str


def settings(bench: Bench) -> tuple[SettingRow, ...]:
    """Every setting, group by group, with what the shop has set."""
    own = bench.store.read(_rows)
    return tuple(_row(spec, own.get(spec.key)) for spec in specs())


def setting(bench: Bench, key: str) -> SettingRow:
    """One setting as it stands."""
    spec = spec_of(key)
    return _row(spec, bench.store.read(_rows).get(key))


def change_setting(bench: Bench, key: str, text: str, *, person: str = "") -> SettingRow:
    """Set one, noting who and when.

    Raises
    ------
    InputError
        If the text cannot be taken; it names the range in the shop's units.
    """
    spec = spec_of(key)
    value = checked(spec, text, system=units_of(bench))
    _refuse_crossed(bench, spec, text.strip(), value)
    values = {"value": text.strip(), "said": bench.now(), "person": person or None}

    def work(connection: Connection) -> None:
        changed = update(setting_table).where(setting_table.c.key == key).values(values)
        if connection.execute(changed).rowcount == 0:
            connection.execute(insert(setting_table).values(key=key, **values))
        outdate_verdicts(connection)

    bench.store.write(work)
    bench.on_change()
    return setting(bench, key)


def reset_setting(bench: Bench, key: str) -> SettingRow:
    """Go back to what stands in the data of the tool."""
    spec_of(key)

    def work(connection: Connection) -> None:
        connection.execute(delete(setting_table).where(setting_table.c.key == key))
        outdate_verdicts(connection)

    bench.store.write(work)
    bench.on_change()
    return setting(bench, key)


def checked(spec: Spec, text: str, *, system: str = "inch") -> float:
    """SI value of a text for this setting; nought for words and for choices among words.

    Raises
    ------
    InputError
        If it cannot be read, or lies outside the range.
    """
    told = text.strip()
    allowed = spec.allowed_words(system)
    hint = f"As {spec.text}, which stands without it."
    refusal = InputError(spec.title, told or "nothing", "", allowed, hint)
    if spec.sort is Sort.CHOICE:
        if told not in spec.allowed:
            raise refusal
        return _number_of(spec, told) if spec.is_planned_with else 0.0
    if spec.sort is Sort.WORDS:
        if not spec.low <= len(told) <= spec.high or not told.isprintable():
            raise refusal
        return 0.0
    if spec.sort is Sort.MONEY:
        value = float(told.replace(",", ".")) if _MONEY.fullmatch(told) else math.nan
    else:
        value = parse(text, field=spec.title, dimension=spec.dimension).value
    slack = 1e-9 * max(abs(spec.low), abs(spec.high))
    if not spec.low - slack <= value <= spec.high + slack:
        raise refusal
    return value


def _number_of(spec: Spec, told: str) -> float:
    """A choice as the planner takes it: its own number, else its place among the words."""
    return float(told) if told[0].isdecimal() else float(spec.allowed.index(told))


def _pair(key: str) -> tuple[str, str] | None:
    """The two settings of which the first may not be above the second, this one of them."""
    for pair in (("drop_good_below", "drop_out_above"), ("surprise_close", "surprise_out")):
        if key in pair:
            return pair
    for way in ("least_", "wanted_"):
        kind = key.removeprefix(way)
        if kind != key and kind.count("_") == 1 and kind.split("_")[0] in ("aluminium", "iron"):
            return f"least_{kind}", f"wanted_{kind}"
    return None


def _refuse_crossed(bench: Bench, spec: Spec, text: str, value: float) -> None:
    """A least above what is wanted, or a good above an out, would judge everything wrong."""
    pair = _pair(spec.key)
    if pair is None:
        return
    other = setting(bench, pair[1] if spec.key == pair[0] else pair[0])
    against = checked(other.spec, other.text)
    if spec.key == pair[0] and value > against:
        allowed = f"at most {other.text}, which stands for {other.spec.title}"
    elif spec.key == pair[1] and value < against:
        allowed = f"at least {other.text}, which stands for {other.spec.title}"
    else:
        return
    raise InputError(spec.title, text, "", allowed, "Set the other one first.")


def shop_of(texts: Mapping[str, str], instruments: tuple[Instrument, ...] = ()) -> Shop:
    """The shop as the planner sees it, from what was set; pure.

    Parameters
    ----------
    texts : Mapping[str, str]
        Key and text of what the shop has set; a text that can no longer be taken leaves
        the default in its place.
    instruments : tuple[Instrument, ...]
        The shop's gauges.

    Returns
    -------
    Shop
        The frozen snapshot.
    """
    chosen = []
    for spec in specs():
        if not spec.is_planned_with or spec.key not in texts:
            continue
        try:
            value = checked(spec, texts[spec.key])
        except SleevewrightError:
            continue
        chosen.append(ShopDefault(spec.key, value, texts[spec.key].strip()))
    most = [one.value for one in chosen if one.name == "least_chance_most"]
    planned = Settings(least_chance_most=most[0]) if most else Settings()
    return Shop(settings=planned, chosen=tuple(chosen), instruments=instruments)


def shop_of_bench(bench: Bench) -> Shop:
    """The shop of this bench, with its gauges."""
    from sleevewright.services.instruments import planned_instruments
    from sleevewright.services.learned import standing
    from sleevewright.services.own_drops import standing_drops

    texts = {key: told[0] for key, told in bench.store.read(_rows).items()}
    shop = shop_of(texts, planned_instruments(bench))
    return replace(shop, posteriors=standing(bench) + standing_drops(bench))


def units_of(bench: Bench) -> str:
    """What new jobs and the pages speak in: ``inch`` or ``metric``."""
    return setting(bench, "units").text


def price_rates(bench: Bench) -> PriceRates:
    """Rates that quotes and invoices are reckoned with."""
    texts = {row.spec.key: row.text for row in settings(bench)}
    hour, risk, tax, deposit = (
        checked(spec_of(f"price_{key}"), texts[f"price_{key}"])
        for key in ("hour", "risk", "tax", "deposit")
    )
    return PriceRates(hour, risk, tax, deposit, texts["price_currency"])


def _row(spec: Spec, own: tuple[str, str, str] | None) -> SettingRow:
    """The setting with what was set; with the default where that can no longer be taken."""
    if own is None:
        return SettingRow(spec, spec.text, is_own=False)
    text, said, person = own
    try:
        checked(spec, text)
    except SleevewrightError as refused:
        return SettingRow(spec, spec.text, False, said, person, str(refused))
    return SettingRow(spec, text, True, said, person)


def _rows(connection: Connection) -> dict[str, tuple[str, str, str]]:
    rows = connection.execute(select(setting_table)).all()
    return {row.key: (row.value, row.said, row.person or "") for row in rows}
