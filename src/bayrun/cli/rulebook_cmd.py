"""``bayrun rulebook``: every rule with its figures, source and worked examples, by the adopted editions."""

from __future__ import annotations

from pathlib import Path

import click

from bayrun.cli.talk import reason, refuse
from bayrun.tables import (
    Adopted,
    Amendment,
    AmendmentError,
    EditionError,
    adopt,
    known_editions,
    read_amendments,
)

_BOOKS = "; ".join(f"{name} {', '.join(years)}" for name, years in known_editions())


@click.command(help="Print the rule book: each rule in words, figures, source, how confirmed, examples.")
@click.option(
    "--edition",
    "editions",
    multiple=True,
    metavar="CODE=YEAR",
    help=f"Adopted edition, e.g. --edition IRC=2021; may be given once per code. Known: {_BOOKS}.",
)
@click.option(
    "--amendments",
    type=click.Path(path_type=Path),
    default=None,
    help="File of local amendments (TOML): its figures are printed instead, with who and why.",
)
@click.option("--rule", default="", metavar="SLUG", help="One rule alone, by the name of a finding.")
@click.option(
    "--pictures",
    type=click.Path(path_type=Path),
    default=None,
    metavar="FOLDER",
    help="Write the small drawings of the limits there (SVG), one for each clause that has one.",
)
def rulebook(editions: tuple[str, ...], amendments: Path | None, rule: str, pictures: Path | None) -> None:
    """Print the rule book."""
    from bayrun.drawings.limit_pictures import captions
    from bayrun.rules.rulebook import rulebook as print_book

    try:
        adopted = adopt(_pairs(editions), () if amendments is None else read_overlay(amendments, "rulebook"))
    except EditionError as error:
        raise refuse("rulebook", f"{error}") from None
    try:
        page = print_book(adopted, rule, captions(adopted))
    except KeyError:
        raise refuse("rulebook", _unknown(rule)) from None
    if pictures is not None:
        _draw(pictures, adopted)
    click.echo(page, nl=False)


def _draw(folder: Path, adopted: Adopted) -> None:
    from bayrun.drawings.limit_pictures import limit_pictures

    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in limit_pictures(adopted):
            (folder / name).write_bytes(data)
    except OSError as error:
        raise refuse("rulebook", f"{folder} cannot be written: {reason(error)}") from None


def _pairs(editions: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    pairs = []
    for said in editions:
        code, sign, year = said.partition("=")
        if not sign or not code.strip() or not year.strip():
            raise refuse("rulebook", f"--edition: expected CODE=YEAR such as IRC=2021, got {said!r}")
        pairs.append((code.strip().upper(), year.strip()))
    twice = sorted({code for code, _ in pairs if [c for c, _ in pairs].count(code) > 1})
    if twice:
        raise refuse("rulebook", f"--edition: expected each code once, got {', '.join(twice)} twice")
    return tuple(pairs)


def read_overlay(path: Path, command: str) -> tuple[Amendment, ...]:
    """The local amendments of a file; what cannot be used is refused with every defect."""
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise refuse(command, f"{path} cannot be read: expected text in UTF-8") from None
    except OSError as error:
        raise refuse(command, f"{path} cannot be read: {reason(error)}") from None
    try:
        return read_amendments(text, str(path))
    except AmendmentError as error:
        raise refuse(command, f"the amendments cannot be used.\n{error}") from None


def _unknown(rule: str) -> str:
    from difflib import get_close_matches

    from bayrun.rules import rule_slugs

    near = get_close_matches(rule, rule_slugs(), 1)
    hint = f" Did you mean {near[0]!r}?" if near else f" Known: {', '.join(rule_slugs())}."
    return f"no rule gives a finding called {rule!r}.{hint}"
