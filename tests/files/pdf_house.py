"""The four-room house of ``dxf_house`` as a PDF page, written operator by operator."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from files.dxf_house import DOORS, ROOMS, WALLS, WINDOWS, Point, _hole

KAPPA = 0.5522847498
"""Length of a curve's handles for a quarter of a circle of radius one (plane geometry)."""


def write_pdf(path: Path, *pages: str) -> Path:
    """A PDF of these pages, each given as its drawing operators; 11 by 17 in, lying."""
    objects = ["<< /Type /Catalog /Pages 2 0 R >>", ""]
    kids = []
    objects.append("<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>")
    for operators in pages:
        stream = len(objects) + 1
        objects.append(f"<< /Length {len(operators.encode())} >>\nstream\n{operators}\nendstream")
        kids.append(len(objects) + 1)
        objects.append(
            f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 1224 792] /Contents {stream} 0 R "
            "/Resources << /Font << /F1 3 0 R >> >> >>"
        )
    objects[1] = f"<< /Type /Pages /Kids [{' '.join(f'{k} 0 R' for k in kids)}] /Count {len(kids)} >>"
    out, offsets = b"%PDF-1.4\n", []
    for number, text in enumerate(objects, 1):
        offsets.append(len(out))
        out += f"{number} 0 obj\n{text}\nendobj\n".encode()
    table = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode()
    out += "".join(f"{o:010d} 00000 n \n" for o in offsets).encode()
    out += f"trailer\n<< /Size {len(objects) + 1} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n".encode()
    path.write_bytes(out)
    return path


def plan_page(
    per_in: float = 1.5, scale_text: str = 'SCALE: 1/4" = 1\'-0"', at: Point = (150.0, 120.0)
) -> str:
    """Drawing operators of the house; ``per_in`` points an inch of the house (1.5 is 1/4 in to the foot)."""
    from shapely.geometry import LineString, box
    from shapely.ops import unary_union

    def p(point: Point) -> str:
        return f"{at[0] + point[0] * per_in:.3f} {at[1] + point[1] * per_in:.3f}"

    lines = ["0.5 w"]
    bands = [LineString((a, b)).buffer(t / 2, cap_style="flat") for a, b, t in WALLS]
    holes = [box(*_hole(WALLS, *o)) for o in (*DOORS, *WINDOWS)]
    shape = unary_union(bands).difference(unary_union(holes))
    for part in getattr(shape, "geoms", [shape]):
        for ring in (part.exterior, *part.interiors):
            points = [(float(x), float(y)) for x, y in ring.coords]
            lines += [f"{p(a)} m {p(b)} l S" for a, b in pairwise(points)]
    for wall, low, width in DOORS:
        (ax, ay), (bx, _), thick = WALLS[wall]
        upright = ax == bx
        # Hinge at the low end; the leaf stands square to the wall, the arc runs to the other jamb.
        hx, hy = (ax - thick / 2, low) if upright else (low, ay + thick / 2)
        tip = (hx - width, hy) if upright else (hx, hy + width)
        shut = (hx, hy + width) if upright else (hx + width, hy)
        k = KAPPA * width
        if upright:
            c, d = (tip[0], tip[1] + k), (shut[0] - k, shut[1])
        else:
            c, d = (tip[0] + k, tip[1]), (shut[0], shut[1] + k)
        lines += [f"{p((hx, hy))} m {p(tip)} l S", f"{p(tip)} m {p(c)} {p(d)} {p(shut)} c S"]
    for name, where, _ in ROOMS:
        lines.append(f"BT /F1 10 Tf {p(where)} Td ({name}) Tj ET")
    if scale_text:
        lines.append(f"BT /F1 12 Tf 900 60 Td ({scale_text}) Tj ET")
    lines.append("BT /F1 12 Tf 900 30 Td (Owner: N. O. Body, 12 Invented Road) Tj ET")
    return "\n".join(lines)
