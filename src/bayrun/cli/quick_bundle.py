"""``bayrun quick bundle 11x0.23 2x0.275``: how thick a bundle is, and which bit makes its hole."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass

import click

from bayrun.geometry import below

BITS = ("3/4", "7/8", "1", "1-1/8", "1-1/4", "1-3/8", "1-1/2", "2")
"""Bits most crews carry [in]; common practice, no source."""

_ITEM = re.compile(r"^(?:(?P<count>[+-]?\d+)\s*[x×*]\s*)?(?P<size>[^x×*]+)$", re.IGNORECASE)
_EXPECTED = "a count and an outside diameter in inches, such as 11x0.23"


@dataclass(frozen=True, slots=True)
class Cables:
    """One item of the command line: how many of which diameter [in]."""

    count: int
    diameter_in: float


def read_item(text: str) -> Cables | str:
    """One item as typed, or what is wrong with it in a sentence."""
    from bayrun.units import LengthError, parse_length

    match = _ITEM.match(text.strip())
    if match is None:
        return f"{text!r}: expected {_EXPECTED}"
    digits = match["count"] or "1"
    if len(digits) > 6:
        return f"{text!r}: expected at most 500 cables, got a count of {len(digits)} digits"
    count = int(digits)
    if count < 1:
        return f"{text!r}: expected a count of 1 or more, got {count}"
    try:
        diameter_in = parse_length(match["size"].strip())
    except LengthError:
        return f"{text!r}: expected {_EXPECTED}, got the diameter {match['size'].strip()!r}"
    if not diameter_in > 0:
        return f"{text!r}: expected an outside diameter above 0, got {match['size'].strip()}"
    return Cables(count, diameter_in)


def read_bits(text: str) -> list[float] | str:
    """Bits as typed, or what is wrong with them."""
    from bayrun.units import LengthError, parse_length

    bits = []
    for part in text.split(","):
        try:
            size = parse_length(part.strip())
        except LengthError:
            size = 0.0
        if size <= 0:
            return f"--bits {text!r}: expected sizes in inches such as 3/4,1,1-1/4; got {part.strip()!r}"
        bits.append(size)
    return sorted(set(bits))


def _plain(size_in: float) -> str:
    """A bit as it is stamped where it is on a sixteenth, else its decimals."""
    from bayrun.units import fraction

    if abs(size_in * 16 - round(size_in * 16)) < 1e-6:
        return f"{fraction(size_in)} in"
    return f"{size_in:.3f} in"


@click.command(context_settings={"ignore_unknown_options": True, "help_option_names": ["-h", "--help"]})
@click.argument("items", nargs=-1, metavar="COUNTxDIAMETER...", type=click.UNPROCESSED)
@click.option(
    "--fill",
    default="0.40",
    show_default=True,
    help="Share of the hole cable may take, up to 0.60.",
)
@click.option(
    "--bits", default=",".join(BITS), show_default=True, help="Bits on the truck [in], with commas."
)
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
def bundle(items: tuple[str, ...], fill: str, bits: str, as_json: bool) -> None:
    """True diameter of a bundle of cables, and the smallest bit that takes it.

    Each item is a count and an outside diameter in inches: 11x0.23 2x0.275.
    """
    from bayrun.cables import FillError, PackingCache, hole_for, pack, within_fill
    from bayrun.cables.fill import checked_fill
    from bayrun.cables.packing import MOST, BundleError

    wrong = [] if items else [f"no cables given: expected {_EXPECTED}"]
    cables = []
    for text in items:
        item = read_item(text)
        if isinstance(item, str):
            wrong.append(item)
        else:
            cables.append(item)
    total = sum(item.count for item in cables)
    if total > MOST:
        wrong.append(f"expected at most {MOST} cables in one bundle, got {total}")
    sizes_in = read_bits(bits)
    if isinstance(sizes_in, str):
        wrong.append(sizes_in)
    limit = 0.0
    try:
        limit = checked_fill(float(fill))
    except FillError as error:
        wrong.append(f"--fill: {error}")
    except ValueError:
        wrong.append(f"--fill {fill!r}: expected a share of the hole's area such as 0.40")
    if wrong or isinstance(sizes_in, str):
        _refuse(wrong)
        return
    diameters_in = [item.diameter_in for item in cables for _ in range(item.count)]
    try:
        packed = pack(diameters_in)
        choice = hole_for(diameters_in, limit, sizes_in, PackingCache())
    except BundleError as error:
        _refuse([str(error)])
        return
    takes = [size for size in sizes_in if choice is not None and not below(size, choice.bit_in)]
    if as_json:
        answer = {
            "diameter_in": round(packed.diameter_in, 6),
            "circles": [[round(c.x_in, 6), round(c.y_in, 6), round(c.radius_in, 6)] for c in packed.circles],
            "hole_in": None if choice is None else choice.bit_in,
            "fill": None if choice is None else round(choice.fill, 6),
            "fill_max": limit,
            "bits": [
                {
                    "bit_in": size,
                    "takes": size in takes,
                    "within_fill": within_fill(size, diameters_in, limit),
                }
                for size in sizes_in
            ],
        }
        click.echo(json.dumps(answer, indent=2))
        return
    listed = " + ".join(f"{item.count} x {item.diameter_in:.4g} in" for item in cables)
    click.echo(f"{listed}: {total} cable{'' if total == 1 else 's'}")
    click.echo(f"Bundle, pressed tight: {packed.diameter_in:.3f} in across (no room for ties or twist)")
    if choice is None:
        click.echo(
            f"No bit given takes it at {limit:.0%} fill (largest {_plain(sizes_in[-1])}):"
            " split it over more holes."
        )
        return
    click.echo(f"Hole: {_plain(choice.bit_in)}, {choice.fill:.0%} full (at most {limit:.0%})")
    if choice.capacity is not None:
        click.echo(f"Said as: {total} of {choice.capacity}")
    click.echo("Check that the stud, plate or joist allows this hole: bayrun quick hole.")


def _refuse(wrong: list[str]) -> None:
    """One message with all that is wrong, on stderr; exit code 2."""
    click.echo("bayrun quick bundle: " + "; ".join(wrong), err=True)
    raise SystemExit(2)
