"""Gear that does not fit the enclosure, is too deep for it, conflicts where a person put it, or is not
known."""

from __future__ import annotations

from bayrun.cables.ranges import Verdict
from bayrun.enclosure import FitOut, arrange, hand_places, lost_places
from bayrun.enclosure.arrange import clash_words
from bayrun.enclosure.room import depth_needed_in
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.house.edits import Refused, apply
from bayrun.rules.case import Case
from bayrun.units import tape

FULL, DEEP, HAND, UNKNOWN = "box-full", "gear-too-deep", "gear-by-hand", "gear-unknown"
SLUGS = (FULL, DEEP, HAND, UNKNOWN)
PRACTICE = Source("common practice", confirmed="practice")


def findings(case: Case, told: FitOut, place: str) -> list[Finding]:
    """Every finding about room for gear."""
    found = [*_full(case, told, place), *_deep(case, told, place), *_hand(case, told, place)]
    return [*found, *_unknown(told, place)]


def assumed_words(told: FitOut) -> str:
    """A sentence about sizes nobody said, or empty."""
    names = [p.name for p in told.pieces if p.assumed]
    if not names:
        return ""
    few = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    return f" Sizes assumed for {few}: tape them."


def may(case: Case, fix: Fix) -> tuple[Fix, ...]:
    """The fix, where its edit does not refuse."""
    try:
        apply(case.job, fix)
    except Refused:
        return ()
    return (fix,)


def _full(case: Case, told: FitOut, place: str) -> list[Finding]:
    """Not all gear has a place."""
    arrangement = told.arrangement
    if arrangement is None or not arrangement.homeless:
        return []
    fixes: list[Fix] = []
    if told.next_height_in is not None:
        height_in = told.next_height_in
        says = f"Take a box {tape(height_in)} high, about the same middle."
        fixes += may(case, Fix("resize_enclosure", (told.box.id, height_in), says))
    if told.move_out:
        names = " and ".join(told.piece(i).name for i in told.move_out)
        fixes += may(
            case,
            Fix("move_gear_out", ("+".join(told.move_out),), f"Hang {names} on a shelf over the box."),
        )
    known = arrangement.verdict is Verdict.FAILS
    without = ", ".join(told.piece(i).name for i in arrangement.homeless)
    says = f"No place in the enclosure for {without}: {arrangement.reason}.{assumed_words(told)}"
    return [
        Finding(
            FULL,
            Severity.FIX_SOON if known else Severity.CANNOT_TELL,
            (told.box.id,),
            place,
            says,
            arrangement.needed_height_in,
            told.room.height_in,
            source=PRACTICE,
            fixes=tuple(fixes),
        )
    ]


def _deep(case: Case, told: FitOut, place: str) -> list[Finding]:
    """A piece that keeps the door open."""
    arrangement = told.arrangement
    out = []
    for name in arrangement.too_deep if arrangement is not None else ():
        piece = told.piece(name)
        needed_in = depth_needed_in(piece, told.room)
        says = (
            f"The {piece.name} wants {tape(needed_in)} with its plugs, cord bends and the door; the box is "
            f"{tape(told.room.depth_in)} deep."
        )
        fix = Fix("move_gear_out", (piece.gear,), f"Hang {piece.name} on a shelf over the box.")
        out.append(
            Finding(
                DEEP,
                Severity.FIX_SOON,
                (told.box.id, piece.id),
                place,
                says,
                needed_in,
                told.room.depth_in,
                source=PRACTICE,
                fixes=may(case, fix),
            )
        )
    return out


def _hand(case: Case, told: FitOut, place: str) -> list[Finding]:
    """Places set by hand that conflict, or hold for nothing."""
    arrangement = told.arrangement
    names = {p.id: p for p in told.pieces}
    out = []
    for clash in arrangement.clashes if arrangement is not None else ():
        one, other, _ = clash
        says = clash_words(names, clash)
        out.append(
            Finding(
                HAND,
                Severity.FIX_SOON,
                (told.box.id, *(i for i in (one, other) if i)),
                place,
                f"{says[:1].upper()}{says[1:]}.",
                source=PRACTICE,
                fixes=_other_places(case, told, one),
            )
        )
    for about in dict.fromkeys(lost_places(case.job, told.pieces)):
        says = f"A place is kept for {about}, which is no piece in this box."
        fix = Fix("free_gear", (about,), "Forget that place.")
        out.append(
            Finding(HAND, Severity.NOTE, (told.box.id, about), place, says, source=PRACTICE, fixes=(fix,))
        )
    return out


def _other_places(case: Case, told: FitOut, piece: str) -> tuple[Fix, ...]:
    """Where the piece would hang beside the other hand places, and letting it go."""
    others = [p for p in hand_places(case.job, told.pieces) if p.piece != piece]
    found = arrange(told.pieces, told.room, others)
    fixes = []
    at = found.place_of(piece)
    if at is not None and found.verdict is Verdict.HOLDS:
        where = f"{tape(at.left_in)} from the left and {tape(at.bottom_in)} from the bottom"
        says = f"Hang it {where} of the inside."
        fixes.append(Fix("place_gear", (piece, at.left_in, at.bottom_in), says))
    return (*fixes, Fix("free_gear", (piece,), "Let it be placed again."))


def _unknown(told: FitOut, place: str) -> list[Finding]:
    """Gear of which nobody knows the size or the watts."""
    out = []
    for gear in told.unknown:
        says = f"Cannot tell whether {gear.what} fits: nobody said its width, height and depth."
        out.append(
            Finding(UNKNOWN, Severity.CANNOT_TELL, (told.box.id, gear.id), place, says, source=PRACTICE)
        )
    for name in told.watts_unknown:
        says = f"Cannot tell how warm {told.piece(name).name} makes the box: nobody said its watts."
        out.append(
            Finding(UNKNOWN, Severity.CANNOT_TELL, (told.box.id, name, "watts"), place, says, source=PRACTICE)
        )
    return out
