"""The rule book: every rule in words, its clauses by edition, how each was confirmed, its worked examples.

Printed as Markdown by ``bayrun rulebook`` and kept as ``docs/rulebook.md``; a test holds the page to this.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from bayrun.house.edits import VERBS
from bayrun.rules.catalogue import RULES, Rule
from bayrun.rules.examples import Example, examples_of
from bayrun.rules.printed import PRINTED
from bayrun.rules.words import count_of
from bayrun.tables import Adopted, Clause, adopt, known_editions

UNITS = {"in": "in", "in2": "sq in", "lbf": "lbf", "ft": "ft", "deg": "degrees"}
CONFIRMED = {
    "confirmed": "confirmed: a page that states the figure was read, often not the book itself",
    "from memory": "not confirmed: from memory, verify against the book; never a pass by itself",
    "practice": "practice: no standard behind it",
}


def rulebook(
    adopted: Adopted | None = None, only: str = "", pictures: Mapping[str, str] | None = None
) -> str:
    """The whole book, or one rule, as Markdown.

    Args:
        adopted: Clauses in force, local amendments included; None takes the usual editions.
        only: Slug of one finding; the book then holds its rule alone.
        pictures: Clause slug to what its picture shows; the picture is ``rulebook/SLUG.svg`` beside the page.
    Raises:
        KeyError: No rule gives a finding of that slug.
    """
    adopted = adopt() if adopted is None else adopted
    rules = tuple(rule for rule in RULES if not only or only in rule.slugs)
    if not rules:
        raise KeyError(only)
    lines = [] if only else _head(adopted, rules)
    told: set[str] = set()
    for rule in rules:
        lines += _rule(rule, adopted, told, pictures or {})
    others = [clause for clause in adopted.clauses if clause.slug not in told]
    if not only and others:
        lines += ["## Clauses that a plan breaks nowhere", ""]
        lines += ["What is cut on site or by another trade is held to these.", ""]
        for clause in others:
            lines += _clause(clause, pictures or {})
    if not only:
        lines += _printed() + _amending() + _fixes()
    return "\n".join(lines).rstrip() + "\n"


def _head(adopted: Adopted, rules: tuple[Rule, ...]) -> list[str]:
    slugs = sum(len(rule.slugs) for rule in rules)
    books = ", ".join(f"{document} {edition}" for document, edition in adopted.editions)
    scope = (
        f"{count_of(len(rules), 'rule')} with {count_of(slugs, 'kind')} of findings, by {books}. What the "
        "adopted code and the inspector say goes before this book. Every limit is inclusive: on the limit "
        "passes. Figures of wood are of the actual size: a 2x4 is 3-1/2 in deep."
    )
    how = "How a figure was confirmed stands with each clause: " + "; ".join(CONFIRMED.values()) + "."
    lines = ["# Rule book", "", scope, "", how, ""]
    if adopted.amendments:
        lines += ["Local amendments in force:", ""]
        for one in adopted.amendments:
            why = f": {one.why}" if one.why else ""
            lines.append(f"- {one.clause}, {one.name}: {one.value}, by {one.who}, {one.date}{why}")
        lines.append("")
    return lines


def _printed() -> list[str]:
    """Printed tables beside the exact figures, those that round to the unsafe side named."""
    lines = ["## Printed tables", ""]
    lines += ["Compared with the clauses, never used: a figure over the clause's own is unsafe.", ""]
    lines += ["| printed by | what | printed | the clause | |", "|---|---|---|---|---|"]
    for one in PRINTED:
        printed, exact = (figure_text(Fraction(v), "size_in") for v in (one.printed, one.exact))
        side = "**unsafe side**" if one.unsafe else "safe side" if one.printed != one.exact else "exact"
        what = f"{one.kind} in a {one.piece}"
        lines.append(f"| {one.source} | {what} | {printed} | {exact}: {one.why} | {side} |")
    return [*lines, ""]


def _amending() -> list[str]:
    how = (
        "A jurisdiction's own figure is written as an overlay with who, when and why; the books stay as they "
        "are. In a file of its own, shown by `bayrun rulebook --amendments FILE`:"
    )
    force = (
        "The same keys in a job file under `practice`, `amendments` are in force for its plan. One that "
        "loosens a life-safety figure takes a reason, and its clause is then to verify."
    )
    return [
        "## Local amendments",
        "",
        how,
        "",
        "```toml",
        "[[amendment]]",
        'clause = "stud-bore"',
        'name = "edge_in"',
        'value = "3/4"',
        'who = "building department"',
        'date = "2026-01-15"',
        'why = "ordinance 12-3"',
        "```",
        "",
        force,
        "",
    ]


def _fixes() -> list[str]:
    lines = ["## What a fix does", "", "| fix | what | the next plan |", "|---|---|---|"]
    for verb in VERBS:
        follows = "follows it" if verb.honored else "keeps it as a choice; the finding stays"
        lines.append(f"| `{verb.name}` | {verb.says} | {follows} |")
    return [*lines, ""]


def _rule(rule: Rule, adopted: Adopted, told: set[str], pictures: Mapping[str, str]) -> list[str]:
    lines = [f"## {rule.title}", "", f"{rule.says[0].upper()}{rule.says[1:]}.", ""]
    lines += [f"Findings: {', '.join(f'`{slug}`' for slug in rule.slugs)}.", ""]
    if not rule.clauses:
        lines += ["Plain arithmetic and facts of the job; it leans on no clause.", ""]
    for slug in rule.clauses:
        if slug in told:
            lines += [f"- `{slug}`: as above.", ""]
            continue
        told.add(slug)
        lines += _clause(adopted.clause(slug), pictures)
    return lines


def _clause(clause: Clause, pictures: Mapping[str, str]) -> list[str]:
    lines = [f"- `{clause.slug}`: {clause.title}.", ""]
    if clause.slug in pictures:
        lines += [f"  ![{pictures[clause.slug]}](rulebook/{clause.slug}.svg)", ""]
    where = " ".join(part for part in (clause.document, clause.edition, clause.number) if part)
    safety = "; life safety" if clause.life_safety else ""
    lines.append(f"  {where} ({CONFIRMED[clause.confirmed]}{safety}).")
    if clause.proof:
        lines.append(f"  Where from: {clause.proof}.")
    if clause.values:
        figures = (f"{words_of(name)} {figure_text(value, name)}" for name, value in clause.values)
        lines.append(f"  Figures: {'; '.join(figures)}.")
    lines += [f"  Amended here: {said}." for said in clause.amended]
    differ = edition_differences(clause)
    if differ:
        lines.append(f"  Other editions: {'; '.join(differ)}.")
    lines.append("")
    examples = examples_of(clause.slug)
    if examples:
        lines += ["  | asked | verdict | because |", "  |---|---|---|"]
        lines += [f"  | {asked_words(e)} | {verdict_words(e)} | {e.because} |" for e in examples]
        lines.append("")
    return lines


def edition_differences(clause: Clause) -> tuple[str, ...]:
    """How the same clause stands in the other editions the tables hold: number, figures, confirmation."""
    years = dict(known_editions()).get(clause.document, ())
    found = []
    for year in years:
        other = adopt(((clause.document, year),)).clause(clause.slug)
        now = adopt(((clause.document, clause.edition),)).clause(clause.slug)
        if year == clause.edition:
            continue
        parts = [] if other.number == now.number else [f"number {other.number}"]
        parts += [
            f"{words_of(name)} {figure_text(value, name)}"
            for name, value in other.values
            if value != dict(now.values)[name]
        ]
        parts += [] if other.confirmed == now.confirmed else [other.confirmed]
        found.append(f"{year}: {', '.join(parts) if parts else 'the same'}")
    return tuple(found)


def words_of(name: str) -> str:
    """``nails_each_side`` as words, its unit left for the figure."""
    parts = name.split("_")
    return " ".join(parts[:-1] if parts[-1] in UNITS and len(parts) > 1 else parts).replace("non ", "non-")


def figure_text(value: Fraction, name: str = "") -> str:
    """A figure with its unit: an exact fraction where it is one a tape shows, else its decimals."""
    unit = UNITS.get(name.rpartition("_")[2], "") if "_" in name else ""
    if value.denominator in ((1, 2, 4, 8, 16) if unit == "in" else (1, 2, 3, 4, 5, 6)):
        whole, rest = divmod(value, 1)
        text = str(whole) if not rest else str(rest) if not whole else f"{whole}-{rest}"
    else:
        text = f"{float(value):.4g}" if value < 1000 else f"{float(value):.1f}"
    return f"{text} {unit}".strip()


def asked_words(example: Example) -> str:
    """What an example asks, in words."""
    said = {name: figure_text(Fraction(value), "size_in") for name, value in example.asked}
    raw = dict(example.asked)
    if example.kind == "figure":
        ((name, value),) = example.asked
        return f"{words_of(name)} {figure_text(Fraction(value), name)}"
    if example.kind == "limit":
        return f"largest hole in a {example.piece}"
    if example.kind == "hole":
        at = f"center {said['center']} from the near face" if "center" in raw else "in the middle"
        return f"{said['hole']} hole in a {example.piece}, {at}"
    if example.kind == "strap":
        return f"{said['cut']} cut in a {example.piece}"
    if example.kind == "gap":
        return f"two {said['holes']} holes in a {example.piece}, {said['apart']} apart on center"
    where = ", at its end" if raw.get("end") else ""
    if "span_ft" in raw:
        far = f"{float(Fraction(raw['center_ft'])):.4g}"
        where = f" by {said['length']} long, {far} ft from the bearing of a {raw['span_ft']} ft span"
    return f"{said['depth']} notch{where} in a {example.piece}"


def verdict_words(example: Example) -> str:
    """What an example is told, in words."""
    if example.kind == "limit":
        return figure_text(Fraction(example.expects), "size_in")
    if example.kind == "strap":
        return (
            "no strap"
            if example.expects == "none"
            else f"a strap of {figure_text(Fraction(example.expects), 'size_in')}"
        )
    if example.kind != "hole":
        return example.expects
    steel = {"": "no nail plate", "near far": "nail plates on both faces"}
    plate = steel.get(example.plates, f"a nail plate on the {example.plates} face")
    told = f"stop: `{example.expects}`" if example.expects else "allowed"
    return told if not example.piece.endswith(("stud", "plate")) else f"{told}; {plate}"
