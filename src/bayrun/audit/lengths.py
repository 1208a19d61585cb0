"""Lengths: segments, slack at both ends, what is cut."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bayrun.audit.defects import Defect
from bayrun.audit.paths import enclosure_of, way_words
from bayrun.audit.places import LOOSE_IN
from bayrun.audit.reading import Way
from bayrun.audit.site import Site
from bayrun.units import feet_and_inches, tape


def wanted_slack_in(site: Site, end: tuple[str, str]) -> float | None:
    """The firm's slack at an end; at the enclosure past its far corner from the entry [in].

    A cable enters in the middle of the top or bottom: the far corner is half its width and its whole
    height away, square.
    """
    slack = site.job.practice.slack
    box = enclosure_of(site, end)
    if box is not None:
        return slack.enclosure_in + box.height_in + box.width_in / 2
    if end[0] == "location":
        location = next((q for q in site.job.locations if q.id == end[1]), None)
        if location is None:
            return None
        if location.slack_in is not None:
            return location.slack_in
        return {
            "wall": slack.wall_in,
            "ceiling": slack.ceiling_in,
            "soffit": slack.soffit_in,
            "exterior": slack.exterior_in,
            "contact": slack.contact_in,
            "coil": slack.coil_in,
            "conduit": slack.conduit_in,
        }[location.mount]
    gear = next((g for g in site.job.gear if g.id == end[1]), None)
    if gear is None:
        return None
    return slack.gear_in if gear.slack_in is None else gear.slack_in


def cut_in(site: Site, run: Way) -> float:
    """What has to come off the box: jacket and both slacks, up to the next whole foot [in]."""
    jacket = run.path_in * site.job.practice.dress_factor + sum(run.slacks)
    return 12.0 * math.ceil(jacket / 12.0 - 1e-6)


def check_lengths(site: Site) -> Iterator[Defect]:
    """Slack, length, square distance, length list."""
    rows = {str(row["run"]): row for row in site.plan.list("lengths")}
    if len(rows) != len(site.plan.list("lengths")):
        yield Defect("id-twice", ("lengths",), "length list", "a run stands twice on the length list")
    for name in sorted(set(rows) - {r.id for r in site.plan.runs}):
        yield Defect("length-wrong", (name,), "length list", f"run {name} is measured but not planned")
    for run in site.plan.runs:
        place = way_words(site, run)
        for end, got in zip(run.ends, run.slacks, strict=True):
            want = wanted_slack_in(site, end)
            if want is not None and abs(got - want) > LOOSE_IN:
                says = f"run {run.id} leaves {tape(got)} at {end[0]} {end[1]}; the firm leaves {tape(want)}"
                yield Defect("slack-wrong", (run.id, end[1]), place, says, got, want)
        if abs(run.slack_in - sum(run.slacks)) > LOOSE_IN:
            says = (
                f"run {run.id}: both slacks together are {tape(sum(run.slacks))}, told {tape(run.slack_in)}"
            )
            yield Defect("slack-wrong", (run.id,), place, says, run.slack_in, sum(run.slacks))
        want = run.path_in + sum(run.slacks)
        if abs(run.length_in - want) > 10 * LOOSE_IN:
            says = (
                f"run {run.id} is told {feet_and_inches(run.length_in)} long; "
                f"its segments and slack are {feet_and_inches(want)}"
            )
            yield Defect("length-wrong", (run.id,), place, says, run.length_in, want)
        yield from _square(site, run, place)
        row = rows.get(run.id)
        if row is None:
            yield Defect("length-wrong", (run.id,), place, f"run {run.id} is on no length list")
            continue
        if abs(row["length_in"] - want) > 10 * LOOSE_IN:
            told = feet_and_inches(row["length_in"])
            says = f"the length list says {told} for run {run.id}, not {feet_and_inches(want)}"
            yield Defect("length-wrong", (run.id,), place, says, row["length_in"], want)
        needed = cut_in(site, run)
        if abs(row["cut_in"] - needed) > LOOSE_IN:
            says = (
                f"run {run.id} is cut at {feet_and_inches(row['cut_in'])}; it needs {feet_and_inches(needed)}"
            )
            yield Defect("cut-short", (run.id,), place, says, row["cut_in"], needed)


def _square(site: Site, run: Way, place: str) -> Iterator[Defect]:
    if site.job.practice.straight_in_open_space or len(run.points) < 2:
        least = math.dist(run.points[0], run.points[-1]) if run.points else 0.0
    elif all(w.start[0] == w.end[0] or w.start[1] == w.end[1] for w in site.job.walls):
        least = sum(abs(a - b) for a, b in zip(run.points[0], run.points[-1], strict=True))
    else:
        least = math.dist(run.points[0], run.points[-1])
    want = least + sum(run.slacks)
    if run.length_in < want - 10 * LOOSE_IN:
        says = (
            f"run {run.id} is told {feet_and_inches(run.length_in)} long; "
            f"its ends alone are {feet_and_inches(want)} apart with slack"
        )
        yield Defect("length-wrong", (run.id,), place, says, run.length_in, want)
