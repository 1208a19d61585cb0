"""Small IFC files of our own, written as text: one quirk each, so that a test can name what it tries."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from pathlib import Path

HEADER = """ISO-10303-21;
HEADER;
FILE_DESCRIPTION(('ViewDefinition [CoordinationView]'),'2;1');
FILE_NAME('house','2020-01-01T00:00:00',(''),(''),'','','');
FILE_SCHEMA(('{schema}'));
ENDSEC;
DATA;
"""
FOOTER = "ENDSEC;\nEND-ISO-10303-21;\n"
UNITS = {
    "mm": "IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)",
    "m": "IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)",
    "ft": None,
    "in": None,
}
METERS = {"mm": 1e-3, "m": 1.0, "ft": 0.3048, "in": 0.0254}


@dataclass
class Model:
    """An IFC file that grows line by line; lengths are given in inches and written in its unit.

    ``turn`` rotates the whole building about the world's zero [degrees], ``at`` moves it [in].
    """

    unit: str = "mm"
    schema: str = "IFC4"
    turn: float = 0.0
    at: tuple[float, float] = (0.0, 0.0)
    lines: list[str] = field(default_factory=list)
    storeys: dict[str, int] = field(default_factory=dict)
    held: dict[str, list[int]] = field(default_factory=dict)
    spaces: dict[str, list[int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.guid = 0
        self.point = self.add("IFCCARTESIANPOINT((0.,0.,0.))")
        axes = self.add(f"IFCAXIS2PLACEMENT3D(#{self.point},$,$)")
        self.context = self.add(f"IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#{axes},$)")
        written = UNITS[self.unit]
        if written is None:
            meter = self.add("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)")
            size = self.add(f"IFCMEASUREWITHUNIT(IFCLENGTHMEASURE({METERS[self.unit]}),#{meter})")
            powers = self.add("IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0)")
            name = {"ft": "FOOT", "in": "INCH"}[self.unit]
            length = self.add(f"IFCCONVERSIONBASEDUNIT(#{powers},.LENGTHUNIT.,'{name}',#{size})")
        else:
            length = self.add(written)
        area = self.add("IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.)")
        self.units = self.add(f"IFCUNITASSIGNMENT((#{length},#{area}))")
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        self.world = self.place((*self.at, 0.0), (c, s))

    def add(self, text: str) -> int:
        """One more entity; returns its number."""
        self.lines.append(f"#{len(self.lines) + 1}={text};")
        return len(self.lines)

    def g(self) -> str:
        """A fresh id of the form the standard asks for."""
        self.guid += 1
        return f"'{self.guid:022d}'"

    def n(self, length_in: float) -> str:
        """A length in the file's unit."""
        return f"{length_in * 0.0254 / METERS[self.unit]:.9f}"

    def place(
        self, o: tuple[float, float, float], x: tuple[float, float] = (1.0, 0.0), on: int | None = None
    ) -> int:
        """A placement at ``o`` [in] whose x runs along ``x``, on another placement."""
        p = self.add(f"IFCCARTESIANPOINT(({self.n(o[0])},{self.n(o[1])},{self.n(o[2])}))")
        z = self.add("IFCDIRECTION((0.,0.,1.))")
        d = self.add(f"IFCDIRECTION(({x[0]:.12f},{x[1]:.12f},0.))")
        axes = self.add(f"IFCAXIS2PLACEMENT3D(#{p},#{z},#{d})")
        return self.add(f"IFCLOCALPLACEMENT({'$' if on is None else f'#{on}'},#{axes})")

    def storey(self, name: str, elevation_in: float) -> None:
        """A level."""
        where = self.place((0.0, 0.0, elevation_in), on=self.world)
        self.storeys[name] = self.add(
            f"IFCBUILDINGSTOREY({self.g()},$,'{name}',$,$,#{where},$,$,.ELEMENT.,{self.n(elevation_in)})"
        )
        self.held[name], self.spaces[name] = [], []

    def box(self, x0: float, x1: float, y0: float, y1: float, height_in: float) -> int:
        """An upright block with this outline in local coordinates [in]."""
        return self.prism(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), height_in)

    def prism(self, outline: tuple[tuple[float, float], ...], height_in: float) -> int:
        """An upright solid over an outline [in]."""
        points = [
            self.add(f"IFCCARTESIANPOINT(({self.n(x)},{self.n(y)}))") for x, y in (*outline, outline[0])
        ]
        line = self.add(f"IFCPOLYLINE(({','.join(f'#{p}' for p in points)}))")
        area = self.add(f"IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#{line})")
        up = self.add("IFCDIRECTION((0.,0.,1.))")
        return self.add(f"IFCEXTRUDEDAREASOLID(#{area},$,#{up},{self.n(height_in)})")

    def shape(self, *solids: int, axis: tuple[tuple[float, float], ...] = ()) -> int:
        """A product's representations: an axis where it has one, and its body."""
        made = []
        if axis:
            points = [self.add(f"IFCCARTESIANPOINT(({self.n(x)},{self.n(y)}))") for x, y in axis]
            line = self.add(f"IFCPOLYLINE(({','.join(f'#{p}' for p in points)}))")
            made.append(self.add(f"IFCSHAPEREPRESENTATION(#{self.context},'Axis','Curve2D',(#{line}))"))
        if solids:
            items = ",".join(f"#{s}" for s in solids)
            made.append(self.add(f"IFCSHAPEREPRESENTATION(#{self.context},'Body','SweptSolid',({items}))"))
        return self.add(f"IFCPRODUCTDEFINITIONSHAPE($,$,({','.join(f'#{m}' for m in made)}))")

    def wall(
        self,
        level: str,
        a: tuple[float, float],
        b: tuple[float, float],
        thickness_in: float = 4.5,
        height_in: float = 97.0,
        *,
        name: str = "Wall type",
        z_in: float = 0.0,
        axis: bool = True,
        body: bool = True,
        layers: tuple[tuple[str, float], ...] = (),
        sense: str = "NEGATIVE",
    ) -> tuple[int, int]:
        """A wall centered on a line, from ``a`` to ``b`` [in]; returns (wall, its placement)."""
        length = math.dist(a, b)
        where = self.place(
            (*a, z_in), ((b[0] - a[0]) / length, (b[1] - a[1]) / length), self.placement(level)
        )
        half = thickness_in / 2
        solids = (self.box(0.0, length, -half, half, height_in),) if body else ()
        shape = self.shape(*solids, axis=((0.0, 0.0), (length, 0.0)) if axis else ())
        wall = self.add(f"IFCWALL({self.g()},$,'{name}',$,$,#{where},#{shape},$,$)")
        if layers:
            made = []
            for material, depth in layers:
                entity = self.add(f"IFCMATERIAL('{material}',$,$)")
                made.append(self.add(f"IFCMATERIALLAYER(#{entity},{self.n(depth)},$,$,$,$,$)"))
            stack = self.add(f"IFCMATERIALLAYERSET(({','.join(f'#{m}' for m in made)}),$,$)")
            offset = self.n(half if sense == "NEGATIVE" else -half)
            usage = self.add(f"IFCMATERIALLAYERSETUSAGE(#{stack},.AXIS2.,.{sense}.,{offset},$)")
            self.add(f"IFCRELASSOCIATESMATERIAL({self.g()},$,$,$,(#{wall}),#{usage})")
        self.held[level].append(wall)
        return wall, where

    def placement(self, level: str) -> int:
        """The placement of a level."""
        return int(self.lines[self.storeys[level] - 1].split("$,$,#")[1].split(",")[0])

    def opening(
        self,
        wall: tuple[int, int],
        offset_in: float,
        width_in: float,
        sill_in: float,
        height_in: float,
        filling: str = "",
        *,
        depth_in: float = 20.0,
        name: str = "Unit",
        swing: str = "NOTDEFINED",
    ) -> int:
        """A hole in a wall, filled with a ``door`` or ``window`` or with nothing."""
        where = self.place((offset_in, 0.0, sill_in), on=wall[1])
        solid = self.box(0.0, width_in, -depth_in / 2, depth_in / 2, height_in)
        shape = self.shape(solid)
        hole = self.add(f"IFCOPENINGELEMENT({self.g()},$,'hole',$,$,#{where},#{shape},$,$)")
        self.add(f"IFCRELVOIDSELEMENT({self.g()},$,$,$,#{wall[0]},#{hole})")
        if filling:
            unit = self.unit_in(where, width_in, height_in, filling, name=name, swing=swing)
            self.add(f"IFCRELFILLSELEMENT({self.g()},$,$,$,#{hole},#{unit})")
        return hole

    def unit_in(
        self,
        where: int,
        width_in: float,
        height_in: float,
        filling: str,
        *,
        name: str = "Unit",
        swing: str = "NOTDEFINED",
    ) -> int:
        """A door or window at a placement, without a hole of its own."""
        place = self.add(f"IFCLOCALPLACEMENT(#{where},{self._zero()})")
        kind, tail = ("IFCDOOR", f"$,.{swing}.,$") if filling == "door" else ("IFCWINDOW", "$,$,$")
        size = f"{self.n(height_in)},{self.n(width_in)}"
        return self.add(f"{kind}({self.g()},$,'{name}',$,$,#{place},$,$,{size},{tail})")

    def _zero(self) -> str:
        return f"#{self.add(f'IFCAXIS2PLACEMENT3D(#{self.point},$,$)')}"

    def space(
        self,
        level: str,
        outline: tuple[tuple[float, float], ...],
        height_in: float = 96.0,
        *,
        name: str = "1",
        long_name: str = "Room",
        area_m2: float | None = None,
    ) -> None:
        """A room with its outline along the inner faces [in]."""
        where = self.place((0.0, 0.0, 0.0), on=self.placement(level))
        shape = self.shape(self.prism(outline, height_in))
        space = self.add(
            f"IFCSPACE({self.g()},$,'{name}',$,$,#{where},#{shape},'{long_name}',.ELEMENT.,.INTERNAL.,$)"
        )
        self.spaces[level].append(space)
        if area_m2 is not None:
            area = self.add(f"IFCQUANTITYAREA('NetFloorArea',$,$,{area_m2:.9f},$)")
            quantities = self.add(f"IFCELEMENTQUANTITY({self.g()},$,'Qto',$,$,(#{area}))")
            self.add(f"IFCRELDEFINESBYPROPERTIES({self.g()},$,$,$,(#{space}),#{quantities})")

    def says(self, element: int, **values: str) -> None:
        """Pset_WallCommon of an element, e.g. ``IsExternal='IFCBOOLEAN(.T.)'``."""
        made = [self.add(f"IFCPROPERTYSINGLEVALUE('{k}',$,{v},$)") for k, v in values.items()]
        group = self.add(
            f"IFCPROPERTYSET({self.g()},$,'Pset_WallCommon',$,({','.join(f'#{m}' for m in made)}))"
        )
        self.add(f"IFCRELDEFINESBYPROPERTIES({self.g()},$,$,$,(#{element}),#{group})")

    def text(self) -> str:
        """The whole file."""
        project = self.add(f"IFCPROJECT({self.g()},$,'House',$,$,$,$,(#{self.context}),#{self.units})")
        building = self.add(f"IFCBUILDING({self.g()},$,'House',$,$,#{self.world},$,$,.ELEMENT.,$,$,$)")
        self.add(f"IFCRELAGGREGATES({self.g()},$,$,$,#{project},(#{building}))")
        if self.storeys:
            floors = ",".join(f"#{s}" for s in self.storeys.values())
            self.add(f"IFCRELAGGREGATES({self.g()},$,$,$,#{building},({floors}))")
        for name, number in self.storeys.items():
            if self.held[name]:
                inside = ",".join(f"#{e}" for e in self.held[name])
                self.add(f"IFCRELCONTAINEDINSPATIALSTRUCTURE({self.g()},$,$,$,({inside}),#{number})")
            if self.spaces[name]:
                inside = ",".join(f"#{e}" for e in self.spaces[name])
                self.add(f"IFCRELAGGREGATES({self.g()},$,$,$,#{number},({inside}))")
        return HEADER.format(schema=self.schema) + "\n".join(self.lines) + "\n" + FOOTER

    def write(self, path: Path) -> Path:
        """The file on disk."""
        path.write_text(self.text(), encoding="ascii")
        return path


def box_house(
    model: Model, level: str = "Floor", *, wide_in: float = 240.0, deep_in: float = 180.0
) -> dict[str, tuple[int, int]]:
    """Four 2x6 outer walls, drawn to the corners of their center lines, and one partition at x = 120."""
    if level not in model.storeys:
        model.storey(level, 0.0)
    corners = [(0.0, 0.0), (wide_in, 0.0), (wide_in, deep_in), (0.0, deep_in)]
    names = ("front", "right", "back", "left")
    walls = {
        name: model.wall(level, a, b, 6.5, name="Outer 2x6")
        for name, a, b in zip(names, corners, [*corners[1:], corners[0]], strict=True)
    }
    walls["middle"] = model.wall(level, (120.0, 3.25), (120.0, deep_in - 3.25), 4.5, name="Inner 2x4")
    return walls


def product(
    model: Model, level: str, kind: str, shape: int, *, name: str = "Thing", tail: str = "",
    z_in: float = 0.0,
) -> int:  # fmt: skip
    """An element with a shape of its own, held by a level."""
    where = model.place((0.0, 0.0, z_in), on=model.placement(level))
    element = model.add(
        f"{kind}({model.g()},$,'{name}',$,$,#{where},#{shape},$,$)".replace(",$)", f",${tail})")
    )
    model.held[level].append(element)
    return element


def solid_shape(model: Model, *items: int, form: str = "Brep") -> int:
    """A body of any form without an axis."""
    listed = ",".join(f"#{i}" for i in items)
    made = model.add(f"IFCSHAPEREPRESENTATION(#{model.context},'Body','{form}',({listed}))")
    return model.add(f"IFCPRODUCTDEFINITIONSHAPE($,$,(#{made}))")


def block_faces(
    x0: float, x1: float, y0: float, y1: float, z0: float, z1: float
) -> tuple[list[tuple[float, float, float]], list[tuple[int, int, int, int]]]:
    """Corners and faces of a block, faces counted from 1 and seen from outside."""
    corners = [(x, y, z) for z in (z0, z1) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
    faces = [(4, 3, 2, 1), (5, 6, 7, 8), (1, 2, 6, 5), (2, 3, 7, 6), (3, 4, 8, 7), (4, 1, 5, 8)]
    return corners, faces


def brep(model: Model, *block: float) -> int:
    """A block as a faceted boundary [in]."""
    corners, faces = block_faces(*block)
    points = [model.add(f"IFCCARTESIANPOINT(({','.join(model.n(v) for v in c)}))") for c in corners]
    made = []
    for face in faces:
        loop = model.add(f"IFCPOLYLOOP(({','.join(f'#{points[i - 1]}' for i in face)}))")
        bound = model.add(f"IFCFACEOUTERBOUND(#{loop},.T.)")
        made.append(model.add(f"IFCFACE((#{bound}))"))
    shell = model.add(f"IFCCLOSEDSHELL(({','.join(f'#{f}' for f in made)}))")
    return model.add(f"IFCFACETEDBREP(#{shell})")


def face_set(model: Model, *block: float) -> int:
    """A block as triangles [in]."""
    corners, faces = block_faces(*block)
    listed = ",".join(f"({','.join(model.n(v) for v in c)})" for c in corners)
    points = model.add(f"IFCCARTESIANPOINTLIST3D(({listed}))")
    triangles = [t for a, b, c, d in faces for t in ((a, b, c), (a, c, d))]
    rows = ",".join(f"({a},{b},{c})" for a, b, c in triangles)
    return model.add(f"IFCTRIANGULATEDFACESET(#{points},$,.T.,({rows}),$)")
