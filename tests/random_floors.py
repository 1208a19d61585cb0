"""Random houses, third part: floors, stairs, roof and barriers."""

from __future__ import annotations

from bayrun.house import (
    Barrier,
    Beam,
    EdgeMember,
    FloorFrame,
    FloorOpening,
    Knockouts,
    Level,
    Roof,
    Stair,
)
from random_shell import Cell, Draft, sixteenth


def make_frames(
    draft: Draft, levels: list[Level], over: list[tuple[str, float]]
) -> tuple[list[FloorFrame], list[Beam], list[FloorOpening], list[Stair]]:
    rng, half = draft.rng, draft.outer / 2
    frames: list[FloorFrame] = []
    beams: list[Beam] = []
    floor_openings: list[FloorOpening] = []
    stairs: list[Stair] = []
    direction = "x" if draft.swap else "y"
    for below, above, (kind, depth) in zip(levels, levels[1:], over, strict=False):
        z0 = below.subfloor_z_in + below.plate_top_in
        width = {"sawn joists": 1.5, "I-joists": 2.5}.get(kind, 3.5)
        spacing = rng.choice((16.0, 16.0, 12.0)) if width < 3 else rng.choice((16.0, 24.0))
        positions, first = [], sixteenth(rng.uniform(4, spacing))
        while first + len(positions) * spacing < draft.u - 3.5:
            positions.append(first + len(positions) * spacing)
        edges = [
            EdgeMember("rim", draft.rect(-half, -half, draft.u + half, -half + 1.5)),
            EdgeMember("rim", draft.rect(-half, draft.v + half - 1.5, draft.u + half, draft.v + half)),
            EdgeMember("rim", draft.rect(-half, -half + 1.5, -half + 1.5, draft.v + half - 1.5)),
            EdgeMember(
                "rim", draft.rect(draft.u + half - 1.5, -half + 1.5, draft.u + half, draft.v + half - 1.5)
            ),
        ]
        frame_id = f"F{below.id}{above.id}"
        stair = draft.stair
        if stair is not None:
            u0 = stair.u0 + 3.25 + 3.0
            u1 = u0 + 38.5
            low, high = stair.v0 + 20, min(stair.v1 - 36, stair.v0 + 20 + 130)
            trimmers = [(u0 - 3, u0), (u1, u1 + 3)]
            positions = [
                p for p in positions if all(p + width / 2 <= a or p - width / 2 >= b for a, b in trimmers)
            ]
            for a, b in trimmers:
                edges.append(EdgeMember("stair trimmer", draft.rect(a, stair.v0, b, stair.v1)))
            edges.append(EdgeMember("stair header", draft.rect(u0, low - 3, u1, low)))
            edges.append(EdgeMember("stair header", draft.rect(u0, high, u1, high + 3)))
            rect = draft.rect(u0, low, u1, high)
            floor_openings.append(FloorOpening(f"FO-{frame_id}", (frame_id,), "stair", rect))
            names = tuple(
                (
                    lv.id,
                    next(
                        c.name
                        for c in draft.cells[lv.id]
                        if c.u0 <= u0 and u1 <= c.u1 and c.v0 <= low and high <= c.v1
                    ),
                )
                for lv in (below, above)
            )
            stairs.append(Stair(f"ST-{frame_id}", "stair", names, rect))
        frames.append(
            FloorFrame(
                id=frame_id,
                kind=kind,
                area=draft.rect(0.0, 0.0, draft.u, draft.v),
                direction=direction,  # type: ignore[arg-type]
                member_width_in=width,
                member_depth_in=depth,
                z_bottom_in=z0,
                z_top_in=z0 + depth,
                above_level=below.id,
                below_level=above.id,
                spacing_in=spacing,
                positions_in=tuple(positions),
                flange_depth_in=1.5 if kind == "I-joists" else None,
                chord_depth_in=1.5 if "trusses" in kind else None,
                spans_in=((0.0, draft.middle_v), (draft.middle_v, draft.v)),
                knockouts=Knockouts(1.5, 12.0, "invented chart")
                if kind == "I-joists" and rng.random() < 0.8
                else None,
                edge_members=tuple(edges),
                nominal={9.25: "2x10", 11.25: "2x12"}.get(depth, ""),
            )
        )
        if below.id == "B" and not draft.lines["B"]:
            rect = draft.rect(0.0, draft.middle_v - 2, draft.u, draft.middle_v + 2)
            beams.append(Beam("BM1", "steel beam, dropped under the joists", rect, (), (z0 - 9.5, z0)))
    frames.append(_roof_frame(draft, levels[-1], direction))
    return frames, beams, floor_openings, stairs


def _roof_frame(draft: Draft, top: Level, direction: str) -> FloorFrame:
    rng, half = draft.rng, draft.outer / 2
    z0 = top.subfloor_z_in + top.plate_top_in
    trusses = rng.random() < 0.65
    spacing, depth = (24.0, 3.5) if trusses else (16.0, rng.choice((5.5, 7.25)))
    positions, first = [], sixteenth(rng.uniform(5, spacing))
    while first + len(positions) * spacing < draft.u - 4:
        positions.append(first + len(positions) * spacing)
    out = 16.0 if trusses else 0.0
    gables = tuple(
        EdgeMember("gable truss", draft.rect(a, 0.0, a + 1.5, draft.v)) for a in (-half, draft.u + half - 1.5)
    )
    return FloorFrame(
        id="ROOF",
        kind="roof trusses" if trusses else "ceiling joists",
        area=draft.rect(0.0, -out, draft.u, draft.v + out),
        direction=direction,  # type: ignore[arg-type]
        member_width_in=1.5,
        member_depth_in=depth,
        z_bottom_in=z0,
        z_top_in=z0 + depth,
        above_level=top.id,
        spacing_in=spacing,
        positions_in=tuple(positions),
        spans_in=((0.0, draft.v),) if trusses else ((0.0, draft.middle_v), (draft.middle_v, draft.v)),
        edge_members=gables if trusses else (),
    )


def make_roof(draft: Draft) -> Roof:
    return Roof(
        "RF",
        float(draft.rng.choice((4, 5, 6, 8))),
        12.0,
        draft.rng.choice((4.0, 8.0, 12.0)),
        "y" if draft.swap else "x",
        draft.v / 2,
        16.0,
    )


def make_barriers(draft: Draft, garage: Cell | None) -> tuple[Barrier, ...]:
    if garage is None:
        return ()
    g = garage
    lines = [
        (draft.point(g.u0, g.v0), draft.point(g.u0, g.v1), g.u0 not in (0.0, draft.u)),
        (draft.point(g.u1, g.v0), draft.point(g.u1, g.v1), g.u1 not in (0.0, draft.u)),
        (draft.point(g.u0, g.v0), draft.point(g.u1, g.v0), g.v0 not in (0.0, draft.v)),
        (draft.point(g.u0, g.v1), draft.point(g.u1, g.v1), g.v1 not in (0.0, draft.v)),
    ]
    inside = tuple((a, b) for a, b, keep in lines if keep)
    return (Barrier("BAR1", "dwelling-garage separation", inside, ("1",), needs_seal=True),)
