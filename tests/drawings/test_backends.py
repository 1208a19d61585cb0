"""SVG and DXF say the same as the scene: size, text, layers, true dimensions; the same bytes every time."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.audit import Auditor
from hand_made import planned, small_scene

from bayrun.drawings.bay_sheet import bay_sheet
from bayrun.drawings.dxf import dxf
from bayrun.drawings.plan_sheet import plan_sheet
from bayrun.drawings.scene import Scene, Text
from bayrun.drawings.style import LAYERS
from bayrun.drawings.svg import svg

SVG = "{http://www.w3.org/2000/svg}"


def opened(scene: Scene) -> ezdxf.document.Drawing:
    """The drawing as another reader of the format sees it."""
    import io

    return ezdxf.read(io.StringIO(dxf(scene).decode("utf-8")))


def test_svg_has_true_paper_size_and_text_as_text() -> None:
    root = ElementTree.fromstring(svg(small_scene()))
    assert (root.get("width"), root.get("height")) == ("4in", "3in")  # 192 x 144 real inches at 48 to 1
    texts = [t.text for t in root.iter(f"{SVG}text")]
    assert texts == ["7'\u00a03-1/2\"", "A01 & <B02>"]


def test_svg_places_points_by_hand_arithmetic() -> None:
    # x 0 is 24 in from the frame's left: 24 / 48 in of paper = 36 pt; y 0 is 96 under its top: 144 pt.
    assert 'd="M36 144L216 144"' in svg(small_scene()).decode()


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", "a\"b'c", "x\x00\x08y", "]]>&amp;"])
def test_svg_takes_any_text_of_people(name: str) -> None:
    data = svg(small_scene(Text("A-AREA-IDEN", (0.0, 80.0), name)))
    texts = [t.text for t in ElementTree.fromstring(data).iter(f"{SVG}text")]
    assert texts[-1] == "".join(c for c in name if c >= " ")
    assert b"<script" not in data


def test_layers_follow_the_open_pattern() -> None:
    # Outside: US National CAD Standard, one discipline letter, then four-letter groups.
    for name in LAYERS:
        assert re.fullmatch(r"[A-Z](-[A-Z]{4}){1,3}", name), name


@pytest.fixture(scope="module", params=["small", "plan", "bay"])
def scene(request: pytest.FixtureRequest) -> Scene:
    """A scene made by hand, a plan, a bay."""
    if request.param == "small":
        return small_scene()
    job, frame, wiring = planned("a")
    sheet = plan_sheet(job, frame, wiring, "1") if request.param == "plan" else bay_sheet(job, frame, wiring)
    return sheet.scene


def test_dxf_reopens_without_faults(scene: Scene) -> None:
    drawing = opened(scene)
    auditor: Auditor = drawing.audit()
    assert [str(e.message) for e in auditor.errors] == []
    assert [str(e.message) for e in auditor.fixes] == []
    assert drawing.dxfversion == "AC1024"  # the 2010 format
    assert drawing.units == ezdxf.units.IN


def test_dxf_bytes_repeat(scene: Scene) -> None:
    assert dxf(scene) == dxf(scene)
    assert svg(scene) == svg(scene)


def test_dxf_dimensions_are_true(scene: Scene) -> None:
    from bayrun.drawings.scene import Dimension

    wanted = sorted(round(e.measured_in, 6) for e in scene.elements if isinstance(e, Dimension))
    space = opened(scene).modelspace()
    measured = sorted(round(float(d.get_measurement()), 6) for d in space.query("DIMENSION"))
    assert measured == wanted
    assert wanted


def test_dxf_stands_in_real_inches() -> None:
    space = opened(small_scene()).modelspace()
    line = space.query('LINE[layer=="A-WALL"]').first
    assert (line.dxf.start.x, line.dxf.end.x) == (0.0, 120.0)
    hole = space.query('CIRCLE[layer=="T-HOLE"]').first
    assert hole.dxf.radius == 0.5


def test_dxf_keeps_the_writer_s_switch_as_it_was() -> None:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    dxf(small_scene())
    assert ezdxf.options.write_fixed_meta_data_for_testing is before
