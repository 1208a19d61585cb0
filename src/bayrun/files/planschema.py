"""The published JSON Schema of plan.json, for whoever reads a plan with other tools."""

from __future__ import annotations

from typing import Any

from bayrun.files.planjson import PLAN_SCHEMA

Schema = dict[str, Any]

_TEXT: Schema = {"type": "string"}
_NUMBER: Schema = {"type": "number"}
_WHOLE: Schema = {"type": "integer", "minimum": 0}
_YES_NO: Schema = {"type": "boolean"}
_IDS: Schema = {"type": "array", "items": _TEXT}
_AMOUNT: Schema = {"anyOf": [{"type": "string", "pattern": r"^-?\d+(\.\d+)?$"}, {"type": "null"}]}


def _numbers(count: int, says: str) -> Schema:
    return {"type": "array", "items": _NUMBER, "minItems": count, "maxItems": count, "description": says}


def _item(says: str, need: dict[str, Schema], more: dict[str, Schema] | None = None) -> Schema:
    return {
        "type": "object",
        "description": says,
        "properties": {**need, **(more or {})},
        "required": sorted(need),
    }


def _list(item: Schema) -> Schema:
    return {"type": "array", "items": item}


_SPAN = _numbers(2, "from and to [in]")

_END = _item("One end of a run.", {"type": {"enum": ["location", "enclosure", "device"]}, "id": _TEXT})

_MEMBER = _item(
    "One piece of framing. A wall member lies in its wall's coordinates: along from the wall's start, up "
    "from the level's subfloor, across from the center line, left positive. A frame member: in the world.",
    {
        "id": _TEXT,
        "host": _TEXT,
        "role": _TEXT,
        "material": {
            "enum": ["wood", "steel", "concrete", "I-joist", "truss", "engineered", "gypsum"],
        },
        "box": _numbers(6, "x0, y0, z0, x1, y1, z1 in the world [in]"),
        "along": _SPAN,
        "up": _SPAN,
        "across": _SPAN,
        "bearing": _YES_NO,
        "plies": {"type": "integer", "minimum": 1},
    },
    {"level": _TEXT, "exterior": _YES_NO, "says": _TEXT},
)

_BAY = _item(
    "Clear space between two members of a wall.",
    {
        "id": _TEXT,
        "wall": _TEXT,
        "level": _TEXT,
        "clear": _numbers(4, "along from, up from, along to, up to [in]"),
        "depth_in": _NUMBER,
        "low": _TEXT,
        "high": _TEXT,
        "under": _TEXT,
        "over": _TEXT,
    },
)

_COVER = _item(
    "A member that lies on a top plate or under a bottom plate.",
    {
        "side": {"enum": ["over", "under"]},
        "plate": _TEXT,
        "member": _TEXT,
        "rect": _numbers(4, "along from, across from, along to, across to in the plate's wall [in]"),
    },
)

_LOCATION = _item(
    "A box or ring in a wall or ceiling. The enclosure is not one.",
    {"id": _TEXT, "room": _TEXT, "level": _TEXT, "mount": _TEXT, "height_in": _NUMBER},
    {"at": {"anyOf": [_numbers(3, "x, y, z of its middle [in]"), {"type": "null"}]}, "runs": _IDS},
)

_RUN = _item(
    "One cable end to end. length_in is the way plus both slacks.",
    {
        "id": _TEXT,
        "kind": _TEXT,
        "from": _END,
        "to": _END,
        "path": {
            "type": "array",
            "description": "x, y, z in the world [in], and the member passed there or null",
            "items": {
                "type": "array",
                "prefixItems": [_NUMBER, _NUMBER, _NUMBER, {"type": ["string", "null"]}],
                "minItems": 4,
                "maxItems": 4,
            },
        },
        "length_in": _NUMBER,
        "slack_in": _NUMBER,
        "slack_from_in": _NUMBER,
        "slack_to_in": _NUMBER,
    },
    {
        "path_holes": {"type": "array", "items": {"type": ["string", "null"]}},
        "way": _TEXT,
        "reason": _TEXT,
        "entry": _TEXT,
    },
)

_HOLE = _item(
    "One hole through one member, or one plate with all its plies. For a stud along_in is its center from "
    "the wall's start and up_in the hole's height above the subfloor; for a plate along_in is the offset "
    "from the wall's start; across_in counts from the wall's center line, left positive, in a joist "
    "from its bottom.",
    {
        "id": _TEXT,
        "member": _TEXT,
        "along_in": _NUMBER,
        "across_in": _NUMBER,
        "up_in": _NUMBER,
        "diameter_in": {"type": "number", "exclusiveMinimum": 0},
        "occupants": _IDS,
        "circles": _list(
            _numbers(3, "x, y from the hole's center and radius, in the order of occupants [in]")
        ),
        "x": _NUMBER,
        "y": _NUMBER,
        "z": _NUMBER,
        "axis": {"enum": ["along", "up", "across"]},
        "plies": _IDS,
        "wall": _TEXT,
        "room": _TEXT,
    },
    {"open_passage": _YES_NO, "level": _TEXT, "set_by": {"enum": ["", "choice", "done"]}},
)

_PLATE = _item(
    "One nail plate on one face over a hole.",
    {"id": _TEXT, "hole": _TEXT, "member": _TEXT, "side": _TEXT, "face": _TEXT, "length_in": _NUMBER},
    {"width_in": _NUMBER, "pieces": _WHOLE, "reason": _TEXT},
)

_FINDING = _item(
    "One thing a person should know about the plan.",
    {
        "id": _TEXT,
        "rule": _TEXT,
        "severity": {"enum": ["stop", "fix soon", "note", "cannot tell"]},
        "about": _IDS,
        "place": _TEXT,
        "says": _TEXT,
        "measured": {"type": ["number", "null"]},
        "limit": {"type": ["number", "null"]},
        "unit": _TEXT,
        "fixes": {"type": "array"},
    },
)

_COUNTS = (
    "locations",
    "runs",
    "unreached",
    "holes",
    "open_passages",
    "plates",
    "straps",
    "grommets",
    "supports",
    "seals",
    "pulls",
    "boxes",
    "stops",
    "fix_soon",
    "notes",
    "cannot_tell",
    "unpriced",
)

_TOTALS = _item(
    "What the plan holds; feet are planned lengths.",
    dict.fromkeys(
        (
            "locations",
            "runs",
            "unreached",
            "holes",
            "open_passages",
            "plates",
            "straps",
            "grommets",
            "supports",
            "seals",
            "pulls",
            "boxes",
            "stops",
            "fix_soon",
            "notes",
            "cannot_tell",
            "unpriced",
        ),
        _WHOLE,
    )
    | {"feet": _NUMBER, "feet_by_kind": {"type": "array"}, "price": _AMOUNT, "currency": _TEXT},
)

_PULL = _item(
    "Runs pulled together.",
    {"id": _TEXT, "order": _WHOLE, "runs": _IDS, "stand": _TEXT, "way": _TEXT, "boxes": {"type": "array"}},
)

_BOX = _item(
    "One cable box and the runs it feeds, in the order of pulling: [run, length in inches].",
    {
        "id": _TEXT,
        "kind": _TEXT,
        "start_ft": _NUMBER,
        "left_ft": _NUMBER,
        "partial": _YES_NO,
        "cuts": {
            "type": "array",
            "items": {"type": "array", "prefixItems": [_TEXT, _NUMBER], "minItems": 2, "maxItems": 2},
        },
    },
)

_SMALL = {
    "straps": _item(
        "One strap over a cut top plate.",
        {"id": _TEXT, "hole": _TEXT, "member": _TEXT, "length_in": _NUMBER, "reason": _TEXT},
    ),
    "grommets": _item(
        "One grommet in steel.", {"id": _TEXT, "hole": _TEXT, "member": _TEXT, "size_in": _NUMBER}
    ),
    "supports": _item(
        "Staples or hangers at one place.",
        {"id": _TEXT, "runs": _IDS, "place": _TEXT, "count": _WHOLE, "every_in": _NUMBER, "kind": _TEXT},
    ),
    "seals": _item(
        "One penetration to close; hole is empty where it is a box, then location names it.",
        {"id": _TEXT, "hole": _TEXT, "location": _TEXT, "place": _TEXT, "assembly": _TEXT, "material": _TEXT},
    ),
    "choices": _item(
        "What became of one choice about a hole or a way.",
        {
            "kind": _TEXT,
            "about": _TEXT,
            "became": {"enum": ["by your choice", "already so", "not followed"]},
            "ids": _IDS,
            "says": _TEXT,
        },
    ),
    "done_told": _item(
        "Done work that no longer agrees with the job.", {"about": _TEXT, "place": _TEXT, "says": _TEXT}
    ),
    "unreached": _item(
        "A wished run that could not be planned.", {"run": _TEXT, "last_place": _TEXT, "barred_by": _TEXT}
    ),
}


_WOOD = _item(
    "A place in the wood: in a wall along it, above its subfloor, off its middle; in a floor frame or board "
    "along and across are x and y of the house and up its height.",
    {"host": _TEXT, "along_in": _NUMBER, "up_in": _NUMBER, "across_in": _NUMBER},
)

_FROZEN = _item(
    "Work that was done when this was planned: pulled runs, drilled holes, set plates and boxes.",
    {
        "runs": _list(_item("A pulled run.", {"run": _TEXT, "path": {"type": "array"}})),
        "holes": _list(
            _item("A drilled hole.", {"at": _WOOD, "diameter_in": {"type": "number"}, "id": _TEXT})
        ),
        "plates": _list(_item("A set nail plate.", {"at": _WOOD, "side": _TEXT})),
        "boxes": _list(_item("A set box.", {"at": _WOOD, "location": _TEXT})),
    },
)

LATER = {"box_checks", "choices", "frozen", "done_told", "retired"}
"""Keys that plans of earlier releases do not have."""


def plan_schema() -> Schema:
    """The JSON Schema (draft 2020-12) of plan.json."""
    lists = {
        "members": _MEMBER,
        "bays": _BAY,
        "covers": _COVER,
        "locations": _LOCATION,
        "runs": _RUN,
        "holes": _HOLE,
        "plates": _PLATE,
        "pulls": _PULL,
        "boxes": _BOX,
        "findings": _FINDING,
        **_SMALL,
    }
    names = ("blocked_plates", "box_checks", "drill", "labels", "lengths", "material")
    loose = {name: {"type": "array"} for name in names}
    properties: Schema = {
        "plan_schema": {"const": PLAN_SCHEMA},
        "job": {"type": "object", "description": "The whole job as planned."},
        "cost": {"type": "integer"},
        "frozen": _FROZEN,
        "retired": {**_IDS, "description": "names of holes, pulls, boxes and supports that are gone"},
        "totals": {"anyOf": [_TOTALS, {"type": "null"}]},
        **{name: _list(item) for name, item in lists.items()},
        **loose,
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A plan of a house's low-voltage rough-in",
        "description": "Lengths are inches to a millionth; z counts up from the first level's subfloor.",
        "type": "object",
        "properties": properties,
        "required": sorted(set(properties) - LATER),
        "additionalProperties": False,
    }
