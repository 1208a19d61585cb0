"""plan.json: the whole plan as plain data, the same bytes for the same plan, and back to records."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from typing import Any

from bayrun.files.plain import PlainError, from_plain
from bayrun.findings import Finding
from bayrun.framing.records import Bay, Cover, Frame, Member
from bayrun.geometry import Box as Solid
from bayrun.geometry import Rect
from bayrun.house import End, Job, Location, location_point
from bayrun.house.job import ModelError
from bayrun.takeoff.records import BoxCheck, DrillRow, LabelPair, LengthRow, MaterialLine, Takeoff, Totals
from bayrun.takeoff.totals import totals
from bayrun.takeoff.words import hole_room
from bayrun.wiring import (
    Box,
    ChoiceTold,
    Circle,
    DoneTold,
    Frozen,
    Grommet,
    Hole,
    NailPlate,
    PathPoint,
    Pull,
    Run,
    Seal,
    Strap,
    Support,
    Unreached,
    Wiring,
)

PLAN_SCHEMA = 1
"""Version of the plan's own shape."""

PLACES = 6
"""Inches are rounded to a millionth: far under a touch of a pencil, and free of float noise."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A plan read back from plan.json; ``job`` is plain data, as the file holds it."""

    job: Mapping[str, Any]
    frame: Frame
    wiring: Wiring
    takeoff: Takeoff
    findings: tuple[Finding, ...]
    totals: Totals | None

    def job_record(self) -> Job:
        """The job as a record.

        Raises:
            PlanFileError: The file holds it in another shape.
        """
        try:
            job: Job = from_plain(Job, self.job, "job")
        except PlainError as problem:
            raise PlanFileError(f"plan.json: {problem}") from None
        return job


class PlanFileError(ValueError):
    """A plan.json that cannot be read: the message says what was expected, got, and where."""


def to_plain(value: Any) -> Any:
    """Records to plain data: fields by name, tuples to lists, Decimals to text, floats to a millionth.

    Raises:
        TypeError: A value that has no plain form, or a number that is not finite.
    """
    if value is None or (isinstance(value, bool | str) and not isinstance(value, Enum)):
        return value
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, int):
        return value
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, Decimal):
        return str(value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(key): to_plain(one) for key, one in value.items()}
    if isinstance(value, Sequence):
        return [to_plain(one) for one in value]
    raise TypeError(f"expected plain data, got {type(value).__name__}")


def _number(value: float) -> float | int:
    if value != value or value in (float("inf"), float("-inf")):
        raise TypeError(f"expected a finite number, got {value}")
    rounded = round(value, PLACES)
    return int(rounded) if rounded.is_integer() and abs(rounded) < 1e15 else rounded


def plan_json(
    job: Job | Mapping[str, Any],
    frame: Frame,
    wiring: Wiring,
    counted: Takeoff,
    findings: Sequence[Finding] = (),
) -> bytes:
    """The whole plan as canonical JSON: sorted keys, inches to a millionth, no -0.0, one item a line.

    Args:
        job: The job as planned. Plain data stands in the file as it is given; then ``locations`` and
            ``totals`` are what it holds under these keys.
        counted: ``takeoff(job, frame, wiring)``.
        findings: All findings of the plan; those of the counting are added.
    Returns:
        UTF-8 with a newline at the end.
    """
    told = tuple(sorted((*findings, *counted.findings), key=lambda f: f.order))
    data: dict[str, Any] = {
        "plan_schema": PLAN_SCHEMA,
        "job": to_plain(job),
        "members": [_member(m) for m in frame.members],
        "bays": [_bay(b) for b in frame.bays],
        "covers": [
            _cover(word, plate, c) for word, pairs in _sides(frame) for plate, cs in pairs for c in cs
        ],
        "locations": _locations(job, wiring),
        "runs": [_run(r) for r in wiring.runs],
        "holes": [_hole(job, h) for h in wiring.holes],
        "unreached": to_plain(wiring.unreached),
        "blocked_plates": to_plain(wiring.blocked_plates),
        "cost": wiring.cost,
        "choices": to_plain(wiring.choices),
        "frozen": to_plain(wiring.frozen),
        "done_told": to_plain(wiring.done_told),
        "retired": [*wiring.retired, *counted.retired],
        "plates": to_plain(counted.plates),
        "grommets": to_plain(counted.grommets),
        "straps": to_plain(counted.straps),
        "supports": to_plain(counted.supports),
        "seals": to_plain(counted.seals),
        "pulls": to_plain(counted.pulls),
        "boxes": to_plain(counted.boxes),
        "lengths": to_plain(counted.lengths),
        "drill": to_plain(counted.drill),
        "labels": to_plain(counted.labels),
        "material": to_plain(counted.material),
        "box_checks": to_plain(counted.box_checks),
        "findings": [{"id": f.id, **to_plain(f)} for f in told],
        "totals": to_plain(totals(job, wiring, counted, told)) if isinstance(job, Job) else None,
    }
    return _canonical(data)


def _canonical(data: Mapping[str, Any]) -> bytes:
    """Sorted keys; a list at the top has one item a line, so that two plans can be compared by eye."""

    def short(value: Any) -> str:
        return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(", ", ": "), allow_nan=False)

    lines = []
    for key in sorted(data):
        value = data[key]
        if isinstance(value, list) and value:
            body = ",\n".join(f"  {short(item)}" for item in value)
            lines.append(f" {short(key)}: [\n{body}\n ]")
        elif key == "job" and isinstance(value, dict):
            body = ",\n".join(f"  {short(name)}: {short(value[name])}" for name in sorted(value))
            lines.append(f" {short(key)}: {{\n{body}\n }}")
        else:
            lines.append(f" {short(key)}: {short(value)}")
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode("utf-8")


def _sides(frame: Frame) -> tuple[tuple[str, tuple[tuple[str, tuple[Cover, ...]], ...]], ...]:
    return (("over", frame.over), ("under", frame.under))


def _member(member: Member) -> dict[str, Any]:
    box = member.box
    plain: dict[str, Any] = to_plain(member)
    plain["box"] = to_plain([box.x0, box.y0, box.z0, box.x1, box.y1, box.z1])
    return plain


def _bay(bay: Bay) -> dict[str, Any]:
    clear = bay.clear
    plain: dict[str, Any] = to_plain(bay)
    plain["clear"] = to_plain([clear.u0, clear.v0, clear.u1, clear.v1])
    return plain


def _cover(word: str, plate: str, cover: Cover) -> dict[str, Any]:
    rect = cover.rect
    return {
        "side": word,
        "plate": plate,
        "member": cover.member,
        "rect": to_plain([rect.u0, rect.v0, rect.u1, rect.v1]),
    }


def _locations(job: Job | Mapping[str, Any], wiring: Wiring) -> list[Any]:
    if not isinstance(job, Job):
        return list(job.get("locations", ()))
    return [_location(job, location, wiring) for location in job.locations]


def _location(job: Job, location: Location, wiring: Wiring) -> dict[str, Any]:
    plain: dict[str, Any] = to_plain(location)
    try:
        plain["at"] = to_plain(location_point(job, location))
    except (ModelError, KeyError):
        plain["at"] = None
    end = End("location", location.id)
    plain["runs"] = [run.id for run in wiring.runs if end in (run.from_end, run.to_end)]
    return plain


def _run(run: Run) -> dict[str, Any]:
    return {
        "id": run.id,
        "kind": run.kind,
        "from": to_plain(run.from_end),
        "to": to_plain(run.to_end),
        "path": [[*to_plain([p.x, p.y, p.z]), p.member or None] for p in run.path],
        "path_holes": [p.hole or None for p in run.path],
        "length_in": _number(run.length_in),
        "slack_in": _number(run.slack_in),
        "slack_from_in": _number(run.slack_from_in),
        "slack_to_in": _number(run.slack_to_in),
        "entry": run.entry,
        "way": run.way,
        "reason": run.reason,
    }


def _hole(job: Job | Mapping[str, Any], hole: Hole) -> dict[str, Any]:
    plain: dict[str, Any] = to_plain(hole)
    plain["circles"] = [to_plain([c.x, c.y, c.r]) for c in hole.circles]
    if isinstance(job, Job):
        plain["room"] = hole_room(job, hole)
    return plain


def read_plan_json(data: bytes) -> Plan:
    """Read a plan back to records, for instance as the base of a new plan.

    Raises:
        PlanFileError: It is not UTF-8 JSON, not a plan, of another schema, or a record lacks something.
    """
    try:
        told = json.loads(data.decode("utf-8"))
    except (UnicodeDecodeError, json.JSONDecodeError) as problem:
        raise PlanFileError(f"plan.json: expected JSON in UTF-8, got a fault: {problem}") from None
    except RecursionError:
        raise PlanFileError("plan.json: expected a plan, got data nested too deep") from None
    if not isinstance(told, dict) or "runs" not in told:
        raise PlanFileError("plan.json: expected a plan with runs, holes and members, got something else")
    if told.get("plan_schema") != PLAN_SCHEMA:
        got = told.get("plan_schema")
        raise PlanFileError(f"plan.json: expected plan_schema {PLAN_SCHEMA}, got {got!r}")
    try:
        return _plan(told)
    except PlainError as problem:
        raise PlanFileError(f"plan.json: {problem}") from None
    except (KeyError, TypeError, ValueError, IndexError) as problem:
        what = f"{problem.args[0]!r} to be there" if isinstance(problem, KeyError) else str(problem)
        raise PlanFileError(f"plan.json: expected a whole plan, got a fault: {what}") from None


def _plan(told: dict[str, Any]) -> Plan:
    def records(key: str, kind: Any) -> Any:
        return tuple(from_plain(kind, one, f"{key}[{i}]") for i, one in enumerate(told.get(key) or ()))

    frame = Frame(
        members=tuple(_read_member(m, f"members[{i}]") for i, m in enumerate(told["members"])),
        bays=tuple(_read_bay(b, f"bays[{i}]") for i, b in enumerate(told["bays"])),
        over=_read_covers(told, "over"),
        under=_read_covers(told, "under"),
    )
    wiring = Wiring(
        runs=tuple(_read_run(r, f"runs[{i}]") for i, r in enumerate(told["runs"])),
        holes=tuple(_read_hole(h, f"holes[{i}]") for i, h in enumerate(told["holes"])),
        unreached=records("unreached", Unreached),
        blocked_plates=records("blocked_plates", tuple[str, float, str, str]),
        cost=int(told.get("cost") or 0),
        choices=records("choices", ChoiceTold),
        frozen=from_plain(Frozen, told["frozen"], "frozen") if told.get("frozen") else Frozen(),
        done_told=records("done_told", DoneTold),
        retired=tuple(n for n in records("retired", str) if n.startswith("H")),
    )
    findings = [{k: v for k, v in one.items() if k != "id"} for one in told.get("findings") or ()]
    counted = Takeoff(
        lengths=records("lengths", LengthRow),
        plates=records("plates", NailPlate),
        grommets=records("grommets", Grommet),
        straps=records("straps", Strap),
        supports=records("supports", Support),
        seals=records("seals", Seal),
        drill=records("drill", DrillRow),
        pulls=records("pulls", Pull),
        boxes=records("boxes", Box),
        labels=records("labels", LabelPair),
        material=records("material", MaterialLine),
        box_checks=records("box_checks", BoxCheck),
        retired=tuple(n for n in records("retired", str) if not n.startswith("H")),
    )
    return Plan(
        job=told["job"],
        frame=frame,
        wiring=wiring,
        takeoff=counted,
        findings=tuple(from_plain(Finding, one, f"findings[{i}]") for i, one in enumerate(findings)),
        totals=from_plain(Totals, told["totals"], "totals") if told.get("totals") else None,
    )


def _read_member(told: dict[str, Any], where: str) -> Member:
    box = Solid(*_floats(told["box"], 6, f"{where}.box"))
    member: Member = from_plain(Member, {**told, "box": dataclasses.asdict(box)}, where)
    return member


def _read_bay(told: dict[str, Any], where: str) -> Bay:
    clear = Rect(*_floats(told["clear"], 4, f"{where}.clear"))
    bay: Bay = from_plain(Bay, {**told, "clear": dataclasses.asdict(clear)}, where)
    return bay


def _read_covers(told: dict[str, Any], side: str) -> tuple[tuple[str, tuple[Cover, ...]], ...]:
    found: dict[str, list[Cover]] = {}
    for i, one in enumerate(told.get("covers") or ()):
        if one["side"] == side:
            rect = Rect(*_floats(one["rect"], 4, f"covers[{i}].rect"))
            found.setdefault(one["plate"], []).append(Cover(one["member"], rect))
    return tuple((plate, tuple(covers)) for plate, covers in found.items())


def _read_run(told: dict[str, Any], where: str) -> Run:
    holes = told.get("path_holes") or [None] * len(told["path"])
    points = []
    for i, (point, hole) in enumerate(zip(told["path"], holes, strict=True)):
        x, y, z = _floats(point[:3], 3, f"{where}.path[{i}]")
        points.append(PathPoint(x, y, z, hole or "", point[3] or ""))
    return Run(
        id=from_plain(str, told["id"], f"{where}.id"),
        kind=from_plain(str, told["kind"], f"{where}.kind"),
        from_end=from_plain(End, told["from"], f"{where}.from"),
        to_end=from_plain(End, told["to"], f"{where}.to"),
        path=tuple(points),
        slack_from_in=from_plain(float, told["slack_from_in"], f"{where}.slack_from_in"),
        slack_to_in=from_plain(float, told["slack_to_in"], f"{where}.slack_to_in"),
        entry=told.get("entry", ""),
        way=told.get("way", ""),
        reason=told.get("reason", ""),
    )


def _read_hole(told: dict[str, Any], where: str) -> Hole:
    circles = [
        dataclasses.asdict(Circle(*_floats(c, 3, f"{where}.circles[{i}]")))
        for i, c in enumerate(told["circles"])
    ]
    hole: Hole = from_plain(Hole, {**told, "circles": circles}, where)
    return hole


def _floats(values: Any, count: int, where: str) -> list[float]:
    if not isinstance(values, list) or len(values) != count:
        raise PlainError(f"{where}: expected {count} numbers, got {values!r}")
    return [float(from_plain(float, value, where)) for value in values]
