"""How the command line speaks: progress and words on stderr, results on stdout."""

from __future__ import annotations

import json
import shlex
import sys
import time
from pathlib import Path
from typing import Any

import click

FIRST_S, NEXT_S = 0.5, 1.0
"""Where no terminal shows a line that renews itself: seconds before the first line, then between lines."""


class Told:
    """Progress on stderr: a line that renews itself on a terminal, now and then a line elsewhere."""

    def __init__(self, quiet: bool = False) -> None:
        """``quiet`` leaves progress out; the closing sentence is still said."""
        self.quiet = quiet
        self.live = sys.stderr.isatty()
        self.next = time.monotonic() + FIRST_S

    def __call__(self, what: str, done: int, total: int) -> None:
        """Say what is being done, and how far it is where it is counted."""
        if self.quiet:
            return
        words = f"{what} {done} of {total}" if total > 1 else f"{what} …"
        now = time.monotonic()
        if self.live:
            click.echo(f"\r\x1b[K{words}", err=True, nl=False)
        elif now > self.next:
            click.echo(words, err=True)
            self.next = now + NEXT_S

    def done(self, words: str) -> None:
        """Close the progress line with a sentence."""
        if self.live and not self.quiet:
            click.echo("\r\x1b[K", err=True, nl=False)
        click.echo(words, err=True)


def refuse(command: str, says: str) -> SystemExit:
    """Bad input: one clear message on stderr, exit 2."""
    if sys.stderr.isatty():
        click.echo("\r\x1b[K", err=True, nl=False)  # the progress line, where one stands
    click.echo(f"bayrun {command}: {says}", err=True)
    return SystemExit(2)


def print_json(data: Any, *, sort_keys: bool = False) -> None:
    """Print data as JSON on standard output; letters past ASCII are escaped where stdout cannot hold them."""
    utf8 = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    click.echo(json.dumps(data, indent=2, sort_keys=sort_keys, ensure_ascii=not utf8))


def typed(path: Path) -> str:
    """A path as it must be typed: quoted where a shell would part it."""
    return shlex.quote(str(path))


def reason(error: OSError) -> str:
    """Why the system refused, as the end of a sentence."""
    return (error.strerror or str(error)).lower()
