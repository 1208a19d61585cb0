"""Worked examples of the clauses, as data: the tests run them and the rule book prints them.

Each is hand arithmetic from the clause it names; the arithmetic stands beside it. Lengths in inches, as exact
fractions in text. Expected verdicts are written down here, never computed.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from bayrun.limits import Piece, PieceRole

DEPTHS_IN = {"2x3": 2.5, "2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}
"""Actual depths of dressed lumber [in]. Source: PS 20, confirmed."""
ExampleKind = Literal["hole", "limit", "notch", "strap", "gap", "figure"]


@dataclass(frozen=True, slots=True)
class Example:
    """One worked example.

    Args:
        clause: Slug of the clause it works.
        kind: What is asked: a hole, the largest hole, a notch, a strap, wood between holes, a plain figure.
        piece: The member in words: ``2x4 bearing stud``; empty for a figure.
        asked: (name, figure as text) pairs.
        expects: The verdict: broken rules of a hole (empty: allowed), ``allowed``, ``strap``, a length …
        plates: Faces that need a nail plate, for a hole.
        because: The arithmetic.
    """

    clause: str
    kind: ExampleKind
    piece: str
    asked: tuple[tuple[str, str], ...]
    expects: str
    because: str
    plates: str = ""

    def figure(self, name: str) -> Fraction | None:
        """One asked figure, exactly; None where it was not said."""
        said = dict(self.asked).get(name)
        return None if said is None else Fraction(said)


def piece_in_words(words: str) -> Piece:
    """The member that ``2x6 doubled exterior stud`` means; bearing unless non-bearing is said."""
    said = words.split()
    role: PieceRole = "bottom plate" if said[-2:] == ["bottom", "plate"] else said[-1]  # type: ignore[assignment]
    return Piece(
        kind="sawn",
        role=role,
        depth_in=DEPTHS_IN[said[0]],
        bearing="non-bearing" not in said,
        exterior="exterior" in said,
        doubled="doubled" in said,
        sheathed="sheathed" in said,
    )


def _hole(
    clause: str, piece: str, hole: str, expects: str, plates: str, because: str, center: str = ""
) -> Example:
    asked = (("hole", hole), *((("center", center),) if center else ()))
    return Example(clause, "hole", piece, asked, expects, because, plates)


def _limit(clause: str, piece: str, largest: str, because: str) -> Example:
    return Example(clause, "limit", piece, (), largest, because)


def _notch(clause: str, piece: str, depth: str, expects: str, because: str, **more: str) -> Example:
    return Example(clause, "notch", piece, (("depth", depth), *more.items()), expects, because)


def _strap(piece: str, cut: str, expects: str, because: str) -> Example:
    return Example("plate-tie", "strap", piece, (("cut", cut),), expects, because)


def _gap(clause: str, piece: str, holes: str, apart: str, expects: str, because: str) -> Example:
    return Example(clause, "gap", piece, (("holes", holes), ("apart", apart)), expects, because)


def _figure(clause: str, name: str, measured: str, expects: str, because: str) -> Example:
    return Example(clause, "figure", "", ((name, measured),), expects, because)


_SIZE, _EDGE = "stud-hole-size", "stud-hole-edge"
_JSIZE, _JEDGE = "joist-hole-size", "joist-hole-edge"
_BOTH = "near far"

_STUDS = (
    _hole("stud-bore", "2x4 bearing stud", "1.4", "", _BOTH, "1.4 / 3.5 is 40 %, on the limit; edge 1.05"),
    _hole("stud-bore", "2x4 bearing stud", "1.401", _SIZE, _BOTH, "1.401 / 3.5 is over 40 %"),
    _hole("stud-bore", "2x4 bearing stud", "1.375", "", _BOTH, "39.29 %, the largest usual bit that passes"),
    _hole("stud-bore", "2x4 bearing stud", "1.4375", _SIZE, _BOTH, "41.1 %: 1-7/16 is too much"),
    _hole("stud-bore", "2x4 bearing stud", "1.5", _SIZE, _BOTH, "42.86 % is over 40 %"),
    _hole("stud-bore", "2x4 doubled bearing stud", "1.5", "", _BOTH, "a doubled stud takes 60 %"),
    _hole("stud-bore", "2x4 doubled bearing stud", "2.1", "", _BOTH, "2.1 / 3.5 is 60 %; edge 0.7"),
    _hole("stud-bore", "2x4 doubled bearing stud", "2.101", _SIZE, _BOTH, "over 60 %"),
    _hole("stud-bore", "2x4 non-bearing stud", "2.1", "", _BOTH, "60 %, on the limit"),
    _hole("stud-bore", "2x4 non-bearing stud", "2.125", _SIZE, _BOTH, "60.71 %: 2-1/8 is rounded up"),
    _hole("stud-bore", "2x4 non-bearing stud", "2.0625", "", _BOTH, "58.93 %; edge 0.71875"),
    _hole("stud-bore", "2x4 non-bearing exterior stud", "1.5", _SIZE, _BOTH, "exterior counts with bearing"),
    _hole("stud-bore", "2x6 bearing stud", "2.2", "", "", "2.2 / 5.5 is 40 %; edge 1.65"),
    _hole("stud-bore", "2x6 bearing stud", "2.201", _SIZE, "", "over 40 %"),
    _hole("stud-bore", "2x6 bearing stud", "2.1875", "", "", "39.77 %; edge 1.65625, no steel"),
    _hole("stud-bore", "2x6 non-bearing stud", "3.3", "", _BOTH, "3.3 / 5.5 is 60 %; edge 1.1"),
    _hole("stud-bore", "2x6 non-bearing stud", "3.3125", _SIZE, _BOTH, "60.23 %: 3-5/16 is rounded up"),
    _hole("stud-bore", "2x6 non-bearing stud", "3.25", "", _BOTH, "59.1 %"),
    _hole("stud-bore", "2x6 doubled bearing stud", "3.3", "", _BOTH, "60 % doubled"),
    _hole("stud-bore", "2x3 bearing stud", "1", "", _BOTH, "1 / 2.5 is 40 %; edge 0.75"),
    _hole("stud-bore", "2x3 bearing stud", "1.001", _SIZE, _BOTH, "over 40 %"),
    _hole("stud-bore", "2x3 non-bearing stud", "1.25", "", _BOTH, "50 %; edge 0.625, on the limit"),
    _hole("stud-bore", "2x3 non-bearing stud", "1.5", _EDGE, _BOTH, "60 % passes; edge 0.5 is under 0.625"),
    _hole("stud-bore", "2x4 bearing stud", "1", "", "near", "wood 1.125 - 0.5 = 0.625, passes", "1.125"),
    _hole("stud-bore", "2x4 bearing stud", "1", _EDGE, "near", "wood 0.624 is under 0.625", "1.124"),
    _hole("stud-bore", "2x4 bearing stud", "1", _EDGE, "far", "the far edge counts as the near one", "2.376"),
    _hole("stud-bore", "2x4 bearing stud", "1.4", _EDGE, "near", "1.25 - 0.7 = 0.55; far side 1.55", "1.25"),
    _hole("stud-bore", "2x4 bearing stud", "1.4", "", "near", "1.325 is the first place; far 1.475", "1.325"),
    _limit("stud-bore", "2x4 bearing stud", "7/5", "2/5 of 3-1/2"),
    _limit("stud-bore", "2x4 non-bearing stud", "21/10", "3/5 of 3-1/2"),
    _limit("stud-bore", "2x6 exterior stud", "11/5", "2/5 of 5-1/2"),
    _limit("stud-bore", "2x6 non-bearing stud", "33/10", "3/5 of 5-1/2"),
    _limit("stud-bore", "2x3 bearing stud", "1", "2/5 of 2-1/2"),
    _limit("stud-bore", "2x8 bearing stud", "29/10", "2/5 of 7-1/4"),
    _notch("stud-notch", "2x4 bearing stud", "7/8", "allowed", "25 %, on the limit"),
    _notch("stud-notch", "2x4 bearing stud", "1", "refused", "28.6 %"),
    _notch("stud-notch", "2x4 non-bearing stud", "7/5", "allowed", "40 % of 3-1/2 is 1.4"),
    _notch("stud-notch", "2x4 non-bearing stud", "1.41", "refused", "over 40 %"),
    _notch("stud-notch", "2x6 bearing stud", "11/8", "allowed", "25 % of 5-1/2"),
    _notch("stud-notch", "2x6 bearing stud", "3/2", "refused", "27.3 %"),
    _notch("stud-notch", "2x6 non-bearing stud", "11/5", "allowed", "40 % of 5-1/2"),
    _notch("stud-notch", "2x3 exterior stud", "5/8", "allowed", "25 % of 2-1/2"),
)
_STEEL = (
    _hole("nail-plate", "2x4 bearing stud", "1", "", "", "edge (3.5 - 1) / 2 = 1.25, on the limit"),
    _hole("nail-plate", "2x4 bearing stud", "1.001", "", _BOTH, "edge 1.2495 is under 1.25"),
    _hole("nail-plate", "2x4 bearing stud", "1.25", "", _BOTH, "edge 1.125"),
    _hole("nail-plate", "2x4 bearing stud", "7/8", "", "near", "near 1.0625, far 1.5625", "1.5"),
    _hole("nail-plate", "2x4 bearing stud", "7/8", "", "far", "near 1.5625, far 1.0625", "2"),
    _hole("nail-plate", "2x4 bearing stud", "3/4", "", "", "1.625 - 0.375 = 1.25 and 1.5 beyond", "1.625"),
    _hole("nail-plate", "2x3 non-bearing stud", "1/4", "", _BOTH, "edge 1.125: a 2x3 always takes steel"),
    _hole("nail-plate", "2x6 non-bearing stud", "3", "", "", "edge (5.5 - 3) / 2 = 1.25, on the limit"),
    _hole("nail-plate", "2x6 non-bearing stud", "3.01", "", _BOTH, "edge 1.245"),
    _hole("nail-plate", "2x4 bearing plate", "1.75", "", _BOTH, "edge 0.875"),
)
_PLATES = (
    _strap("2x4 bearing plate", "1.75", "none", "50 % is not more than half"),
    _strap("2x4 bearing plate", "1.751", "13.751", "over half; 1.751 + 2 x 6"),
    _strap("2x4 bearing plate", "2", "14", "57.1 %; 2 + 2 x 6"),
    _strap("2x4 non-bearing exterior plate", "2", "14", "exterior counts with bearing"),
    _strap("2x4 non-bearing plate", "2", "none", "only bearing and exterior walls"),
    _strap("2x4 sheathed exterior plate", "2", "none", "panels over the whole side waive it"),
    _strap("2x6 bearing plate", "2.75", "none", "50 % of 5-1/2"),
    _strap("2x6 bearing plate", "3", "15", "54.5 %; 3 + 2 x 6"),
    _strap("2x4 bottom plate", "2", "none", "the clause speaks of top plates"),
    _hole("plate-wood", "2x4 bearing plate", "2.25", "", _BOTH, "edge 0.625, on the limit"),
    _limit("plate-tie", "2x4 bearing plate", "7/4", "half of 3-1/2: over it a strap"),
    _limit("plate-tie", "2x6 bearing plate", "11/4", "half of 5-1/2: over it a strap"),
)
_JOISTS = (
    _hole("joist-bore", "2x10 joist", "37/12", "", "", "9.25 / 3, on the limit; edges 3.083"),
    _hole("joist-bore", "2x10 joist", "3.125", _JSIZE, "", "over a third"),
    _hole("joist-bore", "2x8 joist", "29/12", "", "", "7.25 / 3; edges 2.417"),
    _hole("joist-bore", "2x8 joist", "2.5", _JSIZE, "", "over 2.417"),
    _hole("joist-bore", "2x12 joist", "3.75", "", "", "11.25 / 3"),
    _hole("joist-bore", "2x12 joist", "3.751", _JSIZE, "", "over a third"),
    _hole("joist-bore", "2x6 joist", "1.5", "", "", "5.5 - 4: dead center only, edges 2 exactly"),
    _hole("joist-bore", "2x6 joist", "1.8125", _JEDGE, "", "under a third, but edge 1.844: guides print it"),
    _hole("joist-bore", "2x6 joist", "1.5", _JEDGE, "", "edge 1.99", "2.76"),
    _hole("joist-bore", "2x8 joist", "1", _JEDGE, "", "top edge 1-3/4 from the joist's top", "5"),
    _hole("joist-bore", "2x10 joist", "1", "", "", "edge 2.5 - 0.5 = 2, on the limit", "2.5"),
    _hole("joist-bore", "2x10 joist", "1", _JEDGE, "", "edge 1.999", "2.499"),
    _hole("rafter-bore", "2x8 rafter", "29/12", "", "", "7.25 / 3, as a joist"),
    _hole("rafter-bore", "2x6 rafter", "1.51", _JEDGE, "", "edge 1.995"),
    _limit("joist-bore", "2x6 joist", "11/6", "a third of 5-1/2, by the size clause alone"),
    _limit("joist-bore", "2x10 joist", "37/12", "a third of 9-1/4"),
    _limit("rafter-bore", "2x12 rafter", "15/4", "a third of 11-1/4"),
    _gap("joist-bore", "2x10 joist", "1", "3", "allowed", "3 - 1 = 2, on the limit"),
    _gap("joist-bore", "2x10 joist", "1", "2.5", "refused", "2.5 - 1 = 1.5 is under 2"),
    _gap("joist-bore", "2x12 joist", "2", "3.999", "refused", "1.999 is under 2"),
    _gap("rafter-bore", "2x10 rafter", "1.5", "3.5", "allowed", "3.5 - 1.5 = 2"),
    _notch(
        "joist-notch", "2x10 joist", "1.5", "allowed", "1.5 under 1.542; outside 4 to 8 ft of 12",
        length="3", center_ft="2.4", span_ft="12",
    ),
    _notch(
        "joist-notch", "2x10 joist", "1.5", "refused", "the middle third", length="3", center_ft="6",
        span_ft="12",
    ),
    _notch(
        "joist-notch", "2x10 joist", "1.5", "allowed", "ends at 4 ft exactly, where the middle third begins",
        length="3", center_ft="3.875", span_ft="12",
    ),
    _notch(
        "joist-notch", "2x10 joist", "1.5", "refused", "ends 1/2 in inside the middle third",
        length="3", center_ft="47/12", span_ft="12",
    ),
    _notch(
        "joist-notch", "2x10 joist", "37/24", "allowed", "a sixth of 9-1/4; a third of it long",
        length="37/12", center_ft="10", span_ft="12",
    ),
    _notch(
        "joist-notch", "2x10 joist", "1.5", "refused", "3.1 is longer than 3.083", length="3.1",
        center_ft="2", span_ft="12",
    ),
    _notch("joist-notch", "2x10 joist", "9/4", "allowed", "at the end 9.25 / 4 = 2.3125", end="1"),
    _notch("joist-notch", "2x10 joist", "19/8", "refused", "at the end over 2.3125", end="1"),
    _notch("rafter-notch", "2x6 rafter", "11/8", "allowed", "at the end 5.5 / 4", end="1"),
)  # fmt: skip
_FIGURES = (
    _figure("parallel-setback", "edge_in", "1.26", "kept", "1.375 less 0.115 of a 0.23 in cable"),
    _figure("parallel-setback", "edge_in", "5/4", "kept", "on the limit"),
    _figure("parallel-setback", "edge_in", "1.24", "broken", "under 1-1/4"),
    _figure("ac-support", "box_in", "12", "kept", "on the limit"),
    _figure("ac-support", "box_in", "12.25", "broken", "over 12"),
    _figure("ac-support-unclamped", "box_in", "10", "broken", "over 8 along the sheath, no clamp"),
    _figure("ac-support-firm", "box_in", "6", "kept", "the firm's 6, tighter than the code's 12"),
    _figure("free-conductor", "free_in", "6", "kept", "on the limit"),
    _figure("power-barrier", "gap_in", "3/16", "broken", "under 1/4"),
    _figure("bonding-length", "length_in", "240", "kept", "20 ft exactly"),
    _figure("bonding-length", "length_in", "288", "broken", "24 ft: a rod of its own"),
    _figure("rated-membrane", "area_in2", "16", "kept", "on the limit"),
    _figure("rated-membrane", "area_in2", "399", "broken", "a 14-1/4 by 28 enclosure"),
    _figure("rated-membrane", "opposite_gap_in", "24", "kept", "on the limit"),
    _figure("rated-membrane", "opposite_gap_in", "23", "broken", "under 24"),
    _figure("link-length", "length_in", "3543.3", "kept", "90 m is 3543.31 in"),
    _figure("link-length", "length_in", "3544", "broken", "over 90 m"),
    _figure("wall-space", "unbroken_in", "132", "kept", "11 ft"),
    _figure("wall-space", "reach_in", "312", "broken", "26 ft from the only one"),
    _figure("conduit-bends", "most_deg", "360", "kept", "four quarter bends"),
    _figure("conduit-bends", "most_deg", "450", "broken", "a fifth quarter bend"),
    _figure("conduit-bends", "advised_deg", "270", "broken", "three quarter bends: over the advice"),
)
EXAMPLES: tuple[Example, ...] = (*_STUDS, *_STEEL, *_PLATES, *_JOISTS, *_FIGURES)


def examples_of(clause: str) -> tuple[Example, ...]:
    """The worked examples of one clause, in their order."""
    return tuple(example for example in EXAMPLES if example.clause == clause)
