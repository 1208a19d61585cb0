"""plan.json as the audit reads it: plain records of its own, every fault of the file told at once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

V3 = tuple[float, float, float]


class PlanError(ValueError):
    """A plan that cannot be read; ``faults`` says of each what was expected, what was got, and where."""

    def __init__(self, faults: list[str]) -> None:
        """Keep every fault, in the order found."""
        self.faults = tuple(faults)
        super().__init__("; ".join(faults))


@dataclass(frozen=True, slots=True)
class Told:
    """One member as the plan tells it."""

    id: str
    host: str
    role: str
    material: str
    along: tuple[float, float]
    up: tuple[float, float]
    across: tuple[float, float]
    box: tuple[float, ...]
    plies: int
    bearing: bool
    exterior: bool


@dataclass(frozen=True, slots=True)
class Way:
    """One run as the plan tells it; ``ends`` are ((type, id), (type, id))."""

    id: str
    kind: str
    ends: tuple[tuple[str, str], tuple[str, str]]
    points: tuple[V3, ...]
    members: tuple[str, ...]
    holes: tuple[str, ...]
    length_in: float
    slack_in: float
    slacks: tuple[float, float]
    entry: str

    @property
    def path_in(self) -> float:
        """Sum of its segments [in]."""
        pairs = zip(self.points, self.points[1:], strict=False)
        return math.fsum(math.dist(a, b) for a, b in pairs)


@dataclass(frozen=True, slots=True)
class Bore:
    """One hole as the plan tells it."""

    id: str
    members: tuple[str, ...]
    axis: str
    along_in: float
    up_in: float
    across_in: float
    at: V3
    diameter_in: float
    occupants: tuple[str, ...]
    circles: tuple[tuple[float, ...], ...]
    open_passage: bool


@dataclass(frozen=True, slots=True)
class PlanTold:
    """The whole plan; lists that need no arithmetic of places stay as checked rows."""

    job: Mapping[str, Any]
    members: tuple[Told, ...]
    runs: tuple[Way, ...]
    holes: tuple[Bore, ...]
    rows: Mapping[str, tuple[Mapping[str, Any], ...]]
    totals: Mapping[str, Any]

    def list(self, key: str) -> tuple[Mapping[str, Any], ...]:
        """Rows of one list."""
        return self.rows[key]


_ROWS: dict[str, dict[str, str]] = {
    "bays": {"id": "text", "wall": "text", "clear": "4", "depth_in": "number"},
    "locations": {"id": "text", "runs": "texts", "at": "place"},
    "unreached": {"run": "text", "last_place": "text", "barred_by": "text"},
    "plates": {
        "id": "text", "hole": "text", "member": "text", "side": "text", "length_in": "number",
        "width_in": "number", "pieces": "number",
    },
    "grommets": {"id": "text", "hole": "text", "member": "text"},
    "straps": {"id": "text", "hole": "text", "member": "text", "length_in": "number"},
    "supports": {"id": "text", "runs": "texts", "count": "number"},
    "seals": {"id": "text", "hole": "text", "location": "text", "material": "text"},
    "pulls": {"id": "text", "order": "number", "runs": "texts", "boxes": "pairs"},
    "boxes": {
        "id": "text", "kind": "text", "start_ft": "number", "left_ft": "number", "cuts": "cuts",
        "partial": "truth",
    },
    "lengths": {"run": "text", "length_in": "number", "cut_in": "number", "way_in": "number"},
    "drill": {"hole": "text", "bit_in": "number", "drilled": "truth", "runs": "texts"},
    "labels": {"run": "text", "mark": "text", "from_text": "text", "to_text": "text"},
    "material": {"item": "text", "price": "money"},
    "findings": {"rule": "text", "severity": "text", "about": "texts"},
}  # fmt: skip

_TOTALS = {
    "locations", "runs", "unreached", "feet", "holes", "open_passages", "plates", "straps", "grommets",
    "supports", "seals", "pulls", "boxes", "stops", "fix_soon", "notes", "cannot_tell", "unpriced",
}  # fmt: skip


class _Reader:
    def __init__(self) -> None:
        self.faults: list[str] = []

    def bad(self, where: str, expected: str, got: Any) -> None:
        words = repr(got)
        self.faults.append(
            f"{where}: expected {expected}, got {words if len(words) < 60 else words[:57] + '…'}"
        )

    def number(self, value: Any, where: str) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            self.bad(where, "a number", value)
            return 0.0
        return float(value)

    def text(self, value: Any, where: str) -> str:
        if not isinstance(value, str):
            self.bad(where, "text", value)
            return ""
        return value

    def truth(self, value: Any, where: str) -> bool:
        if not isinstance(value, bool):
            self.bad(where, "true or false", value)
        return bool(value)

    def items(self, value: Any, where: str, count: int | None = None) -> list[Any]:
        if not isinstance(value, list) or (count is not None and len(value) != count):
            self.bad(where, f"a list of {count}" if count is not None else "a list", value)
            return [0] * (count or 0)
        return value

    def numbers(self, value: Any, where: str, count: int) -> tuple[float, ...]:
        return tuple(self.number(v, f"{where}[{i}]") for i, v in enumerate(self.items(value, where, count)))

    def texts(self, value: Any, where: str) -> tuple[str, ...]:
        return tuple(self.text(v, f"{where}[{i}]") for i, v in enumerate(self.items(value, where)))

    def table(self, value: Any, where: str) -> Mapping[str, Any]:
        if not isinstance(value, Mapping):
            self.bad(where, "an object", value)
            return {}
        return value

    def rows(self, plan: Mapping[str, Any], key: str) -> list[tuple[Mapping[str, Any], str]]:
        if key not in plan:
            self.faults.append(f"plan.json: expected a list “{key}”, got none")
            return []
        listed = self.items(plan[key], key)
        return [(self.table(one, f"{key}[{i}]"), f"{key}[{i}]") for i, one in enumerate(listed)]

    def check(self, value: Any, how: str, where: str) -> None:
        if how == "text":
            self.text(value, where)
        elif how == "number":
            self.number(value, where)
        elif how == "truth":
            self.truth(value, where)
        elif how == "texts":
            self.texts(value, where)
        elif how == "4":
            self.numbers(value, where, 4)
        elif how == "place":
            if value is not None:
                self.numbers(value, where, 3)
        elif how == "money":
            if value is not None:
                self.money(value, where)
        else:
            for i, pair in enumerate(self.items(value, where)):
                first, second = self.items(pair, f"{where}[{i}]", 2)
                self.text(first, f"{where}[{i}][0]")
                (self.number if how == "cuts" else self.text)(second, f"{where}[{i}][1]")

    def money(self, value: Any, where: str) -> None:
        if not isinstance(value, str) or not value.replace(".", "", 1).replace("-", "", 1).isdigit():
            self.bad(where, "an amount as text, like “12.50”", value)

    def member(self, one: Mapping[str, Any], where: str) -> Told:
        def pair(key: str) -> tuple[float, float]:
            low, high = self.numbers(one.get(key), f"{where}.{key}", 2)
            return low, high

        return Told(
            id=self.text(one.get("id"), f"{where}.id"),
            host=self.text(one.get("host"), f"{where}.host"),
            role=self.text(one.get("role"), f"{where}.role"),
            material=self.text(one.get("material"), f"{where}.material"),
            along=pair("along"),
            up=pair("up"),
            across=pair("across"),
            box=self.numbers(one.get("box"), f"{where}.box", 6),
            plies=int(self.number(one.get("plies", 1), f"{where}.plies")),
            bearing=self.truth(one.get("bearing"), f"{where}.bearing"),
            exterior=self.truth(one.get("exterior"), f"{where}.exterior"),
        )

    def run(self, one: Mapping[str, Any], where: str) -> Way:
        def end(key: str) -> tuple[str, str]:
            told = self.table(one.get(key), f"{where}.{key}")
            return self.text(told.get("type"), f"{where}.{key}.type"), self.text(
                told.get("id"), f"{where}.{key}.id"
            )

        points: list[V3] = []
        members: list[str] = []
        for i, point in enumerate(self.items(one.get("path"), f"{where}.path")):
            four = self.items(point, f"{where}.path[{i}]", 4)
            x, y, z = self.numbers(four[:3], f"{where}.path[{i}]", 3)
            points.append((x, y, z))
            members.append("" if four[3] in (None, 0) else self.text(four[3], f"{where}.path[{i}][3]"))
        holes = self.items(one.get("path_holes"), f"{where}.path_holes")
        if len(holes) != len(points):
            self.bad(f"{where}.path_holes", f"{len(points)} entries, one a point of the path", len(holes))
            holes = [None] * len(points)
        return Way(
            id=self.text(one.get("id"), f"{where}.id"),
            kind=self.text(one.get("kind"), f"{where}.kind"),
            ends=(end("from"), end("to")),
            points=tuple(points),
            members=tuple(members),
            holes=tuple(
                "" if h is None else self.text(h, f"{where}.path_holes[{i}]") for i, h in enumerate(holes)
            ),
            length_in=self.number(one.get("length_in"), f"{where}.length_in"),
            slack_in=self.number(one.get("slack_in"), f"{where}.slack_in"),
            slacks=(
                self.number(one.get("slack_from_in"), f"{where}.slack_from_in"),
                self.number(one.get("slack_to_in"), f"{where}.slack_to_in"),
            ),
            entry=self.text(one.get("entry", ""), f"{where}.entry"),
        )

    def hole(self, one: Mapping[str, Any], where: str) -> Bore:
        numbers = {
            key: self.number(one.get(key), f"{where}.{key}")
            for key in ("along_in", "up_in", "across_in", "x", "y", "z", "diameter_in")
        }
        axis = self.text(one.get("axis"), f"{where}.axis")
        if axis not in ("along", "up", "across"):
            self.bad(f"{where}.axis", "along, up or across", axis)
        plies = self.texts(one.get("plies", []), f"{where}.plies")
        circles = self.items(one.get("circles"), f"{where}.circles")
        return Bore(
            id=self.text(one.get("id"), f"{where}.id"),
            members=(self.text(one.get("member"), f"{where}.member"), *plies),
            axis=axis,
            along_in=numbers["along_in"],
            up_in=numbers["up_in"],
            across_in=numbers["across_in"],
            at=(numbers["x"], numbers["y"], numbers["z"]),
            diameter_in=numbers["diameter_in"],
            occupants=self.texts(one.get("occupants"), f"{where}.occupants"),
            circles=tuple(self.numbers(c, f"{where}.circles[{i}]", 3) for i, c in enumerate(circles)),
            open_passage=self.truth(one.get("open_passage", False), f"{where}.open_passage"),
        )


def read_plan(plan: Mapping[str, Any]) -> PlanTold:
    """A parsed plan.json as the audit's own records.

    Raises:
        PlanError: It is no plan, or records lack something; every fault is told at once.
    """
    reader = _Reader()
    if not isinstance(plan, Mapping):
        raise PlanError([f"plan.json: expected an object, got {type(plan).__name__}"])
    if plan.get("plan_schema") != 1:
        reader.bad("plan_schema", "1", plan.get("plan_schema"))
        raise PlanError(reader.faults)
    job = reader.table(plan.get("job"), "job")
    members = tuple(reader.member(one, where) for one, where in reader.rows(plan, "members"))
    runs = tuple(reader.run(one, where) for one, where in reader.rows(plan, "runs"))
    holes = tuple(reader.hole(one, where) for one, where in reader.rows(plan, "holes"))
    rows: dict[str, tuple[Mapping[str, Any], ...]] = {}
    for key, fields in _ROWS.items():
        found = reader.rows(plan, key)
        for one, where in found:
            for name, how in fields.items():
                reader.check(one.get(name), how, f"{where}.{name}")
        rows[key] = tuple(one for one, _ in found)
    totals = reader.table(plan.get("totals"), "totals")
    for name in sorted(_TOTALS):
        reader.number(totals.get(name), f"totals.{name}")
    reader.check(totals.get("feet_by_kind"), "cuts", "totals.feet_by_kind")
    reader.money(totals.get("price"), "totals.price")
    if reader.faults:
        raise PlanError(reader.faults)
    return PlanTold(job, members, runs, holes, rows, totals)
