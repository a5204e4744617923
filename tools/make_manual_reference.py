"""Write the reference pages of the manual from the code, as Markdown.

``reference_pages()`` gives name and text of each page; the manual's build writes them into
``docs/reference/made`` before it reads anything, so that they cannot be stale.  Run as a
script it prints what it would write, or writes into the folder that is named.
"""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
import re
import sys
from collections.abc import Callable, Iterable
from functools import cache
from itertools import groupby
from pathlib import Path
from tempfile import TemporaryDirectory

import sleevewright
from error_examples import ERROR_EXAMPLES
from reference_tables import cell, slug, source_links, table
from sleevewright import errors
from sleevewright.core.formulas import Formula, all_formulas
from sleevewright.core.materials import defaults, material, material_names
from sleevewright.evidence.report import Outcome
from sleevewright.evidence.words import cases_words, share_words, summary_lines, worst_words
from sleevewright.jobs.life import LIFE
from sleevewright.planning.answers import Answer, Kind, Plan
from sleevewright.planning.shop import Settings
from sleevewright.services.bench import opened
from sleevewright.services.demo import seed, tell
from sleevewright.services.evidence import evidence_report
from sleevewright.services.good_fits import with_range
from sleevewright.services.jobs import look
from sleevewright.services.plans import plan_file
from sleevewright.services.settings import shop_of_bench
from stage_reference import shop_rows, stages_page

ROOT = Path(__file__).resolve().parents[1]
CORE = "sleevewright.core."

METALS = """\
Names for `material` in a job file and for `casting` and `sleeve` in a quick answer. Any
constant can be overridden where it is used. Values marked *from memory* are the first that
should be replaced by something read.
"""
DEFAULTS = """\
What is taken where a job says nothing. Each use shows it as *assumed*, and it can be changed
where it stands. The doubt is one standard deviation, of the natural logarithm where the
spread is lognormal.
"""
SHOP = """\
What the page *Settings* offers. Where a setting stands in the place of a default above, it has
the default's name; a job goes before a setting, a setting before what the tool brings.
"""
ANSWERS = """\
Names, in the order of the route, as they stand in the JSON of `sleevewright plan FILE --json`
and of *Plan as data* on the page of a job; what rests on records of the bench stands in the
latter alone. A value that cannot be computed yet is `null`, and `needs` lists what to give.
Of a port, the name that the job gives it stands in place of `NAME`.
"""
ERRORS = """\
What the tool refuses says what was wrong, the value with its unit, what is allowed and what
to do next. On the command line that is one line and exit code 2; exit code 1 means that the
plan was made and a verdict in it is *out*.
"""
EVIDENCE = """\
Each published check, run again when this page was built. `sleevewright evidence` runs them
anywhere. The tolerance is half of the last printed digit; where it is more, *because* says
why. *Over tolerance* is the worst error divided by the tolerance; above 1 a check has failed. A
check whose number was derived here is shown, and does not count as one from outside.
"""


def reference_pages() -> dict[str, str]:
    """Every page that is made from the code, by name."""
    return {name: page() for name, page in makers().items()}


def makers() -> dict[str, Callable[[], str]]:
    """What makes each page."""
    return {
        "formulas": formulas_page,
        "materials": materials_page,
        "settings": settings_page,
        "stages": stages_page,
        "answers": answers_page,
        "errors": errors_page,
        "evidence": evidence_page,
    }


def write_reference(folder: Path) -> None:
    """Write the pages, touching only those that differ so that the build stays quick."""
    folder.mkdir(parents=True, exist_ok=True)
    pages = reference_pages()
    for name, text in pages.items():
        path = folder / f"{name}.md"
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8")
    for path in folder.glob("*.md"):
        if path.stem not in pages:
            path.unlink()


def formulas_page() -> str:
    """Every relation of the core, by the part that it belongs to."""
    parts = ["# Register of formulas\n"]
    formulas = sorted(all_formulas(), key=lambda f: f.function)
    parts.append(
        f"{len(formulas)} relations, as the code declares them. Each answer of a plan names one "
        "of them; [the evidence](evidence.md) says what each was checked against.\n"
    )
    for module, members in groupby(formulas, key=lambda f: f.function.rpartition(".")[0]):
        about = (importlib.import_module(module).__doc__ or "").strip().splitlines()[0]
        parts.append(f"## {module.removeprefix(CORE)}\n\n{about}\n")
        parts += [formula_entry(member) for member in members]
    return "\n".join(parts)


def formula_entry(formula: Formula) -> str:
    """One relation: name, expression, unit, range, sources, place in the code."""
    head = ("relation", f"`{cell(formula.expression)}`")
    rows = (
        ("unit", formula.unit),
        ("holds for", formula.validity),
        ("sources", source_links(formula.sources)),
        ("in the code", f"`{formula.function.removeprefix(CORE)}`"),
    )
    return f"### {formula.name}\n\n" + table(head, rows)


def materials_page() -> str:
    """Every metal with each of its values, its source and whether it is from memory."""
    parts = [
        "# Metals\n",
        METALS,
    ]
    parts += [material_entry(name) for name in material_names()]
    return "\n".join(parts)


def material_entry(name: str) -> str:
    """One metal: every cell of its table."""
    metal = material(name)
    law = metal.expansion
    breaks = "cracks without yielding" if metal.is_brittle else "yields"
    head = (
        f"## {name}\n\n{metal.title}; {metal.temper or 'any temper'}; {breaks}. {metal.note}\n\n"
        f"Mean expansion from 20 °C to T: {law.reference * 1e6:.4g} + {law.slope * 1e6:.4g} "
        f"(T - 20 °C) µm/(m·K), covered from {law.low - 273.15:.0f} to {law.high - 273.15:.0f} °C, "
        f"known to {metal.expansion_doubt:.1%} (1 sd).\n"
    )
    rows = [
        (
            one.property.replace("_", " "),
            "" if one.temperature is None else f"{one.temperature - 273.15:.0f} °C",
            f"{one.value:.5g} {unit_of(one.unit)}".strip(),
            f"{one.low:.4g} to {one.high:.4g}",
            one.stated,
            source_links([one.source]),
            EVIDENCE_WORDS[one.evidence],
            one.note,
        )
        for one in metal.cells
    ]
    names = ("property", "at", "value, SI", "range", "as printed", "source", "how", "note")
    return head + "\n" + table(names, rows)


EVIDENCE_WORDS = {
    "read": "read",
    "memory": "**from memory**",
    "derived": "derived here",
    "practice": "common practice",
}
"""How a value was come by, in words."""


def unit_of(unit: str) -> str:
    """An SI unit, without the one of a ratio."""
    return "" if unit == "1" else unit


def settings_page() -> str:
    """Defaults of the tool and settings of the shop."""
    rows = [
        (
            f"`{one.name}`",
            one.stated,
            f"{one.value:.6g} {unit_of(one.unit)}".strip(),
            f"{one.low:.4g} to {one.high:.4g}",
            f"{one.doubt:.3g}, {one.spread}" if one.doubt else "",
            one.note,
            source_links([one.source]),
            EVIDENCE_WORDS[one.evidence],
        )
        for one in defaults()
    ]
    shop = [
        (f"`{field.name}`", f"{field.default:,}".replace(",", " "), SETTINGS[field.name])
        for field in dataclasses.fields(Settings)
    ]
    head = ("name", "default", "SI", "usual range", "doubt, SI", "what it is", "source", "how")
    return "\n".join(
        [
            "# Settings and defaults\n",
            DEFAULTS,
            table(head, rows),
            "## Settings of the shop\n",
            SHOP,
            table(("key", "setting", "what it decides", "without it", "taken"), shop_rows()),
            "## How samples are drawn\n",
            table(("name", "default", "what it is"), shop),
        ]
    )


SETTINGS = {
    "budget_samples": "Samples behind each doubt that is sampled.",
    "drop_samples": "Drops that are sampled for the seconds.",
    "seed": "Fixed seed of every random stream: the same job gives the same figures.",
    "least_chance_most": "Chance of less than the least interference that is still let pass.",
}
"""What each setting of the shop is; a test holds it against the record."""


def answers_page() -> str:
    """Every answer that a plan can hold, as the worked jobs show them."""
    plans = example_plans()
    parts = [
        "# Answers of a plan\n",
        ANSWERS,
    ]
    stages: dict[str, str] = {}
    rows: dict[str, dict[str, tuple[object, ...]]] = {}
    for plan in plans:
        for stage in plan.stages:
            stages.setdefault(stage.key, stage.title)
            for answer in stage.answers:
                name = answer_name(answer.id)
                known = rows.setdefault(stage.key, {})
                if name not in known or answer.basis is not None:
                    known[name] = answer_row(name, answer)
    route = {stage.key: place for place, stage in enumerate(LIFE)}
    for key, title in sorted(stages.items(), key=lambda pair: route.get(pair[0], len(route))):
        parts.append(f"## {title}\n\nStage `{key}`.\n")
        parts.append(table(("answer", "what it is", "quantity", "found by"), rows[key].values()))
    return "\n".join(parts)


def answer_name(identity: str) -> str:
    """An answer's name with a port's own name taken out."""
    return re.sub(r"^ports\.[^.]+\.", "ports.NAME.", identity)


def answer_row(name: str, answer: Answer) -> tuple[object, ...]:
    """One answer: its name, what it is called, its quantity, its relation."""
    basis = answer.basis
    if basis is None:
        found = answer.kind.value if answer.kind is not Kind.COMPUTED else ""
    elif basis.function not in {formula.function for formula in all_formulas()}:
        found = basis.name  # a record that is only put together
    else:
        found = f"[{basis.name}](formulas.md#{slug(basis.name)})"
    quantity = ", ".join(part for part in (answer.quantity.value, answer.sense) if part)
    return f"`{name}`", answer.label, quantity, found


@cache
def example_plans() -> tuple[Plan, ...]:
    """Plans of the worked jobs: as their files tell them, and as they stand on the bench."""
    plans = [plan_file(path) for path in sorted((ROOT / "examples").glob("*.toml"))]
    with TemporaryDirectory() as folder, opened(Path(folder)) as bench:
        for number in seed(bench, ROOT / "examples"):
            tell(bench, number, TOLD_BESIDE)
            for cylinder in range(1, bench.store.folded(number).cylinders + 1):
                seen, shop = look(bench, number, cylinder), shop_of_bench(bench)
                if seen.plan is not None:
                    plans.append(with_range(seen.plan, seen.living.job, shop))
    return tuple(plans)


TOLD_BESIDE = [
    {"record": "value", "cylinder": 0, "cell": "choice.surface", "text": "iron"},
    {"record": "value", "cylinder": 0, "cell": "choice.wall", "text": "0.120 in"},
    {"record": "value", "cylinder": 0, "cell": "found.score", "text": "6 thou"},
]
"""Told of each worked job, so that the stages of which it says nothing answer as well."""


def errors_page() -> str:
    """Every error class with what it means and how its text reads."""
    parts = [
        "# Errors\n",
        ERRORS,
    ]
    for kind in error_classes():
        said = inspect.getdoc(kind) or ""
        parts.append(f"## {kind.__name__}\n\n{said}\n")
        if kind in ERROR_EXAMPLES:
            parts.append(f"Reads, for example:\n\n> {ERROR_EXAMPLES[kind]()}\n")
    return "\n".join(parts)


def error_classes() -> list[type[errors.SleevewrightError]]:
    """The base and all its children, wherever they are defined."""
    for module in pkgutil.walk_packages(sleevewright.__path__, "sleevewright."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    found: list[type[errors.SleevewrightError]] = []
    waiting = [errors.SleevewrightError]
    while waiting:
        kind = waiting.pop(0)
        found.append(kind)
        waiting += sorted(kind.__subclasses__(), key=lambda child: child.__name__)
    return found


CASE_COLUMNS = ("check", "what", "source", "published", "computed", "unit", "tolerance", "because")


def case_rows(outcomes: Iterable[Outcome]) -> list[tuple[object, ...]]:
    """Every check as a row."""
    return [
        (
            outcome.case.id,
            outcome.case.title,
            f"{source_links([outcome.case.source])}, {outcome.case.place}",
            f"{outcome.case.published:.8g}",
            f"{outcome.computed:.8g}",
            outcome.case.unit,
            f"{outcome.case.tolerance:.3g}",
            outcome.case.because,
        )
        for outcome in outcomes
    ]


def evidence_page() -> str:
    """The evidence, formula by formula, run at this build."""
    report = evidence_report()
    rows = [
        (
            f"[{row.formula.name}](formulas.md#{slug(row.formula.name)})",
            source_links(row.formula.sources),
            row.formula.validity,
            cases_words(row),
            worst_words(row),
            share_words(row),
            row.change,
        )
        for row in report.rows
    ]
    head = ("formula", "sources", "holds for", "checks", "worst error", "over tolerance", "change")
    told = "\n".join(f"- {line.strip()}" for line in summary_lines(report)[:3])
    count = len(report.unchecked)
    return "\n".join(
        [
            "# Evidence\n",
            EVIDENCE,
            told,
            f"- {count} of {len(report.rows)} formulas have no check from outside: *none*.\n",
            "## By formula\n",
            table(head, rows),
            "## Every check\n",
            table(CASE_COLUMNS, case_rows(report.outcomes)),
        ]
    )


def main() -> None:
    """Write into the folder that is named, or say what there is."""
    if len(sys.argv) > 1:
        write_reference(Path(sys.argv[1]))
        return
    for name, text in reference_pages().items():
        print(f"{name}: {len(text.splitlines())} lines")


if __name__ == "__main__":
    main()
