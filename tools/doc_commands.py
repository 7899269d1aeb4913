"""docs/commands.md, from the commands themselves."""

from __future__ import annotations

import inspect
from collections.abc import Iterator

import click
from tools.markdown import MADE, table

from fluewright.cli import main

HEAD = f"""# Commands

{MADE}

`-` in place of FILE reads standard input. Exit status of `judge` and `capacity`: 0, nothing
examined fails or is open; 1, something fails or cannot be told. `draw` and `report` end with 0 once
the file is written, whatever stands in it. Every command: 2, bad usage or a bad file, with one
message per fault.
"""


def commands_page() -> str:
    """Every command with its arguments and options."""
    lines = [HEAD, _help(main), ""]
    lines += list(table(("command", "what it does"), _overview()))
    for name in main.commands:
        lines += ["", *_command(name, main.commands[name])]
    return "\n".join([*lines, ""])


def _overview() -> Iterator[tuple[str, str]]:
    for name, command in main.commands.items():
        yield f"[`{name}`](#fluewright-{name})", _help(command).splitlines()[0]


def _command(name: str, command: click.Command) -> Iterator[str]:
    yield from (f"## fluewright {name}", "", _help(command), "")
    context = click.Context(command, info_name=f"fluewright {name}")
    yield f"    fluewright {name} {' '.join(command.collect_usage_pieces(context))}".rstrip()
    options = [p for p in command.params if isinstance(p, click.Option)]
    if options:
        yield ""
        yield from table(("option", "what it does"), ((_names(o), _what(o)) for o in options))


def _names(option: click.Option) -> str:
    names = ", ".join(f"`{name}`" for name in (*option.opts, *option.secondary_opts))
    if option.is_flag:
        return names
    if isinstance(option.type, click.Choice):
        return f"{names} {' or '.join(f'`{word}`' for word in option.type.choices)}"
    return f"{names} {option.metavar or option.type.name.upper()}"


def _what(option: click.Option) -> str:
    said = [option.help] if option.help else []
    said += ["Needed."] if option.required else []
    said += ["May be given more than once."] if option.multiple else []
    if isinstance(option.default, str):
        said.append(f"Default: `{option.default}`.")
    return " ".join(said)


def _help(command: click.Command) -> str:
    text = inspect.cleandoc(command.help or "").replace("\f", "")
    return "\n\n".join(" ".join(part.split()) for part in text.split("\n\n"))
