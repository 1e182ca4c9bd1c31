"""The command line: arguments to api to exit status. The only package that prints.

Exit status: 0 done, 1 `check` found what stops the build, 2 bad input or a result that could not be
written, 3 a failure of the program's own, 130 stopped by the user.
"""

from __future__ import annotations

import os
import sys
import traceback
from typing import Any, NoReturn

import click

from mockup import __version__
from mockup.cli import (
    arrange,
    beside,
    built,
    cache,
    calibrate,
    check,
    compare,
    help,
    pack,
    project,
    shortcut,
    streams,
    view,
    which,
)
from mockup.cli.output import output_command
from mockup.model.errors import DEBUG, Fault, InputError, MockupError, nearest, shortened
from mockup.model.text import printable
from mockup.outputs import OUTPUTS

DEBUG_FLAG = "--debug"


class _Commands(click.Group):
    """Fixed commands plus one command per output plug-in, loaded when it is asked for."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:  # before click says an empty line about it
            print("stopped; nothing was written", file=sys.stderr)
            ctx.exit(130)

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted({*super().list_commands(ctx), *OUTPUTS.names()})

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        fixed = super().get_command(ctx, cmd_name)
        if fixed is not None or cmd_name not in OUTPUTS.names():
            return fixed
        return output_command(cmd_name)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and not args[0].startswith("-") and args[0] not in self.list_commands(ctx):
            raise InputError(
                Fault(
                    file="mockup",
                    what=f"there is no command {args[0]!r}",
                    remedy=nearest(args[0], self.list_commands(ctx)),
                )
            )
        return super().resolve_command(ctx, args)


@click.group(
    cls=_Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, message="mockup %(version)s")
@click.option(DEBUG_FLAG, is_flag=True, expose_value=False, help="Show where in the program something went wrong.")
@click.pass_context
def cli(context: click.Context) -> None:
    """See the pedal before you drill it.

    Alone it opens the window. Without one, start with: mockup new tidewater, then: mockup still tidewater/layout.toml
    """
    if context.invoked_subcommand is None:
        from mockup.window.start import run

        run(None)


for _command in (
    project.new,
    project.demo,
    project.schema,
    project.parts,
    check.check,
    arrange.arrange,
    help.manual_page,
    cache.cache,
    compare.compare,
    beside.beside,
    calibrate.calibrate,
    pack.pack,
    pack.unpack,
    view.view,
    shortcut.shortcut,
    which.which,
    built.built,
):
    cli.add_command(_command)


def main() -> NoReturn:
    """Run the command line; one line per mistake on standard error, never a traceback."""
    if DEBUG_FLAG in sys.argv:
        os.environ[DEBUG] = "1"
        sys.argv = [word for word in sys.argv if word != DEBUG_FLAG]
    streams.settle()
    status = _status()
    why = streams.fault()
    if why:
        status = _told(f"the output cannot be written ({why})", 2)
    sys.exit(status)


def _status() -> int:
    """Run the command and return its exit status; whatever went wrong has been told."""
    try:
        status = cli.main(prog_name="mockup", standalone_mode=False)
        return status if isinstance(status, int) else 0
    except MockupError as error:
        text = "\n".join(error.lines) + (f"; {error.typed}" if error.typed else "")
        return _told(text, 2, error)
    except click.exceptions.Exit as error:
        return error.exit_code
    except click.UsageError as error:
        asked = f" (see: {error.ctx.command_path} --help)" if error.ctx else ""
        return _told(f"{error.format_message()}{asked}", 2, error)
    except click.ClickException as error:
        return _told(error.format_message(), 2, error)
    except (KeyboardInterrupt, click.Abort):
        print("stopped; nothing was written", file=sys.stderr)
        return 130
    except MemoryError as error:
        return _told("out of memory; try a smaller --size or smaller art", 2, error)
    except Exception as error:  # a failure of our own, of whatever kind
        from mockup import failure

        return _told(failure.noted(error), failure.STATUS)


def _told(text: str, status: int, error: BaseException | None = None) -> int:
    """Say what is wrong, a line for each mistake, and return the exit status."""
    if sys.stderr is None:  # opened from a menu on Windows: nobody would read it
        from mockup.window.shell.native_dialogs import alert

        alert("mockup", text)
        return status
    if error is not None and os.environ.get(DEBUG):
        traceback.print_exception(error)
    print("\n".join(f"mockup: {shortened(printable(line))}" for line in text.split("\n")), file=sys.stderr)
    return status
