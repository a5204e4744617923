"""How commands are found and how refusals are told: one line each, with the cure."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Callable, Iterator, MutableMapping, Sequence
from typing import Any, NoReturn, cast

import click

from sleevewright.cli.output import fitting, say
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.problems import JobFileErrors, nearest

BAD_INPUT = 2
STOPPED = 130
NAME = "sleevewright"


def _imported(place: str) -> click.Command:
    """The command that stands in a module."""
    module, _, attribute = place.partition(":")
    return cast("click.Command", getattr(importlib.import_module(module), attribute))


class LazyCommands(MutableMapping[str, click.Command]):
    """Commands by name, each made when it is wanted: a start costs only what it uses."""

    def __init__(
        self, places: dict[str, str], make: Callable[[str], click.Command] = _imported
    ) -> None:
        self._places = places
        self._make = make
        self._found: dict[str, click.Command] = {}

    def __getitem__(self, name: str) -> click.Command:
        """The command; ``KeyError`` where there is none."""
        if name not in self._found:
            self._found[name] = self._make(self._places[name])
        return self._found[name]

    def __setitem__(self, name: str, command: click.Command) -> None:
        """Keep a command that is there already."""
        self._places.setdefault(name, "")
        self._found[name] = command

    def __delitem__(self, name: str) -> None:
        """Forget a command."""
        del self._places[name]
        self._found.pop(name, None)

    def __iter__(self) -> Iterator[str]:
        """Names in their order, nothing imported."""
        return iter(self._places)

    def __len__(self) -> int:
        """How many commands there are."""
        return len(self._places)


class Topics(click.Group):
    """A group that keeps the order of its commands and names the nearest to a wrong one."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order in which they were written."""
        del ctx
        return list(self.commands)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is meant; an unknown one is refused with the nearest."""
        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            ctx.fail(f"{ctx.command_path} has no {args[0]!r}; {nearest(args[0], self.commands)}")
        return super().resolve_command(ctx, args)


class Shell(Topics):
    """The outermost group: every refusal becomes one line on stderr and an exit code."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """Run, and leave with 0, 1 (a verdict is out) or 2 (bad input)."""
        if not standalone_mode:
            return super().main(args, prog_name, complete_var, standalone_mode=False, **extra)
        _soften_streams()
        try:
            code = super().main(args, NAME, complete_var, standalone_mode=False, **extra)
        except JobFileErrors as refused:
            _leave(refused.lines())
        except SleevewrightError as refused:
            _leave((str(refused),))
        except click.ClickException as refused:
            _leave((_usage(refused),))
        except (click.Abort, KeyboardInterrupt):
            sys.exit(STOPPED)
        except BrokenPipeError:  # the reader of a pipe has seen enough
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(1)
        sys.exit(code if isinstance(code, int) else 0)


def _soften_streams() -> None:
    """Let no sign of a help text or a path stop an old console."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def _leave(lines: Sequence[str]) -> NoReturn:
    """Say what was wrong, one line each, and leave."""
    for line in lines:
        say(f"{NAME}: {' '.join(line.split())}", err=True)
    sys.exit(BAD_INPUT)


def _usage(refused: click.ClickException) -> str:
    """What was wrong with the command itself, and where help stands."""
    told = fitting(refused.format_message(), sys.stderr).rstrip(".")
    context = getattr(refused, "ctx", None)
    path = context.command_path if context is not None else NAME
    stop = "" if told.endswith("?") else "."
    return f"{told}{stop} For help: {path} --help"
