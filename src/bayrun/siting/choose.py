"""One enclosure for a house that has none yet: the best bay, with its reason and the runner-up."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Literal

from bayrun.framing import Frame
from bayrun.house import Enclosure, Job, Knockout, ModelError
from bayrun.siting.bays import CLEAR_WIDTH_IN, Box, Ranked, rank_bays
from bayrun.units import tape

Entry = Literal["top", "bottom"]


def choose_enclosure(job: Job, frame: Frame, box: Box | None = None, name: str = "ENC1") -> Enclosure:
    """The best bay for the enclosure, entered from the top; its note says why, and what came second.

    Knockouts and fixing points are the usual ones of a box of this class and are the firm's to change.

    Raises:
        ModelError: No bay can take it; the message counts the reasons.
    """
    box = box or Box()
    ranked = rank_bays(job, frame, box)
    fitting = [r for r in ranked if r.fits]
    if not fitting:
        raise ModelError(_none_fits(ranked))
    best = fitting[0]
    second = next((r for r in fitting if r.bay != best.bay), None)
    return replace(enclosure_in(best, box, name), note=_note(best, second))


def enclosure_in(
    place: Ranked, box: Box, name: str, entries: tuple[Entry, ...] = ("top",), note: str = ""
) -> Enclosure:
    """An enclosure of these sizes in a ranked bay, with the usual knockouts and fixing points.

    Args:
        entries: Ends low voltage may enter; the others keep a spare knockout.
    """
    low: Entry = "bottom"
    return Enclosure(
        id=name,
        wall=place.wall,
        level=place.level,
        room=place.room,
        side=place.side,
        bay_studs_in=place.bay_studs_in,
        width_in=box.width_in,
        height_in=box.height_in,
        depth_in=box.depth_in,
        center_aff_in=box.center_aff_in,
        entries=entries,
        fixing_points=(
            (0.0, 4.0),
            (box.width_in, 4.0),
            (0.0, box.height_in - 4),
            (box.width_in, box.height_in - 4),
        ),
        knockouts=(
            Knockout("top", 3.5, 2.0),
            Knockout("top", box.width_in - 3.5, 2.0),
            Knockout("top", box.width_in / 2, 1.125, "spare"),
            Knockout("bottom", box.width_in - 1.5, 0.875, "power"),
            Knockout("bottom", 3.5, 2.0, "low voltage" if low in entries else "spare"),
        ),
        note=note,
    )


def _note(best: Ranked, second: Ranked | None) -> str:
    text = "chosen: " + ", ".join(best.says)
    if second is not None:
        more = second.cable_in - best.cable_in
        word = "more" if more >= 0 else "less"
        text += f"; next best: {second.says[0]}, {tape(abs(more))} {word} cable"
    return text


def _none_fits(ranked: tuple[Ranked, ...]) -> str:
    if not ranked:
        return "no enclosure bay: expected framed walls with bays that show to rooms, the plan has none"
    counts = Counter(reason.split(":")[0].split(",")[0] for r in ranked for reason in r.against)
    words = "; ".join(f"{text} ({n})" for text, n in sorted(counts.items(), key=lambda p: (-p[1], p[0]))[:6])
    return (
        f"no enclosure bay: expected one of {len(ranked)} bay sides {tape(CLEAR_WIDTH_IN)} clear in a dry "
        f"inside wall with a way up, got none; reasons: {words}"
    )
