"""Local amendments: an overlay over the clauses, each value with who wrote it, why and when.

The overlay is a TOML file of its own, so that the figures of the books stay what they are::

    [[amendment]]
    clause = "stud-bore"       # our name of the clause, as the rule book prints it
    name = "edge_in"           # which of its figures
    value = "3/4"              # a fraction or a number
    who = "building department of the town"
    date = "2026-01-15"
    why = "local ordinance"    # needed where it loosens a safety rule
    edition = "2021"           # left out: every edition
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

from bayrun.tables.clauses import EditionError, clause_slugs, figures_of, known_editions

_KEYS = ("clause", "name", "value", "who", "date", "why", "edition")
_DATE = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])")


class AmendmentError(EditionError):
    """Amendments that cannot be used; the message lists every defect, one a line."""


@dataclass(frozen=True, slots=True)
class Amendment:
    """One figure of one clause, as a jurisdiction or the firm changed it.

    Args:
        clause: Slug of the clause.
        name: Name of the figure.
        value: The figure in force as written, ``3/4`` or ``0.75``; lengths in inches.
        who, date, why: Who set it, since when, for what reason.
        edition: Of the clause's document; empty for every edition.
    """

    clause: str
    name: str
    value: str
    who: str
    date: str
    why: str = ""
    edition: str = ""

    @property
    def figure(self) -> Fraction:
        """The value, exactly; ValueError where it is none."""
        figure = _fraction(self.value)
        if figure is None:
            raise ValueError(f"{self.clause}, {self.name}: {self.value!r} is no figure")
        return figure

    def loosens(self) -> bool:
        """True where a figure of some edition it speaks of grows less strict."""
        found = figures_of(self.clause)
        assert found is not None
        years = [self.edition] if self.edition else list(found.values)
        stricter = found.stricter.get(self.name)
        if stricter is None:  # nobody said which way is the careful one
            return any(found.values[year][self.name] != self.figure for year in years)
        return any(
            (self.figure > found.values[year][self.name])
            if stricter == "less"
            else (self.figure < found.values[year][self.name])
            for year in years
        )


def read_amendments(text: str, name: str = "amendments") -> tuple[Amendment, ...]:
    """Read an overlay.

    Args:
        text: TOML, as shown at this module's head.
        name: What the file is called in messages.
    Raises:
        AmendmentError: It is no TOML, or a row cannot be used; every defect is told at once.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise AmendmentError(f"{name}: expected TOML, got text that breaks off: {error}") from None
    rows = data.get("amendment")
    extra = sorted(set(data) - {"amendment"})
    if extra or not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        got = ", ".join(extra) or ("nothing" if rows is None else "something else")
        raise AmendmentError(f"{name}: expected tables named [[amendment]], got {got}")
    made: list[Amendment] = []
    defects: list[str] = []
    for number, row in enumerate(rows, 1):
        where = f"{name}, amendment {number}"
        read = _read(row, where, defects)
        if read is not None:
            made.append(read)
    seen: set[tuple[str, str, str]] = set()
    for one in made:
        key = (one.clause, one.name, one.edition)
        if key in seen:
            defects.append(f"{name}: {one.name} of {one.clause} is amended twice: expected once")
        seen.add(key)
    if not defects:
        defects += [f"{name}: {line}" for line in check_amendments(tuple(made))]
    if defects:
        raise AmendmentError("\n".join(defects))
    return tuple(made)


def _read(row: dict[str, object], where: str, defects: list[str]) -> Amendment | None:
    before = len(defects)
    for key in sorted(set(row) - set(_KEYS)):
        defects.append(f"{where}: expected one of {', '.join(_KEYS)}, got {key!r}{_near(key, _KEYS)}")
    texts = {key: row.get(key, "") for key in _KEYS if key != "value"}
    for key, said in texts.items():
        if key == "date" and said != "":
            texts[key] = said = str(said)  # TOML has dates of its own
        if not isinstance(said, str):
            defects.append(f"{where}, {key}: expected text in quotes, got {said!r}")
        elif not said.strip() and key in ("clause", "name", "who", "date"):
            defects.append(f"{where}: {key} is missing")
    if _fraction(row.get("value")) is None:
        got = "nothing" if "value" not in row else repr(row["value"])
        defects.append(f"{where}, value: {_FIGURE}, got {got}")
    if len(defects) > before:
        return None
    said_of = {key: str(said).strip() for key, said in texts.items()}
    return Amendment(value=str(row["value"]).strip(), **said_of)


_FIGURE = 'expected a number or a fraction such as "3/4"'


def _fraction(value: object) -> Fraction | None:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return None
    try:
        return Fraction(str(value).strip())
    except (ValueError, ZeroDivisionError):
        return None


def check_amendments(amendments: tuple[Amendment, ...]) -> tuple[str, ...]:
    """Every reason why some amendments cannot be used, in their order; empty where they can."""
    known = dict(known_editions())
    defects: list[str] = []
    for one in amendments:
        found = figures_of(one.clause)
        if found is None:
            near = _near(one.clause, clause_slugs())
            defects.append(f"no clause is called {one.clause!r}{near}")
            continue
        if _fraction(one.value) is None:
            defects.append(f"{one.clause}, value: {_FIGURE}, got {one.value!r}")
            continue
        names = tuple(next(iter(found.values.values())))
        if one.name not in names:
            expected = f"one of {', '.join(names)}" if names else "nothing: it has no figures"
            defects.append(f"{one.clause}: expected {expected}, got {one.name!r}{_near(one.name, names)}")
            continue
        years = known.get(found.document, ())
        if one.edition and one.edition not in years:
            expected = f"one of {', '.join(years)}" if years else "none: it has no editions here"
            defects.append(f"{one.clause}, edition: expected {expected}, got {one.edition!r}")
            continue
        figure, share = one.figure, "share" in one.name or one.name in _SHARES
        if figure < 0 or (share and figure > 1):
            room = "from 0 to 1" if share else "0 or more"
            defects.append(f"{one.clause}, {one.name}: expected {room}, got {one.value}")
        if not _DATE.fullmatch(one.date):
            defects.append(f"{one.clause}, date: expected a day such as 2026-01-15, got {one.date!r}")
        if found.life_safety and one.loosens() and not one.why.strip():
            old = sorted({values[one.name] for values in found.values.values()})
            defects.append(
                f"{one.clause}, {one.name}: {one.value} instead of {' or '.join(map(str, old))} loosens a "
                f"safety rule ({found.document} {found.number}). It takes a reason: why ="
            )
    return tuple(defects)


_SHARES = ("bearing", "non_bearing", "doubled", "never_over")


def _near(word: str, known: tuple[str, ...]) -> str:
    close = get_close_matches(word, known, 1, 0.6)
    return f". Did you mean {close[0]!r}?" if close else ""
