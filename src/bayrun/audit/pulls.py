"""Pulls, cable boxes, labels: each run pulled once, cut once, named once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from bayrun.audit.defects import Defect
from bayrun.audit.lengths import cut_in
from bayrun.audit.paths import way_words
from bayrun.audit.places import LOOSE_IN
from bayrun.audit.site import Site
from bayrun.geometry import at_most, near
from bayrun.units import feet_and_inches

_ALIKE = {"O": "0", "Q": "0", "I": "1", "L": "1", "S": "5", "Z": "2", "B": "8"}


def check_pulls(site: Site) -> Iterator[Defect]:
    """Each planned run in exactly one pull, no pull more than the stand holds, one box a cable."""
    pulls = site.plan.list("pulls")
    taken = Counter(str(run) for pull in pulls for run in pull["runs"])
    runs = {r.id: r for r in site.plan.runs}
    for name, run in runs.items():
        if taken[name] != 1:
            says = f"run {name} is in {taken[name]} pulls"
            yield Defect("pull-wrong", (name,), way_words(site, run), says, taken[name], 1)
    for name in sorted(set(taken) - set(runs)):
        yield Defect("pull-wrong", (name,), "pull list", f"run {name} is pulled but not planned")
    for what in ("id", "order"):
        for value, n in Counter(pull[what] for pull in pulls).items():
            if n > 1:
                yield Defect("id-twice", (str(value),), "pull list", f"{n} pulls have the {what} {value}")
    feeds = {(str(box["id"]), str(run)) for box in site.plan.list("boxes") for run, _ in box["cuts"]}
    for pull in pulls:
        name = str(pull["id"])
        most = max(1, site.job.practice.stand_boxes)
        if len(pull["runs"]) > most:
            says = f"pull {name} takes {len(pull['runs'])} cables at once from a stand of {most} boxes"
            yield Defect("pull-wrong", (name,), "pull list", says, len(pull["runs"]), most)
        boxes = [str(box) for _, box in pull["boxes"]]
        for box, n in Counter(boxes).items():
            if n > 1:
                says = f"pull {name} takes {n} cables from the one box {box} at the same time"
                yield Defect("pull-wrong", (name, box), "pull list", says, n, 1)
        for run_id, box in pull["boxes"]:
            if run_id not in pull["runs"] or (str(box), str(run_id)) not in feeds:
                says = f"pull {name} takes run {run_id} from box {box}, which does not feed it"
                yield Defect("pull-wrong", (name, str(run_id)), "pull list", says)


def check_boxes(site: Site) -> Iterator[Defect]:
    """Cuts add up, the reserve stays, every run is cut once from a box of its kind that was there."""
    kinds = {k.letter: k for k in site.job.practice.cables}
    boxes = site.plan.list("boxes")
    for name, n in Counter(str(b["id"]) for b in boxes).items():
        if n > 1:
            yield Defect("id-twice", (name,), "box list", f"{n} boxes are called {name}")
    for box in boxes:
        name = str(box["id"])
        kind = kinds.get(box["kind"])
        cuts = sum(float(length) for _, length in box["cuts"])
        left = float(box["start_ft"]) - cuts / 12
        if abs(left - box["left_ft"]) > LOOSE_IN:
            says = f"box {name} is told to keep {box['left_ft']:.1f} ft; its cuts leave {left:.1f} ft"
            yield Defect("box-wrong", (name,), "box list", says, float(box["left_ft"]), left)
        if kind is None:
            yield Defect("box-wrong", (name,), "box list", f"the firm has no cable kind {box['kind']}")
            continue
        if not at_most(kind.reserve_ft, left):
            says = (
                f"box {name} is cut down to {left:.1f} ft; its last {kind.reserve_ft:.0f} ft cannot be used"
            )
            yield Defect("box-wrong", (name,), "box list", says, left, kind.reserve_ft)
        if not box["partial"] and not near(float(box["start_ft"]), kind.box_ft):
            says = f"box {name} starts with {box['start_ft']:.0f} ft; a full one holds {kind.box_ft:.0f} ft"
            yield Defect("box-wrong", (name,), "box list", says, float(box["start_ft"]), kind.box_ft)
    yield from _on_hand(site, boxes)
    yield from _cuts(site, boxes)


def _on_hand(site: Site, boxes: tuple[Any, ...]) -> Iterator[Defect]:
    have = Counter((letter, round(feet, 6)) for letter, feet in site.job.practice.partial_boxes)
    used = Counter((str(b["kind"]), round(float(b["start_ft"]), 6)) for b in boxes if b["partial"])
    for (letter, feet), n in sorted(used.items()):
        if n > have[letter, feet]:
            says = (
                f"{n} opened boxes of {letter} with {feet:.0f} ft are used; the firm has {have[letter, feet]}"
            )
            yield Defect("box-wrong", (letter,), "box list", says, n, have[letter, feet])


def _cuts(site: Site, boxes: tuple[Any, ...]) -> Iterator[Defect]:
    cuts: dict[str, list[tuple[str, str, float]]] = {}
    for box in boxes:
        for run, length in box["cuts"]:
            cuts.setdefault(str(run), []).append((str(box["id"]), str(box["kind"]), float(length)))
    told_long = {
        str(name)
        for f in site.plan.list("findings")
        if f["rule"] == "run-longer-than-box"
        for name in f["about"]
    }
    runs = {r.id: r for r in site.plan.runs}
    for name, run in runs.items():
        mine = cuts.get(name, [])
        place = way_words(site, run)
        if len(mine) != 1 and not (not mine and name in told_long):
            says = f"run {name} is cut from {len(mine)} boxes"
            yield Defect("run-cut-wrong", (name,), place, says, len(mine), 1)
        needed = cut_in(site, run)
        for box, kind, length in mine:
            if kind != run.kind:
                says = f"run {name} is {run.kind} and is cut from box {box} of {kind}"
                yield Defect("run-cut-wrong", (name, box), place, says, kind, run.kind)
            if abs(length - needed) > LOOSE_IN:
                told = feet_and_inches(length)
                says = f"run {name} is cut at {told} from {box}; it needs {feet_and_inches(needed)}"
                yield Defect("cut-short", (name, box), place, says, length, needed)
    for name in sorted(set(cuts) - set(runs)):
        yield Defect("run-cut-wrong", (name,), "box list", f"run {name} is cut but not planned")


def check_labels(site: Site) -> Iterator[Defect]:
    """One pair a run; no two marks that a hurried hand reads as one."""
    rows = site.plan.list("labels")
    count = Counter(str(row["run"]) for row in rows)
    runs = {r.id: r for r in site.plan.runs}
    for name, run in runs.items():
        if count[name] != 1:
            says = f"run {name} has {count[name]} label pairs"
            yield Defect("label-wrong", (name,), way_words(site, run), says, count[name], 1)
    for name in sorted(set(count) - set(runs)):
        yield Defect("label-wrong", (name,), "label list", f"run {name} is labeled but not planned")
    seen: dict[str, str] = {}
    for row in rows:
        mark = str(row["mark"])
        looks = "".join(_ALIKE.get(c, c) for c in mark.upper())
        if looks in seen and seen[looks] != row["run"]:
            says = f"mark {mark} of run {row['run']} reads like the mark of run {seen[looks]}"
            yield Defect("label-wrong", (str(row["run"]), seen[looks]), "label list", says, mark)
        seen.setdefault(looks, str(row["run"]))
        for key in ("from_text", "to_text"):
            if not str(row[key]).startswith(mark):
                says = f"a label of run {row['run']} says “{row[key]}”, not its mark {mark}"
                yield Defect("label-wrong", (str(row["run"]),), "label list", says, str(row[key]), mark)
