"""Small energy models of our own as gbXML text: two rooms on one level, or the same with two more on top."""

from __future__ import annotations

from dataclasses import dataclass

FEET, METERS = 1 / 12, 0.0254
EXTERIOR_IN, INTERIOR_IN = 6.5, 4.5
WIDE_IN, DEEP_IN, SPLIT_IN, HIGH_IN = 360.0, 240.0, 200.0, 108.0
Spot = tuple[float, float, float]


@dataclass(frozen=True)
class Energy:
    """How the model is written.

    ``per_inch`` is the file's unit; ``areas`` states the clear areas; ``place`` is where exterior planes lie
    in their walls: 0 at the outer face, 1 at the inner.
    """

    per_inch: float = METERS
    unit: str | None = "Meters"
    levels: int = 1
    thickness: bool = True
    areas: bool = True
    place: float = 0.0
    doubled: bool = False
    floors_as_ceilings: bool = False
    storeys: bool = True
    extra: str = ""
    names: tuple[str, str] = ("LIVING_ROOM", "BEDROOM1")


def clear_areas_in2(look: Energy) -> tuple[float, float]:
    """Clear floor areas by hand, from the planes and the thicknesses [in2]."""
    inset = EXTERIOR_IN * (1 - look.place)
    deep = DEEP_IN - 2 * inset
    return (SPLIT_IN - inset - INTERIOR_IN / 2) * deep, (WIDE_IN - SPLIT_IN - inset - INTERIOR_IN / 2) * deep


def gbxml(look: Energy | None = None) -> str:
    """The file's text: 30 by 20 ft outside its planes, split at 16 ft 8 in, a door and a window in front."""
    look = look or Energy()
    k = look.per_inch
    surfaces: list[str] = []

    def plane(points: list[Spot]) -> str:
        corners = "".join(
            "<CartesianPoint>"
            + "".join(f"<Coordinate>{v * k:.9f}</Coordinate>" for v in p)
            + "</CartesianPoint>"
            for p in points
        )
        return f"<PlanarGeometry><PolyLoop>{corners}</PolyLoop></PlanarGeometry>"

    def surface(kind: str, spaces: list[str], points: list[Spot], holes: str = "", made: str = "") -> None:
        number = len(surfaces) + 1
        refs = "".join(f'<AdjacentSpaceId spaceIdRef="{s}"/>' for s in spaces)
        built = f' constructionIdRef="{made}"' if made and look.thickness else ""
        surfaces.append(
            f'<Surface id="s{number}" surfaceType="{kind}"{built}>{refs}{plane(points)}{holes}</Surface>'
        )

    def upright(a: tuple[float, float], b: tuple[float, float], z: float) -> list[Spot]:
        return [(*a, z), (*b, z), (*b, z + HIGH_IN), (*a, z + HIGH_IN)]

    def flat(x0: float, x1: float, z: float) -> list[Spot]:
        return [(x0, 0.0, z), (x1, 0.0, z), (x1, DEEP_IN, z), (x0, DEEP_IN, z)]

    def hole(number: int, kind: str, x0: float, x1: float, z0: float, z1: float) -> str:
        corners: list[Spot] = [(x0, 0.0, z0), (x1, 0.0, z0), (x1, 0.0, z1), (x0, 0.0, z1)]
        return f'<Opening id="o{number}" openingType="{kind}">{plane(corners)}</Opening>'

    spaces = []
    for level in range(look.levels):
        z = level * HIGH_IN
        ids = [f"{name}-{level}" for name in look.names]
        ends = ((0.0, SPLIT_IN), (SPLIT_IN, WIDE_IN))
        for (x0, x1), own, area, name in zip(ends, ids, clear_areas_in2(look), look.names, strict=True):
            stated = f"<Area>{area * k * k:.9f}</Area>" if look.areas else ""
            spaces.append(f'<Space id="{own}"><Name>{name}</Name>{stated}</Space>')
            if level == 0:
                surface("SlabOnGrade", [own], flat(x0, x1, z), made="floor")
            if level + 1 < look.levels:
                kind = "Ceiling" if look.floors_as_ceilings else "InteriorFloor"
                surface(
                    kind,
                    [own, own.replace(f"-{level}", f"-{level + 1}")],
                    flat(x0, x1, z + HIGH_IN),
                    made="floor",
                )
            else:
                surface("Roof", [own], flat(x0, x1, z + HIGH_IN), made="floor")
            front = (
                hole(1, "NonSlidingDoor", 40.0, 76.0, z, z + 80.0) if x0 == 0.0 and level == 0
                else hole(2 + 2 * level, "OperableWindow", x0 + 40.0, x0 + 88.0, z + 36.0, z + 80.0)
            )  # fmt: skip
            surface("ExteriorWall", [own], upright((x0, 0.0), (x1, 0.0), z), front, "outer")
            surface("ExteriorWall", [own], upright((x0, DEEP_IN), (x1, DEEP_IN), z), made="outer")
        surface("ExteriorWall", [ids[0]], upright((0.0, 0.0), (0.0, DEEP_IN), z), made="outer")
        surface("ExteriorWall", [ids[1]], upright((WIDE_IN, 0.0), (WIDE_IN, DEEP_IN), z), made="outer")
        for _ in range(2 if look.doubled else 1):
            surface("InteriorWall", ids, upright((SPLIT_IN, 0.0), (SPLIT_IN, DEEP_IN), z), made="inner")
    layers = {"outer": (0.5, 5.5, 0.5), "inner": (0.5, 3.5, 0.5), "floor": (0.75, 9.25, 0.5)}
    kinds = ("gypsum board", "timber studs", "gypsum board")
    built = ""
    for name, thick in layers.items():
        refs = "".join(f'<MaterialId materialIdRef="{name}{i}"/>' for i in range(3))
        built += (
            f'<Construction id="{name}"><Name>{name} wall</Name><LayerId layerIdRef="{name}"/></Construction>'
        )
        built += f'<Layer id="{name}">{refs}</Layer>'
        for i, t in enumerate(thick):
            measure = f"<Thickness>{t * k:.9f}</Thickness>"
            built += f'<Material id="{name}{i}"><Name>{kinds[i]}</Name>{measure}</Material>'
    storeys = "".join(
        f'<BuildingStorey id="b{i}"><Name>Floor {i + 1}</Name>'
        f"<Level>{i * HIGH_IN * k:.9f}</Level></BuildingStorey>"
        for i in range(look.levels if look.storeys else 1)
    )
    unit = f' lengthUnit="{look.unit}"' if look.unit else ""
    return (
        f'<?xml version="1.0" encoding="UTF-8"?><gbXML xmlns="http://www.gbxml.org/schema"{unit}>'
        f'<Campus id="c"><Location><Name>12 Nowhere Lane</Name></Location><Building id="b">{storeys}'
        f"{''.join(spaces)}</Building>{''.join(surfaces)}{look.extra}</Campus>{built}</gbXML>"
    )
