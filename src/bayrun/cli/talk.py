"""How the command line speaks: progress and words on stderr, results on stdout."""

from __future__ import annotations

import sys
import time

import click


class Told:
    """Progress on stderr: a line that renews itself on a terminal, now and then a line elsewhere."""

    def __init__(self, quiet: bool = False) -> None:
        """``quiet`` says nothing at all."""
        self.quiet = quiet
        self.live = sys.stderr.isatty()
        self.last = time.monotonic()

    def __call__(self, what: str, done: int, total: int) -> None:
        """Say how far the work is."""
        if self.quiet:
            return
        words = f"{what} {done} of {total}" if total > 1 else what
        now = time.monotonic()
        if self.live:
            click.echo(f"\r\x1b[K{words}", err=True, nl=False)
            self.last = now
        elif now - self.last > 1.0:
            click.echo(words, err=True)
            self.last = now

    def done(self, words: str) -> None:
        """Close the progress line with a sentence."""
        if self.live and not self.quiet:
            click.echo("\r\x1b[K", err=True, nl=False)
        click.echo(words, err=True)


def refuse(command: str, says: str) -> SystemExit:
    """Bad input: one clear message on stderr, exit 2."""
    click.echo(f"bayrun {command}: {says}", err=True)
    return SystemExit(2)
