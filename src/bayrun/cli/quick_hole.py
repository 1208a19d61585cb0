"""``bayrun quick hole``: the verdict on one hole, no job needed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bayrun.cli.talk import print_json
from bayrun.geometry import below, near
from bayrun.house import Practice
from bayrun.limits import Kind, Piece, PieceRole
from bayrun.rules.quick import human, quick_hole
from bayrun.tables import EditionError, adopt, known_editions
from bayrun.units import LengthError, parse_length, tape

# Dressed depths [in]. Source: PS 20 American Softwood Lumber Standard.
LUMBER = {"2x3": 2.5, "2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}
KINDS: dict[str, Kind] = {
    "ijoist": "I-joist",
    "openweb": "open-web truss",
    "truss": "truss",
    "lvl": "engineered",
    "steel": "steel",
}
STEEL_IN = 3.625
UNKNOWN_DEPTH_IN = {"ijoist": 11.875, "openweb": 3.5, "truss": 3.5, "lvl": 9.25}
ROLES: dict[str, PieceRole] = {
    "stud": "stud",
    "king": "stud",
    "plate": "plate",
    "joist": "joist",
    "rafter": "rafter",
    "beam": "beam",
    "header": "header",
}


def _length(ctx: click.Context, param: click.Parameter, value: str | None) -> float | None:
    """Read a length as people write it, or say what was expected and got."""
    if value is None:
        return None
    try:
        return parse_length(value)
    except LengthError as error:
        raise click.BadParameter(str(error), ctx=ctx, param=param) from error


def _editions(asked: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """``2021``, ``IRC 2021`` or ``NEC=2020`` to pairs; a bare year names the code that has it."""
    known, pairs = dict(known_editions()), []
    all_known = "; ".join(f"{code} {', '.join(years)}" for code, years in known.items())
    for text in asked:
        parts = text.replace("=", " ").replace("-", " ").split()
        year = parts[-1] if parts else ""
        code = parts[0].upper() if len(parts) == 2 else ""
        codes = [c for c, years in known.items() if year in years and code in ("", c)]
        if not codes:
            raise click.BadParameter(f"expected one of {all_known}; got {text!r}", param_hint="'--edition'")
        pairs.append((codes[0], year))
    return tuple(pairs)


if TYPE_CHECKING:
    _AnyChoice = click.Choice[str]
else:
    _AnyChoice = click.Choice  # which older versions of click do not let anybody subscript


class _Choice(_AnyChoice):
    """A choice whose missing value is told in one line."""

    def get_missing_message(self, param: click.Parameter, ctx: click.Context | None = None) -> str:
        return f"Choose from {', '.join(self.choices)}."


@click.command("hole")
@click.option("--member", required=True, type=_Choice([*LUMBER, *KINDS]), help="What is drilled.")
@click.option(
    "--role", type=click.Choice(list(ROLES)), default=None, help="What it does; a stud if not said."
)
@click.option("--bearing/--non-bearing", "bearing", default=None, help="Counts as bearing where nobody says.")
@click.option("--exterior", is_flag=True, help="In an exterior wall; counts with bearing ones.")
@click.option("--doubled", is_flag=True, help="Two studs standing together as one.")
@click.option("--sheathed", is_flag=True, help="Wood panels cover one whole side of the wall.")
@click.option("--size", "size_in", required=True, callback=_length, help="Diameter of the hole, e.g. 1-1/4.")
@click.option(
    "--centre",
    "--center",
    "center_in",
    callback=_length,
    default=None,
    help="Center of the hole from the room-side edge (joists: from the bottom); mid-depth if not given.",
)
@click.option(
    "--along", "along_in", callback=_length, default=None, help="From the near bearing, for joists."
)
@click.option("--depth", "depth_in", callback=_length, default=None, help="Depth of an ijoist, lvl or steel.")
@click.option(
    "--knockout", "knockout_in", callback=_length, default=None, help="I-joist knockout by its chart."
)
@click.option("--edition", "edition", multiple=True, help="Adopted edition, e.g. 2021 or NEC 2023.")
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
def hole(
    member: str,
    role: str | None,
    bearing: bool | None,
    exterior: bool,
    doubled: bool,
    sheathed: bool,
    size_in: float,
    center_in: float | None,
    along_in: float | None,
    depth_in: float | None,
    knockout_in: float | None,
    edition: tuple[str, ...],
    as_json: bool,
) -> None:
    """Say whether one hole is allowed, other holes assumed absent.

    Exit code 0 when it is, 1 when it is not (or nobody can tell), 2 for bad input.
    """
    try:
        adopted = adopt(_editions(edition))
    except EditionError as error:
        raise click.BadParameter(str(error), param_hint="'--edition'") from error
    kind: Kind = KINDS.get(member, "sawn")
    if role is None:
        role = "stud" if kind in ("sawn", "steel") else "joist"
    depth_known = member in LUMBER or member == "steel" or depth_in is not None
    if depth_in is not None and member in LUMBER and not near(depth_in, LUMBER[member]):
        raise click.BadParameter(
            f"a {member} is {tape(LUMBER[member])} deep; leave --depth out", param_hint="'--depth'"
        )
    depth = depth_in or LUMBER.get(member) or UNKNOWN_DEPTH_IN.get(member, STEEL_IN)
    _refuse(size_in, center_in, along_in, depth, depth_known)
    piece = Piece(
        kind=kind,
        role=ROLES[role],
        depth_in=depth,
        bearing=bearing is not False,
        exterior=exterior,
        doubled=doubled,
        sheathed=sheathed,
        knockout_in=knockout_in,
    )
    verdict = quick_hole(
        piece,
        size_in,
        adopted,
        center_in=center_in,
        depth_known=depth_known,
        bits_in=Practice().bits_in,
        assumed=_assumed(bearing, exterior, center_in, along_in, piece, depth_in, member),
    )
    if as_json:
        print_json(verdict.as_json())
    else:
        click.echo(human(verdict))
    if not verdict.legal:
        raise SystemExit(1)


def _refuse(
    size_in: float, center_in: float | None, along_in: float | None, depth_in: float, depth_known: bool
) -> None:
    """Tell every impossible number at once."""
    wrong = []
    if not below(0.0, size_in):
        wrong.append(f"--size: expected a diameter over zero, got {size_in:g} in")
    if not below(0.0, depth_in):
        wrong.append(f"--depth: expected a depth over zero, got {depth_in:g} in")
    outside = center_in is not None and (below(center_in, 0.0) or below(depth_in, center_in))
    if center_in is not None and outside and depth_known:
        wrong.append(f"--centre: expected 0 to {tape(depth_in)}, inside the member, got {tape(center_in)}")
    if along_in is not None and below(along_in, 0.0):
        wrong.append(f"--along: expected a distance from the near bearing, got {tape(along_in)}")
    if wrong:
        raise click.UsageError("; ".join(wrong))


def _assumed(
    bearing: bool | None,
    exterior: bool,
    center_in: float | None,
    along_in: float | None,
    piece: Piece,
    depth_in: float | None,
    member: str,
) -> tuple[str, ...]:
    assumed = []
    if bearing is None and not exterior and piece.role in ("stud", "plate"):
        assumed.append("nobody said whether the wall bears, so it counts as bearing")
    if bearing is False and exterior:
        assumed.append("an exterior wall counts with bearing ones")
    if center_in is None:
        assumed.append("the hole is at mid-depth")
    if piece.role in ("joist", "rafter") and piece.kind == "sawn":
        where = "" if along_in is None else f" (here {tape(along_in)} from the bearing)"
        assumed.append(f"sawn {piece.role}s may be drilled anywhere along the span{where}")
    if member == "steel" and depth_in is None:
        assumed.append(f"steel stud {tape(STEEL_IN)} deep")
    return tuple(assumed)
