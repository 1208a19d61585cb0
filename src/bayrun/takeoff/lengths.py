"""The length of every run: way, slack at both ends, and what to cut."""

from __future__ import annotations

import math

from bayrun.geometry import TOUCH_IN, at_most
from bayrun.house import End, Job, ModelError, enclosure_entries, location_point
from bayrun.house.building import Point3
from bayrun.takeoff.records import LengthRow
from bayrun.takeoff.words import end_place, natural
from bayrun.units import tape
from bayrun.wiring import Run, Wiring

TERMINAL_REACH_IN = 6.0
"""A path that ends this near its box ends at it: half a wall and the box's own depth [in]. Our own figure."""


def whole_feet_in(length_in: float) -> float:
    """A length up to the next whole foot, as it is pulled off the box [in]; on the foot stays."""
    return 12.0 * math.ceil(length_in / 12 - TOUCH_IN)


def cut_length_in(job: Job, run: Run) -> float:
    """What to pull off the box for a run: jacket, both slacks, up to the next whole foot [in].

    The way counts times the firm's dress factor; slack does not.
    """
    return whole_feet_in(run.path_in * job.practice.dress_factor + run.slack_in)


def length_rows(job: Job, wiring: Wiring) -> tuple[LengthRow, ...]:
    """One row a run, in the order of their ids."""
    return tuple(
        LengthRow(
            run=run.id,
            kind=run.kind,
            kind_name=kind_name(job, run.kind),
            from_place=end_place(job, run.from_end),
            to_place=end_place(job, run.to_end),
            way_in=run.path_in * job.practice.dress_factor,
            slack_from_in=run.slack_from_in,
            slack_to_in=run.slack_to_in,
            length_in=run.length_in,
            cut_in=cut_length_in(job, run),
            entry=run.entry,
            way=run.way,
            reason=run.reason,
        )
        for run in sorted(wiring.runs, key=lambda r: natural(r.id))
    )


def kind_name(job: Job, letter: str) -> str:
    """A cable kind by its name; its letter where the firm has not named it."""
    return next((k.name for k in job.practice.cables if k.letter == letter), letter)


def terminal_points(job: Job, end: End) -> tuple[Point3, ...]:
    """World points where a run may end: the box, an entry of the enclosure, or the device.

    Returns an empty tuple where the job does not say the place (gear without coordinates).
    """
    if end.type == "location":
        return (location_point(job, job.location(end.id)),)
    if end.type == "enclosure":
        box = next((e for e in job.enclosures if e.id == end.id), None)
        return tuple(point for _, point in enclosure_entries(job, box)) if box else ()
    gear = job.gear_of(end.id)
    if gear.x_in is None or gear.y_in is None or gear.z_in is None:
        return ()
    return ((gear.x_in, gear.y_in, gear.z_in),)


def short_ends(job: Job, wiring: Wiring) -> tuple[str, ...]:
    """The law "no run ends short of a terminal", as defects in words; empty where it holds.

    A run is short when its path stops farther from its terminal than half a wall, when a slack is
    negative, or when what is cut is less than path and slacks.
    """
    defects = []
    for run in wiring.runs:
        if len(run.path) < 2:
            defects.append(f"run {run.id}: expected a path of at least two points, got {len(run.path)}")
            continue
        for end, point in ((run.from_end, run.path[0]), (run.to_end, run.path[-1])):
            try:
                terminals = terminal_points(job, end)
            except (KeyError, ModelError) as problem:
                defects.append(
                    f"run {run.id}: its end {end.type} {end.id} has no place in the job ({problem})"
                )
                continue
            gap_in = min((math.dist((point.x, point.y, point.z), t) for t in terminals), default=0.0)
            if not at_most(gap_in, TERMINAL_REACH_IN):
                defects.append(f"run {run.id} stops {tape(gap_in)} short of {end_place(job, end)}")
        if run.slack_from_in < 0 or run.slack_to_in < 0:
            defects.append(f"run {run.id}: expected slack of zero or more, got {tape(run.slack_in)}")
        if not at_most(run.length_in, cut_length_in(job, run)):
            defects.append(f"run {run.id}: cut {tape(cut_length_in(job, run))} for {tape(run.length_in)}")
    return tuple(defects)
