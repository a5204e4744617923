"""The ``sleevewright`` command: its name, its help and where each command stands."""

from __future__ import annotations

import click

from sleevewright import __version__
from sleevewright.cli.shell import LazyCommands, Shell

COMMANDS = LazyCommands(
    {
        "plan": "sleevewright.cli.plan:plan",
        "quick": "sleevewright.cli.quick:quick",
        "roughness": "sleevewright.cli.roughness:roughness",
        "rubbing": "sleevewright.cli.rubbing:rubbing",
        "serve": "sleevewright.cli.serve:serve",
        "job": "sleevewright.cli.job:job",
        "backup": "sleevewright.cli.backup:backup",
        "export": "sleevewright.cli.exchange:export_one",
        "import": "sleevewright.cli.exchange:import_one",
        "wrap": "sleevewright.cli.wrap:wrap",
        "outlines": "sleevewright.cli.outlines:outlines",
        "learned": "sleevewright.cli.learned:learned",
        "journal": "sleevewright.cli.journal:journal",
        "materials": "sleevewright.cli.lists:materials",
        "schema": "sleevewright.cli.lists:schema",
        "evidence": "sleevewright.cli.evidence:evidence",
    }
)


@click.group(cls=Shell, commands=COMMANDS)
@click.version_option(__version__, prog_name="sleevewright", help="Show the version and leave.")
def main() -> None:
    """Plan, prove and record the re-sleeving of engine cylinders.

    \b
    Exit codes: 0 done, 1 a verdict is out, 2 the input cannot be used.

    \b
    Example:
      sleevewright quick grip sleeve_od=2.480in parent_bore=2.4768in \\
          casting=aluminium-356 sleeve=grey-iron
    """
