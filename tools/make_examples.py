#!/usr/bin/env python3
"""Make the three example job files from the invented demo houses.

``python tools/make_examples.py`` writes examples/house-a.yaml, house-b.yaml and house-c.yaml from
tests/data/demo-houses.json: the same bytes every time. What the demo data do not say (prices, knockouts,
what was asked of the electrician) stands here, invented, in one place.
"""

from __future__ import annotations

import json
import re
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "src"))

from bayrun import house  # noqa: E402
from bayrun.files.jobwrite import write_job  # noqa: E402

DATA = ROOT / "tests" / "data" / "demo-houses.json"
DATE = "2026-11-25"
Data = dict[str, Any]

# Letter: line, price per foot, feet in a box, bend radius x diameter, pull limit lbf, listing, connector.
CABLES: dict[str, tuple[str, str, float, float, float | None, str, str]] = {
    "D": ("solid", "0.24", 1000, 4, 25, "CMR", "eight-position jack"),
    "X": ("long dash", "0.21", 500, 10, 35, "CATVR", "F connector"),
    "S": ("dash dot", "0.62", 500, 4, None, "CL3R", "speaker terminals"),
    "S2": ("dash dot", "0.34", 500, 4, None, "CL3R", "speaker terminals"),
    "B": ("short dash", "0.16", 500, 4, None, "CL2R", "screw terminals"),
    "K": ("short dash", "0.14", 500, 4, None, "CL2R", "screw terminals"),
    "A": ("short dash", "0.09", 500, 4, None, "CL2R", "screw terminals"),
    "H": ("short dash", "0.33", 500, 4, None, "CL3R", "plug-in terminals"),
    "T": ("short dash", "0.38", 250, 4, None, "CL2R", "screw terminals"),
}

_EARS = (4.0, 24.0)
_TOP_TWO = (house.Knockout("top", 3.5, 2.0), house.Knockout("top", 10.75, 2.0))


def _ears(width_in: float, heights_in: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    return tuple((x_in, y_in) for y_in in heights_in for x_in in (0.0, width_in))


# What the demo data leave to the firm: knockouts, screw places, and what was asked of the electrician.
ENCLOSURES: dict[str, Data] = {
    "A-ENC": {
        "knockouts": (
            *_TOP_TWO,
            house.Knockout("top", 7.125, 1.125, "spare"),
            house.Knockout("bottom", 12.75, 0.875, "power"),
            house.Knockout("bottom", 3.5, 2.0, "spare"),
        ),
        "fixing_points": _ears(14.25, (4.0, 24.0)),
        "feed": {"gfci": True, "afci": True},
    },
    "B-ENC1": {
        "knockouts": (
            *_TOP_TWO,
            house.Knockout("bottom", 10.75, 2.0),
            house.Knockout("bottom", 1.5, 0.875, "power"),
        ),
        "fixing_points": _ears(14.25, (4.0, 21.0, 38.0)),
        "feed": {"bay_studs_in": (18.75, 34.75), "hole_diameter_in": 0.75, "gfci": False, "afci": True},
    },
    "B-ENC2": {
        "knockouts": (
            house.Knockout("top", 5.25, 2.0),
            house.Knockout("top", 11.5, 2.0),
            house.Knockout("top", 1.5, 0.875, "power"),
        ),
        "fixing_points": _ears(14.25, (4.0, 21.0, 38.0)),
        "feed": {"bay_studs_in": (68.0, 84.0), "hole_diameter_in": 0.75, "gfci": True, "afci": False},
    },
    "C-ENC": {
        "knockouts": (
            house.Knockout("top", 3.5, 2.0),
            house.Knockout("top", 10.75, 2.0, "spare"),
            house.Knockout("top", 7.125, 1.125, "spare"),
            house.Knockout("bottom", 12.75, 0.875, "power"),
        ),
        "fixing_points": _ears(14.25, (4.0, 24.0)),
        "feed": {"gfci": True, "afci": True},
    },
}
FACTS: dict[str, house.SiteFacts] = {
    "A": house.SiteFacts("1/2 in gypsum", "batts", "listed fire-rated foam or mineral wool", (), 19.5, 2026),
    "B": house.SiteFacts("1/2 in gypsum", "batts", "listed fire-rated foam or mineral wool", (), 12.0, 2026),
    "C": house.SiteFacts("1/2 in gypsum", "batts", "listed fire-rated foam or mineral wool", (), None, 2026),
}
BARRIER_DEPTH_IN = {"B-BAR1": 0.5, "B-BAR2": 0.5, "C-BAR1": 1.25}
SPARE_RUNS = ("B24-D1", "B24-D2", "B24-X1")

HEAD = """{name}

An invented house: no real place, people or products. Member sizes are plausible, not engineered.
{character}

Lengths are inches, or as a tape reads: 5' 3-1/2", 63 1/2", 1613 mm. x runs to the right along the
front, y toward the back, along wall framing center lines; offsets count along a wall from its start,
and left is left of that direction. Keys that are left out take their usual value: “bayrun schema”
prints them all. Written by tools/make_examples.py from tests/data/demo-houses.json.

AC power, structure and fire blocking are the work of licensed trades; the local code and the
inspector have the last word."""
REMARKS = {
    "enclosures": "Knockouts and screw places are invented. The feed is the licensed electrician's work.",
    "runs": "One line a cable, end to end; the first end is the one it is pulled from.",
    "facts": "What rules need before anyone has measured. A fact left out is never taken for good.",
    "joints": "How each wall's end meets another: plates run through or butt.",
    "practice.cables": (
        "Diameters from the kinds of the demo data; prices, boxes and limits are invented:\nuse your own."
    ),
}


def pair(value: Any) -> tuple[float, float]:
    """A point or interval of the data."""
    return float(value[0]), float(value[1])


def floats(values: Any) -> tuple[Any, ...]:
    """Numbers of the data as floats, lists as tuples."""
    return tuple(floats(v) if isinstance(v, list) else None if v is None else float(v) for v in values)


def maybe(data: Data, key: str) -> float | None:
    """A number that may be missing."""
    return float(data[key]) if data.get(key) is not None else None


def note(data: Data) -> str:
    """The note of a record, without the one that only repeats how openings are measured."""
    text = str(data.get("note") or "")
    return "" if text.startswith("width and height are the rough opening") else text


def level(data: Data) -> house.Level:
    """One level."""
    return house.Level(
        id=data["id"],
        subfloor_z_in=float(data["z_subfloor"]),
        plate_top_in=float(data["plate_top"]),
        ceiling_board_in=float(data["ceiling_board"]),
        wall_board_in=float(data["wall_board"]),
        floor_build_up=tuple(house.Layer(name, float(t)) for name, t in data["floor_build_up"]),
        slab="slab" in data["subfloor"],
        stud_length_in=maybe(data, "stud_length"),
        grade_z_in=maybe(data, "grade_z"),
        note=str(data.get("garage_floor") or note(data)),
    )


def room(data: Data) -> house.Room:
    """One room."""
    return house.Room(
        name=data["name"],
        level=data["level"],
        kind=data["kind"],
        polygon=tuple(pair(p) for p in data["polygon"]),
        floor_finish_in=float(data["floor_finish"]),
        floor_drop_in=float(data.get("floor_drop", 0)),
    )


def pieces(data: Data, side: str) -> tuple[house.FacePiece, ...]:
    """The stretches of one face."""
    return tuple(
        house.FacePiece(p["room"], float(p["from"]), float(p["to"]), p.get("finish") or "")
        for p in data["faces"].get(side) or ()
    )


def wall(data: Data, enclosures: list[Data]) -> house.Wall:
    """One wall."""
    layout, plates = data["layout"], data["plates"]
    framed: Data = {}
    if layout is None:
        framed = {"layout": None, "plates": house.Plates(0, 0, "concrete")}
    else:
        framed = {
            "layout": house.Layout(layout["origin"], float(layout["first_mark"])),
            "plates": house.Plates(plates["bottom"], plates["top"], plates["material"]),
            "spacing_in": float(data["spacing"]),
            "stud_width_in": float(data["stud_width"]),
        }
    wood: tuple[float, ...] = ()
    if "box_bay_studs" in data:
        wood = next(floats(e["bay_studs"]) for e in enclosures if e["wall"] == data["id"])
    return house.Wall(
        id=data["id"],
        level=data["level"],
        start=pair(data["start"]),
        end=pair(data["end"]),
        core=data["core"],
        thickness_in=float(data["thickness"]),
        plate_start_in=float(data["plate_start"]),
        plate_end_in=float(data["plate_end"]),
        bearing=data["bearing"],
        exterior=data["exterior"],
        rated=data["rated"],
        membrane_in=float(data["membrane"]),
        left=pieces(data, "left"),
        right=pieces(data, "right"),
        separation=data.get("separation") or "",
        wet=bool(data.get("wet")),
        outside_foam_in=float(data.get("outside_foam", 0)),
        wood_studs_in=wood,
        note=str(data.get("box_bay_studs") or note(data)),
        **framed,
    )


def joint(data: Data) -> house.Joint:
    """How one end of a wall meets another."""
    return house.Joint(
        wall=data["wall"],
        end=data["end"],
        kind=data["kind"],
        on_wall=data["on_wall"],
        on_offset_in=float(data["on_offset"]),
        width_in=float(data["width"]),
        plate_shift_in=float(data["plate_shift"]),
    )


def opening(data: Data) -> house.Opening:
    """One opening."""
    return house.Opening(
        id=data["id"],
        wall=data["wall"],
        kind=data["kind"],
        offset_in=float(data["offset"]),
        width_in=float(data["width"]),
        sill_in=float(data["sill"]),
        height_in=float(data["height"]),
        header_depth_in=float(data["header_depth"]),
        rooms=tuple(data.get("rooms") or ()),
        swings_into=data.get("swings_into"),
        hinge_end=data.get("hinge_end"),
        note=note(data),
    )


def chart(data: Data) -> house.Knockouts | None:
    """The maker's chart of an I-joist, from its sentence."""
    if "web_rule" not in data:
        return None
    match = re.match(r"(.*?): knockouts (\d+)-(\d+)/(\d+) in every (\d+) in", data["web_rule"])
    assert match is not None, data["web_rule"]
    source, whole, top, bottom, every = match.groups()
    return house.Knockouts(int(whole) + int(top) / int(bottom), float(every), source)


def frame(data: Data) -> house.FloorFrame:
    """One field of joists or trusses."""
    spans = data.get("spans") or ([data["span"]] if "span" in data else [])
    says = [str(data[k]) for k in ("spacing_rule", "bearing_detail", "note") if data.get(k)]
    by_rule = not data.get("positions")
    return house.FloorFrame(
        id=data["id"],
        kind=data["kind"],
        area=floats(data["area"]),
        direction=data["direction"],
        member_width_in=float(data["member_width"]),
        member_depth_in=float(data["member_depth"]),
        z_bottom_in=float(data["z_bottom"]),
        z_top_in=float(data["z_top"]),
        above_level=data.get("above_level"),
        below_level=data.get("below_level"),
        spacing_in=maybe(data, "spacing"),
        first_member_in=maybe(data, "first_member") if by_rule else None,
        last_member_in=maybe(data, "last_member"),
        positions_in=floats(data.get("positions") or ()),
        flange_depth_in=maybe(data, "flange_depth"),
        chord_depth_in=maybe(data, "chord_depth"),
        spans_in=tuple(pair(s) for s in spans),
        knockouts=chart(data),
        edge_members=tuple(house.EdgeMember(m["name"], floats(m["rect"])) for m in data["edge_members"]),
        note="; ".join(says),
    )


def roof(data: Data) -> house.Roof:
    """One roof."""
    ridge = re.fullmatch(r"along ([xy]) at [xy]=(\d+)", data["ridge"])
    return house.Roof(
        id=data["id"],
        pitch_rise=float(data["pitch_rise"]),
        pitch_run=float(data["pitch_run"]),
        heel_in=float(data["heel"]),
        ridge_axis=ridge[1] if ridge else None,  # type: ignore[arg-type]
        ridge_at_in=float(ridge[2]) if ridge else None,
        overhang_in=float(data.get("overhang", 0)),
        deck=data.get("deck", ""),
        access=data.get("access", ""),
    )


def barrier(data: Data) -> house.Barrier:
    """One separation."""
    lines = data.get("lines") or ([data["line"]] if "line" in data else [])
    sleeve = data.get("pass_point")
    point = (
        house.PassPoint(
            sleeve["id"],
            float(sleeve["x"]),
            float(sleeve["y"]),
            float(sleeve["z"]),
            float(sleeve["diameter"]),
        )
        if sleeve
        else None
    )
    return house.Barrier(
        id=data["id"],
        kind=data["kind"],
        lines=tuple((pair(a), pair(b)) for a, b in lines),
        levels=tuple(data.get("levels", ())),
        frames=tuple(data.get("frames", ())),
        needs_seal=bool(data.get("needs_seal")),
        pass_point=point,
        legal_way=data.get("legal_way", ""),
        depth_in=BARRIER_DEPTH_IN.get(data["id"], 0.625),
        note=note(data),
    )


SUBFLOOR_Z_IN = {("C", "2"): 123.875, ("C", "3"): 247.75}
"""Subfloors of house C, whose cabinets are given above their own subfloor and not in the world [in]."""


def heights(data: Data) -> tuple[float, float] | None:
    """World heights of an obstacle; one wholly under its own level counts from its subfloor."""
    if "z" not in data:
        return None
    low, high = pair(data["z"])
    base = SUBFLOOR_Z_IN.get((data["id"][0], str(data.get("level"))), 0.0)
    return (low + base, high + base) if high <= base else (low, high)


def obstacle(data: Data) -> house.Obstacle:
    """Something of another trade. A pipe along a floor is given by its center, not by its rectangle."""
    levels = tuple(data.get("levels") or ([data["level"]] if "level" in data else []))
    center = data.get("center")
    rect = data.get("rect") if center is None else None
    over = re.search(r"at least (\d+) in above", data.get("rule", ""))
    duct = re.search(r"duct (\d+) in", data["kind"]) if "z_above_joist_bottom" in data else None
    diameter = data.get("diameter", data.get("outside_diameter"))
    return house.Obstacle(
        id=data["id"],
        kind=data["kind"],
        levels=levels,
        rect=floats(rect) if rect else None,
        z_in=heights(data),
        center=floats(center) if center else None,
        diameter_in=float(diameter) if diameter is not None else float(duct[1]) if duct else None,
        path=tuple(floats(p) for p in data.get("path", ())),
        circuits=data.get("circuits", 0),
        wall=data.get("wall"),
        frames=tuple(data.get("frames", ())),
        z_above_frame_bottom_in=maybe(data, "z_above_joist_bottom"),
        clearance_in=float(data.get("clearance", 0)),
        passes_over_in=float(over[1]) if over else None,
        chase=floats(data["chase"]) if "chase" in data else None,
        rule=data.get("rule", ""),
        note=str(data.get("keep_clear") or note(data)),
    )


def gear(data: Data) -> house.Gear:
    """One piece of gear."""
    return house.Gear(
        id=data["id"],
        what=data["what"],
        in_enclosure=data["in_enclosure"],
        room=data.get("room", ""),
        level=data.get("level", ""),
        x_in=maybe(data, "x"),
        y_in=maybe(data, "y"),
        z_in=maybe(data, "z"),
        slack_in=maybe(data, "slack"),
    )


def location(data: Data) -> house.Location:
    """One location; its plan point is kept only where no wall gives it."""
    on_wall = data["wall"] is not None
    usual = house.Slack().for_mount(data["mount"])
    slack = float(data["location_slack"])
    ports = tuple(
        house.Port(match[2], int(match[1])) for match in re.finditer(r"(\d+)([A-Z]\w*)", data["cables"])
    )
    return house.Location(
        id=data["id"],
        room=data["room"],
        level=data["level"],
        mount=data["mount"],
        height_in=float(data["height"]),
        wall=data["wall"],
        offset_in=maybe(data, "offset"),
        side=data["side"],
        x_in=None if on_wall else float(data["x"]),
        y_in=None if on_wall else float(data["y"]),
        ports=ports,
        slack_in=None if slack == usual else slack,
        feed=data["feed"],
        note=note(data),
    )


def enclosure(data: Data) -> house.Enclosure:
    """One candidate, with what the firm adds."""
    ours, feed = ENCLOSURES[data["id"]], data["ac_feed"]
    asked: Data = {
        "staple_from_box_in": 6.0,
        "staple_from_emergence_in": 6.0,
        "clamped": True,
        "tail_in": 8.0,
        "barrier": True,
        "bay_studs_in": pair(feed["bay_studs"]) if "bay_studs" in feed else None,
        "hole_height_in": maybe(feed, "hole_z"),
        "hole_diameter_in": maybe(feed, "hole_diameter"),
    }
    return house.Enclosure(
        id=data["id"],
        wall=data["wall"],
        level=data["level"],
        room=data["room"],
        side=data["side"],
        bay_studs_in=pair(data["bay_studs"]),
        width_in=float(data["width"]),
        height_in=float(data["height"]),
        depth_in=float(data["depth"]),
        center_aff_in=float(data["center_aff"]),
        entries=tuple(data["entry_low_voltage"].split(" and ")),
        ac_feed=house.AcFeed(way=feed["way"], from_panel=feed["from_panel"], **(asked | ours["feed"])),
        fixing_points=ours["fixing_points"],
        knockouts=ours["knockouts"],
        note=note(data),
    )


def conduit(data: Data) -> house.Conduit:
    """One conduit or sleeve."""
    return house.Conduit(
        id=data["id"],
        size=data["size"],
        outside_diameter_in=float(data["outside_diameter"]),
        from_place=data["from"],
        to_place=data["to"],
        hole_in=maybe(data, "hole"),
        in_wall=data.get("in_wall"),
        riser=data.get("riser"),
        hole_height_in=maybe(data, "hole_height"),
        note=note(data),
    )


def job(data: Data, kinds: Data) -> house.Job:
    """The whole job of one demo house."""
    planes = {plane["id"]: tuple(plane["frames"]) for plane in data["planes"]}
    chosen = data["enclosures"][0]["id"]
    all_gear = tuple(gear(g) for g in data["gear"])
    inside = {g.id for g in all_gear if g.in_enclosure}
    places = {loc["id"] for loc in data["locations"]}

    def end(name: str) -> house.End:
        if name in inside:
            return house.End("enclosure", chosen)
        return house.End("location" if name in places else "device", name)

    runs = tuple(
        house.WishedRun(
            id=run["id"],
            kind=run["kind"],
            from_end=end(run["from"]),
            to_end=end(run["to"]),
            gear=run["from"] if run["from"] in inside else "",
            spare=run["id"] in SPARE_RUNS,
        )
        for run in data["runs"]
    )
    cables = []
    for letter, kind in kinds.items():
        line, price, box_ft, bend, pull_lbf, listing, connector = CABLES[letter]
        cables.append(
            house.CableKind(
                letter=letter,
                name=kind["name"],
                diameter_in=kind["diameter_thousandths"] / 1000,
                line=line,
                price_per_foot=Decimal(price),
                box_ft=float(box_ft),
                bend_radius_x_diameter=float(bend),
                pull_limit_lbf=pull_lbf,
                listing=listing,
                connector=connector,
            )
        )
    return house.Job(
        id=f"house-{data['id'].lower()}",
        name=data["name"],
        revision=house.Revision("1", DATE),
        levels=tuple(level(x) for x in data["levels"]),
        rooms=tuple(room(x) for x in data["rooms"]),
        walls=tuple(wall(x, data["enclosures"]) for x in data["walls"]),
        joints=tuple(joint(x) for x in data["joints"]),
        openings=tuple(opening(x) for x in data["openings"]),
        open_edges=tuple(
            house.OpenEdge(x["level"], tuple(x["rooms"]), (pair(x["line"][0]), pair(x["line"][1])))
            for x in data["open_edges"]
        ),
        frames=tuple(frame(x) for x in data["frames"]),
        floor_openings=tuple(
            house.FloorOpening(x["id"], tuple(x["frames"]), x["what"], floats(x["rect"]))
            for x in data["floor_openings"]
        ),
        beams=tuple(
            house.Beam(
                x["id"], x["what"], floats(x["rect"]), tuple(x["in_frames"]), pair(x["z"]) if x["z"] else None
            )
            for x in data["beams"]
        ),
        posts=tuple(house.Post(x["id"], x["what"], x["level"], floats(x["rect"])) for x in data["posts"]),
        stairs=tuple(
            house.Stair(x["id"], x["what"], tuple((a, b) for a, b in x["rooms"]), floats(x["rect"]))
            for x in data["stairs"]
        ),
        roofs=tuple(roof(x) for x in data["roofs"]),
        barriers=tuple(barrier(x) for x in data["barriers"]),
        obstacles=tuple(obstacle(x) for x in data["obstacles"]),
        gear=all_gear,
        locations=tuple(location(x) for x in data["locations"]),
        enclosures=tuple(enclosure(x) for x in data["enclosures"]),
        enclosure=chosen,
        conduits=tuple(conduit(x) for x in data["conduits"]),
        risers=tuple(
            house.Riser(
                x["id"],
                x["what"],
                tuple(x["walls"]),
                floats(x["abs_positions"]),
                tuple(frame_id for plane in x["planes"] for frame_id in planes[plane]),
                maybe(x, "hole"),
            )
            for x in data["risers"]
        ),
        runs=runs,
        now_or_never=tuple(
            house.NowOrNever(x["deadline"], x["why"], tuple(x["locations"]), tuple(x.get("items", ())))
            for x in data["now_or_never"]
        ),
        practice=house.Practice(cables=tuple(cables)),
        facts=FACTS[data["id"]],
    )


def demo_data() -> Data:
    """The demo data as they stand in the repository."""
    data: Data = json.loads(DATA.read_text(encoding="utf-8"))
    return data


def text_of(letter: str) -> str:
    """The job file of one demo house."""
    data = demo_data()
    one = data["houses"][letter]
    character = one["character"][0].upper() + one["character"][1:] + "."
    return write_job(
        job(one, data["kinds"]), head=HEAD.format(name=one["name"], character=character), remarks=REMARKS
    )


def main() -> None:
    """Write the three files."""
    folder = ROOT / "examples"
    folder.mkdir(exist_ok=True)
    for letter in "ABC":
        path = folder / f"house-{letter.lower()}.yaml"
        path.write_text(text_of(letter), encoding="utf-8", newline="\n")
        print(path.relative_to(ROOT))


if __name__ == "__main__":
    main()
