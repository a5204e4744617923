"""``sleevewright quick TOPIC name=value ...``: an answer without a job."""

from __future__ import annotations

import click

from sleevewright.cli.output import say, say_json
from sleevewright.cli.shell import LazyCommands, Topics
from sleevewright.services.quick import TOPICS, Topic, quick_document, quick_lines


def _command(topic: Topic) -> click.Command:
    """The command of one topic, its inputs told in its help."""

    def answer(words: tuple[str, ...], as_json: bool) -> None:
        found = topic.answer(words)
        if as_json:
            say_json(quick_document(found))
        else:
            say("\n".join(quick_lines(found)))
        if found.is_out:
            click.get_current_context().exit(1)

    return click.Command(
        topic.name,
        callback=answer,
        params=[
            click.Argument(["words"], nargs=-1, metavar="NAME=VALUE..."),
            click.Option(["--json", "as_json"], is_flag=True, help="Answer as JSON."),
        ],
        help=_help(topic),
        short_help=topic.title,
    )


def _help(topic: Topic) -> str:
    """Title, inputs and a true example, as lines that are not rewrapped."""
    width = max(len(one.name) for one in topic.inputs)
    lines = [f"{topic.title}", "", "\b", "Inputs, each as name=value with its unit:"]
    for one in topic.inputs:
        default = f" Left out: {one.without}." if one.without else ""
        lines.append(f"  {one.name:<{width}}  {one.doc}{default}")
    return "\n".join([*lines, "", "\b", "Example:", f"  {topic.example}"])


def _of(name: str) -> click.Command:
    """The command of the topic of a name."""
    return _command(TOPICS[name])


@click.group(cls=Topics, commands=LazyCommands({name: name for name in TOPICS}, _of))
def quick() -> None:
    """Answer one question without a job.

    \b
    Example:
      sleevewright quick timing stroke=2.700in rod=5.500in depth=1.450in
    """
