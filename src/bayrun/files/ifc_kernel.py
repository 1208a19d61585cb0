"""Solids that attributes do not tell: the geometry kernel of ifcopenshell, called for one element at a time.

It is slow and large, so it is asked only where ``ifc_shapes`` met a class it does not know, or where a solid
is what is left after others were cut away.
"""

from __future__ import annotations

from typing import Any

from bayrun.files.ifc_open import IN_PER_M
from bayrun.files.ifc_shapes import Loop, Shape

_MOST_FACES = 60_000
"""An element of more faces than this is a scanned or sculpted thing, not a wall."""
_MOST_CALLS = 1_500


class Kernel:
    """Makes the real solid of an element, openings left uncut, in the file's world and in inches.

    Args:
        model: The opened file.
        times: What its lengths are multiplied by, where its unit is wrong.
    """

    def __init__(self, model: Any, times: float = 1.0) -> None:
        self.model = model
        self.scale_in = IN_PER_M * times
        self.calls = 0
        self._settings: Any = None

    def shape(self, product: Any) -> tuple[Shape, ...]:
        """The element's solid as one shape of triangles; empty where the kernel cannot make it."""
        self.calls += 1
        if self.calls > _MOST_CALLS:
            return ()
        try:
            made = self._made(product)
            points, faces = made.geometry.verts, made.geometry.faces
        except MemoryError:
            raise
        except Exception:
            return ()  # a kernel says no in many ways, and each means: no solid
        if not faces or len(faces) > 3 * _MOST_FACES:
            return ()
        corners = [
            (points[i] * self.scale_in, points[i + 1] * self.scale_in, points[i + 2] * self.scale_in)
            for i in range(0, len(points), 3)
        ]
        loops: list[Loop] = [
            (corners[faces[i]], corners[faces[i + 1]], corners[faces[i + 2]]) for i in range(0, len(faces), 3)
        ]
        return (Shape(tuple(loops)),)

    def _made(self, product: Any) -> Any:
        import ifcopenshell.geom

        if self._settings is None:
            settings: Any = ifcopenshell.geom.settings()  # type: ignore[no-untyped-call]
            settings.set("use-world-coords", True)
            settings.set("disable-opening-subtractions", True)
            settings.set("weld-vertices", False)
            self._settings = settings
        return ifcopenshell.geom.create_shape(self._settings, product)
