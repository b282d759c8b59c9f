"""From faults to exit statuses and words.

Exit status: 0 done; 2 the input was wrong; 130 stopped by Ctrl-C; 1 a fault of the program itself.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from typing import TextIO

import click

from drills.cli.output import visible
from drills.errors import DrillsError

DONE, FAULT, WRONG_INPUT, STOPPED = 0, 1, 2, 130


def exit_status(work: Callable[[], object]) -> int:
    """Does the work and says how it ended; what went wrong is told on stderr, nothing is raised."""
    try:
        try:
            work()
        except click.exceptions.Exit as stop:
            return stop.exit_code
        finally:
            sys.stdout.flush()
    except BrokenPipeError:  # the reader has seen enough, as in `drills shelf | head -1`
        _drop(sys.stdout)
    except (KeyboardInterrupt, click.Abort):
        _tell("\nstopped")
        return STOPPED
    except (DrillsError, click.ClickException, OSError) as fault:
        _drop_if_closed(sys.stdout)
        _tell(message(_as_drills_error(fault)))
        return WRONG_INPUT
    except Exception:  # noqa: BLE001 (the last door: whatever else happens is our own fault)
        import traceback

        _tell(visible(traceback.format_exc(), keep="\n") + _APOLOGY)
        return FAULT
    return DONE


_APOLOGY = (
    "\nSorry: this is a fault of the program, not yours. Please report the lines above and what you typed."
)


def _tell(words: str) -> None:
    """Says on stderr what went wrong; where nobody reads it, the exit status alone tells."""
    try:
        click.echo(words, err=True)
    except OSError:
        _drop(sys.stderr)


def message(fault: DrillsError) -> str:
    """A fault as people read it: where and what on one line, the mend below it.

    >>> print(message(DrillsError("no note named 'H'", where="--root", mend="use A to G")))
    --root: no note named 'H'
      use A to G
    """
    text = f"{fault.where}: {fault.what}" if fault.where else fault.what
    return visible(f"{text}\n  {fault.mend}" if fault.mend else text, keep="\n")


def _as_drills_error(fault: DrillsError | click.ClickException | OSError) -> DrillsError:
    """The same fault in our own words."""
    if isinstance(fault, DrillsError):
        return fault
    if isinstance(fault, OSError):
        mend = "see that it is there, that you may use it, and that it has room"
        return DrillsError(fault.strerror or str(fault), where=str(fault.filename or "output"), mend=mend)
    context = fault.ctx if isinstance(fault, click.UsageError) else None
    mend = f"see `{context.command_path if context else 'drills'} --help`"
    if isinstance(fault, click.NoSuchOption):
        close = fault.possibilities or ()
        return DrillsError(
            f"no option {fault.option_name!r}", mend=f"did you mean {close[0]}?" if close else mend
        )
    if isinstance(fault, click.MissingParameter) and fault.param:
        return DrillsError(f"{_name_of(fault.param)} is missing", mend=mend)
    if isinstance(fault, click.BadParameter) and fault.param:
        return DrillsError(_clause(fault.message), where=_name_of(fault.param), mend=mend)
    return DrillsError(_clause(fault.format_message()), mend=mend)


def _name_of(parameter: click.Parameter) -> str:
    """A parameter as it is typed."""
    return (
        max(parameter.opts, key=len) if isinstance(parameter, click.Option) else parameter.human_readable_name
    )


def _clause(sentence: str) -> str:
    """A sentence of click's without its capital and full stop."""
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def _drop_if_closed(stream: TextIO) -> None:
    """Lets go of a stream that cannot be written to, such as a full disk."""
    try:
        stream.flush()
    except OSError:
        _drop(stream)


def _drop(stream: TextIO) -> None:
    """Points a stream at nothing, so that closing it at exit does not fail once more."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, stream.fileno())
    os.close(nothing)
