"""The words beside the bay drawing: how to set the box, what enters where, what the next bays hold."""

from __future__ import annotations

from bayrun.drawings.bundles import count_words
from bayrun.drawings.panel import Row
from bayrun.drawings.wall_view import WallView
from bayrun.enclosure import KnockoutUse, arrivals, assign
from bayrun.framing.records import Frame
from bayrun.geometry import below
from bayrun.house import (
    Enclosure,
    Job,
    above_finished_floor_in,
    enclosure_bottom_in,
    enclosure_top_in,
    face_room,
)
from bayrun.house.building import Side
from bayrun.units import tape
from bayrun.wiring import Run, Wiring


def entering(wiring: Wiring, enclosure: Enclosure) -> dict[str, list[Run]]:
    """Runs that end in the box, by the end they enter: ``top``, ``bottom``; those unsaid under ``top``."""
    out: dict[str, list[Run]] = {}
    for run in wiring.runs:
        if enclosure.id in (run.from_end.id, run.to_end.id):
            end = run.from_end if run.from_end.id == enclosure.id else run.to_end
            out.setdefault(run.entry_at(end) or "top", []).append(run)
    return out


def bundle_in(job: Job, runs: list[Run]) -> float:
    """Diameter of the true bundle of these runs [in]."""
    from bayrun.cables import pack  # only this note needs it

    return pack([job.practice.cable(run.kind).diameter_in for run in runs], effort="quick").diameter_in


def low_voltage_words(job: Job, wiring: Wiring, enclosure: Enclosure) -> str:
    """What comes in at the top, short: ``26 runs, bundle 1-1/2"``."""
    runs = entering(wiring, enclosure).get("top", [])
    if not runs:
        return ""
    return f"{len(runs)} runs, bundle {tape(bundle_in(job, runs))}"


def neighbor_words(
    job: Job, frame: Frame, enclosure: Enclosure, clear: tuple[float, float]
) -> list[tuple[float, float, str]]:
    """(low, high, what it holds) of the bay at each side of the enclosure's."""
    wall = job.wall(enclosure.wall)
    bays = [b for b in frame.bays_of(wall.id) if b.clear.v0 < 24 < b.clear.v1]
    before = [b for b in bays if b.clear.u1 < clear[0]]
    after = [b for b in bays if b.clear.u0 > clear[1]]
    out = []
    for bay in (before[-1:] or []) + (after[:1] or []):
        held = []
        for location in job.locations:
            if location.wall != wall.id or location.offset_in is None:
                continue
            if bay.clear.u0 < location.offset_in < bay.clear.u1:
                side: Side = "left" if location.side == "left" else "right"
                room = face_room(wall, side, location.offset_in) or location.room
                held.append(f"{location.id} on the {room} side, {tape(location.height_in)} up")
        for thing in job.obstacles:
            if thing.wall == wall.id and thing.rect is not None and enclosure.level in thing.levels:
                dx, dy = wall.direction
                ends = [
                    (thing.rect[i] - wall.start[0]) * dx + (thing.rect[i + 1] - wall.start[1]) * dy
                    for i in (0, 2)
                ]
                if min(ends) < bay.clear.u1 and max(ends) > bay.clear.u0:
                    held.append(thing.kind)
        feed = enclosure.ac_feed
        if feed is not None and feed.bay_studs_in is not None:
            middle = sum(feed.bay_studs_in) / 2
            if bay.clear.u0 < middle < bay.clear.u1:
                held.append("AC feed comes this way: leave it free")
        words = "; ".join(held) if held else "nothing planned"
        out.append((bay.clear.u0, bay.clear.u1, f"Next bay: {words}"))
    return out


def bay_rows(
    job: Job,
    frame: Frame,
    wiring: Wiring,
    enclosure: Enclosure,
    view: WallView,
    clear: tuple[float, float],
    table: tuple[tuple[str, str], ...],
) -> list[Row]:
    """The panel: setting the box, holes above and below, entries, power, neighbors, numbers."""
    wall, level = job.wall(enclosure.wall), job.level(enclosure.level)
    bottom_in, top_in = enclosure_bottom_in(job, enclosure), enclosure_top_in(job, enclosure)
    finish_in = above_finished_floor_in(job, enclosure.level, enclosure.room)
    board_in = level.wall_board_in
    rows = [Row(f"Set {enclosure.id}, seen from the {view.room or enclosure.room}", heading=True)]
    spare_in = (clear[1] - clear[0]) - enclosure.width_in
    rows.append(
        Row(
            f"Bay {tape(clear[1] - clear[0])} clear, box {tape(enclosure.width_in)} wide: "
            f"{tape(spare_in)} to spare. Tape it: ______"
        )
    )
    corner = "corner of the framing" if view.hook_is_corner else "end of the plate"
    layers = ", ".join(f"{x.name} {tape(x.thickness_in)}" for x in level.floor_build_up)
    build = f" ({layers})" if layers else ""
    rows.append(
        Row(
            f"Bottom {tape(bottom_in)}, top {tape(top_in)} above subfloor; "
            f"center {tape(enclosure.center_aff_in)} above finished floor, which is "
            f"{tape(finish_in)} over the subfloor{build}."
        )
    )
    behind_in = wall.thickness_in + board_in - enclosure.depth_in
    fits = "does NOT fit" if below(behind_in, 0.0) else f"leaves {tape(behind_in)} behind it"
    rows.append(
        Row(
            f"Depth: wall {tape(wall.thickness_in)} and board {tape(board_in)} make "
            f"{tape(wall.thickness_in + board_in)}; the box is {tape(enclosure.depth_in)} and {fits}. "
            f"Face flush with the {tape(board_in)} board to come."
        )
    )
    rows.append(
        Row(
            f"Hook the tape on the {view.hook_hand} {corner}. Figures under the studs run "
            "from there to the near face of each."
        )
    )
    rows += _hole_rows(job, frame, wiring, enclosure, view, clear)
    entries = assign(job, enclosure, arrivals(job, wiring, enclosure))
    for entry, runs in sorted(entering(wiring, enclosure).items(), reverse=True):
        rows.append(Row(f"Low voltage at the {entry}", heading=True))
        given = [use for use in entries.uses if use.edge == entry and use.runs]
        bundle = f"Tight bundle {tape(bundle_in(job, runs))} across."
        rows.append(Row(f"{len(runs)} runs: {count_words(runs)}. {bundle}"))
        rows += [Row(f"{_knockout_words(use)}.") for use in given]
        told = "Bushing in each before the first cable. Which run goes where: knockout list."
        rows.append(Row(told if given else "No knockout is told for it."))
    rows += _power_rows(enclosure)
    rows.append(Row("Fixing", heading=True))
    if enclosure.fixing_points:
        ups = sorted({up for _, up in enclosure.fixing_points})
        heights = ", ".join(tape(u) for u in ups)
        rows.append(Row(f"Screws on both sides, up from the bottom of the box: {heights}."))
    else:
        rows.append(Row("Fixing points are not told: mark them from the box itself."))
    rows.append(
        Row(f"Its door wants {tape(enclosure.width_in)} of clear swing before the wall: keep the floor free.")
    )
    rows.append(Row("Next bays", heading=True))
    for low_in, _, words in neighbor_words(job, frame, enclosure, clear):
        hand = "left" if view.x(low_in) < view.x(view.along_in) else "right"
        rows.append(Row(words.replace("Next bay: ", f"At the {hand}: ") + "."))
    if table:
        rows.append(Row("Numbers on the drawing", heading=True))
        rows += [Row(words, lead=number) for number, words in table]
    return rows


def _knockout_words(use: KnockoutUse) -> str:
    """One knockout in use: where, which size, what goes through, how full, what to do."""
    size = f"trade {use.trade}" if use.trade else f"{tape(use.diameter_in)} hole"
    count = f"{len(use.runs)} {'run' if len(use.runs) == 1 else 'runs'}"
    opening = tape(int(use.opening_in * 16 + 1e-6) / 16)
    spare = "; a spare, open it" if use.opened else ""
    full = "too full" if not use.fits else f"{100 * use.fill:.0f} % full"
    return f"{tape(use.from_left_in)} from the left, {size}: {count}, bushing {opening}, {full}{spare}"


def _hole_rows(
    job: Job, frame: Frame, wiring: Wiring, enclosure: Enclosure, view: WallView, clear: tuple[float, float]
) -> list[Row]:
    left_in = min(clear, key=view.x)
    found = [
        h
        for h in wiring.holes
        if h.wall == enclosure.wall and h.axis == "up" and clear[0] < h.along_in < clear[1]
    ]
    if not found:
        return []
    tall = job.level(enclosure.level).plate_top_in / 2
    rows = [Row("Holes in the plates of this bay", heading=True)]
    for over in (True, False):
        chosen = sorted((h for h in found if (h.up_in > tall) is over), key=lambda h: view.x(h.along_in))
        for hole in chosen:
            plate = "top plate" if over else "bottom plate"
            from_left_in = abs(hole.along_in - left_in)
            rows.append(
                Row(
                    f"{tape(hole.diameter_in)} bit, {plate}, {tape(from_left_in)} from the left stud, "
                    f"{len(hole.occupants)} {'run' if len(hole.occupants) == 1 else 'runs'}",
                    lead=hole.id,
                )
            )
    return rows


def _power_rows(enclosure: Enclosure) -> list[Row]:
    feed = enclosure.ac_feed
    rows = [Row("Power: the licensed electrician's", heading=True)]
    if feed is None:
        rows.append(Row("Nobody has said how power comes to the box: ask before it is hung."))
        return rows
    rows.append(Row(feed.way[:1].upper() + feed.way[1:] + "."))
    held = []
    if feed.staple_from_box_in is not None:
        held.append(f"first staple {tape(feed.staple_from_box_in)} from the box")
    if feed.staple_from_emergence_in is not None:
        held.append(f"one {tape(feed.staple_from_emergence_in)} from where it comes out")
    if feed.tail_in is not None:
        held.append(f"tail {tape(feed.tail_in)} inside")
    said = {True: "yes", False: "no", None: "not said: ask"}
    told = [*held, f"barrier {said[feed.barrier]}", f"GFCI {said[feed.gfci]}", f"AFCI {said[feed.afci]}"]
    text = "; ".join(told)
    rows.append(Row(text[:1].upper() + text[1:] + "."))
    return rows
