"""Clauses of codes and standards as data: one record per clause, as the adopted edition has it.

The figures stand in ``clauses.toml`` with where each was read. Here they are only read and chosen by
edition; a change of edition changes only the clauses whose table says that they differ.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from bayrun.findings import Source

if TYPE_CHECKING:
    from bayrun.tables.amendments import Amendment


class EditionError(ValueError):
    """A code or an edition that the tables do not hold; the message lists what is known."""


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause as one edition has it.

    Args:
        slug: Our name of it, e.g. ``stud-bore``.
        document, edition, number: Where it stands in print.
        title: What it asks, in words of our own.
        values: (name, exact figure) pairs; lengths in inches.
        confirmed: ``confirmed``, ``from memory`` or ``practice``.
        proof: What was read, or what was not.
        life_safety: Structure, fire, shock: a finding under it is always a stop.
        amended: How local amendments changed it, one sentence each.
    """

    slug: str
    document: str
    edition: str
    number: str
    title: str
    values: tuple[tuple[str, Fraction], ...]
    confirmed: str
    proof: str
    life_safety: bool
    amended: tuple[str, ...] = ()

    def value(self, name: str) -> Fraction:
        """The exact figure of this name; KeyError where the clause has none."""
        return dict(self.values)[name]

    @property
    def source(self) -> Source:
        """Where it stands, for a finding."""
        number = f"{self.number} as amended here".strip() if self.amended else self.number
        return Source(self.document, self.edition, number, self.confirmed)

    @property
    def to_verify(self) -> bool:
        """True where nobody read the figure in the book: never a pass by itself."""
        return self.confirmed == "from memory"


@dataclass(frozen=True, slots=True)
class Adopted:
    """The clauses in force on a job.

    Args:
        editions: (document, edition) pairs in force.
        clauses: Every clause as its document's edition has it.
        unknown: (document, edition asked for, edition used instead) where the tables lack the adopted one.
        amendments: Local ones in force; one for another edition is left out.
    """

    editions: tuple[tuple[str, str], ...]
    clauses: tuple[Clause, ...]
    unknown: tuple[tuple[str, str, str], ...] = ()
    amendments: tuple[Amendment, ...] = ()

    def clause(self, slug: str) -> Clause:
        """The clause of this slug; KeyError where there is none."""
        for clause in self.clauses:
            if clause.slug == slug:
                return clause
        raise KeyError(slug)

    def value(self, slug: str, name: str) -> Fraction:
        """One exact figure of one clause."""
        return self.clause(slug).value(name)


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("bayrun.tables").joinpath("clauses.toml").read_text(encoding="utf-8"))


@cache
def known_editions() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each document that has editions, with those the tables hold, old to new."""
    return tuple((name, tuple(row["editions"])) for name, row in _table()["documents"].items())


def _clause(slug: str, editions: dict[str, str]) -> Clause:
    row = _table()["clauses"][slug]
    edition = editions.get(row["document"], "")
    differs = row.get("edition", {}).get(edition, {})
    values = {**row["values"], **differs.get("values", {})}
    return Clause(
        slug=slug,
        document=row["document"],
        edition=edition,
        number=differs.get("number", row["number"]),
        title=differs.get("title", row["title"]),
        values=tuple((name, Fraction(value)) for name, value in values.items()),
        confirmed=differs.get("confirmed", row["confirmed"]),
        proof=differs.get("proof", row["proof"]),
        life_safety=row["life_safety"],
    )


@dataclass(frozen=True, slots=True)
class Figures:
    """One clause in every edition, for whoever compares them.

    Args:
        document, number, life_safety: As the clause has them.
        values: Edition (empty where the document has none) to name to figure.
        stricter: Name to ``less`` or ``more``: which way the figure grows stricter.
    """

    document: str
    number: str
    life_safety: bool
    values: dict[str, dict[str, Fraction]]
    stricter: dict[str, str]


def clause_slugs() -> tuple[str, ...]:
    """The slug of every clause, in the order of the table."""
    return tuple(_table()["clauses"])


def figures_of(slug: str) -> Figures | None:
    """One clause's figures in every edition; None where there is no such clause."""
    row = _table()["clauses"].get(slug)
    if row is None:
        return None
    document = row["document"]
    years = dict(known_editions()).get(document, ("",))
    values = {year: dict(_clause(slug, {document: year}).values) for year in years}
    return Figures(document, row["number"], row["life_safety"], values, dict(row.get("stricter", {})))


@cache
def _adopted(
    chosen: tuple[tuple[str, str], ...],
    unknown: tuple[tuple[str, str, str], ...] = (),
    amendments: tuple[Amendment, ...] = (),
) -> Adopted:
    clauses = tuple(_clause(slug, dict(chosen)) for slug in _table()["clauses"])
    editions = {clause.slug: clause.edition for clause in clauses}
    ours = tuple(a for a in amendments if a.edition in ("", editions[a.clause]))
    return Adopted(chosen, tuple(_amend(clause, ours) for clause in clauses), unknown, ours)


def _amend(clause: Clause, amendments: tuple[Amendment, ...]) -> Clause:
    """The clause with local figures; one that loosens was read by none of us, so it is to be verified.

    An amendment for one edition goes before one for all.
    """
    values, said, confirmed = dict(clause.values), [], clause.confirmed
    for one in sorted((a for a in amendments if a.clause == clause.slug), key=lambda a: a.edition):
        if values[one.name] == one.figure:
            continue
        why = f": {one.why}" if one.why else ""
        said.append(f"{one.name} {one.figure} instead of {values[one.name]} by {one.who}, {one.date}{why}")
        values[one.name] = one.figure
        if one.loosens() and confirmed == "confirmed":
            confirmed = "from memory"
    if not said:
        return clause
    return replace(clause, values=tuple(values.items()), confirmed=confirmed, amended=tuple(said))


def adopt(editions: tuple[tuple[str, str], ...] = (), amendments: tuple[Amendment, ...] = ()) -> Adopted:
    """The clauses of the editions a jurisdiction adopted.

    Args:
        editions: (document, edition) pairs, e.g. ``(("IRC", "2021"), ("NEC", "2020"))``. A document that is
            not named takes the middle one of its known editions, as most places lag the newest book.
        amendments: Local ones, as ``read_amendments`` gives them.
    Raises:
        EditionError: A document or an edition is not in the tables; every one of them is named at once.
        AmendmentError: An amendment cannot be used, or loosens a safety rule without a reason.
    """
    _refuse_bad(amendments)
    known, wrong = dict(known_editions()), []
    for document, edition in editions:
        if document not in known:
            wrong.append(f"code: expected one of {', '.join(known)}, got {document!r}")
        elif edition not in known[document]:
            wrong.append(
                f"edition of {document}: expected one of {', '.join(known[document])}, got {edition!r}"
            )
    if wrong:
        raise EditionError("; ".join(wrong))
    asked = dict(editions)
    chosen = tuple((doc, asked.get(doc, years[len(years) // 2])) for doc, years in known.items())
    return _adopted(chosen, (), amendments)


def _refuse_bad(amendments: tuple[Amendment, ...]) -> None:
    from bayrun.tables.amendments import AmendmentError, check_amendments

    defects = check_amendments(amendments)
    if defects:
        raise AmendmentError("\n".join(defects))


def adopt_careful(editions: tuple[tuple[str, str], ...], amendments: tuple[Amendment, ...] = ()) -> Adopted:
    """As ``adopt``, but an edition the tables lack gives the newest known one, and ``unknown`` tells so.

    For a plan: it must still be checked, and a rule then says "cannot tell" about the edition itself.

    Raises:
        AmendmentError: An amendment cannot be used, or loosens a safety rule without a reason.
    """
    _refuse_bad(amendments)
    known, chosen, unknown = dict(known_editions()), [], []
    for document, edition in editions:
        if document not in known:
            continue
        if edition in known[document]:
            chosen.append((document, edition))
        else:
            chosen.append((document, known[document][-1]))
            unknown.append((document, edition, known[document][-1]))
    return _adopted(adopt(tuple(chosen)).editions, tuple(unknown), amendments)
