"""The laws of the house, read from the sources; every checker is first shown a planted fault."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable

import pytest

import ladder
from conftest import ROOT

SOURCES = list(ladder.modules(ROOT / "src" / "bayrun"))


def assert_none(checker: Callable[[str, str], list[str]]) -> None:
    breaches = [breach for name, text in SOURCES for breach in checker(name, text)]
    assert not breaches, "\n" + "\n".join(breaches)


def test_sources_are_found() -> None:
    names = [name for name, _ in SOURCES]
    assert "bayrun.__init__" in names
    assert "bayrun.cli.main" in names


def test_imports_go_down_the_ladder() -> None:
    assert_none(ladder.ladder_breaches)


def test_only_the_edges_touch_the_machine() -> None:
    assert_none(ladder.machine_breaches)


def test_lengths_are_compared_by_geometry() -> None:
    assert_none(ladder.comparison_breaches)


def test_public_names_are_explained() -> None:
    assert_none(ladder.docstring_breaches)


@pytest.mark.parametrize(
    ("module", "text", "told"),
    [
        ("bayrun.units.tape", "from bayrun.house import Job", "house stands above units"),
        ("bayrun.units.tape", "def f():\n    import bayrun.cli.main", "cli stands above units"),
        (
            "bayrun.house.job",
            "if TYPE_CHECKING:\n    from bayrun.wiring import Run",
            "wiring stands above house",
        ),
        ("bayrun.units.tape", "from ..framing import Stud", "framing stands above units"),
        ("bayrun.units.__init__", "from ..framing import Stud", "framing stands above units"),
        ("bayrun.units.tape", "from .. import framing", "framing stands above units"),
        ("bayrun.units.tape", "importlib.import_module('bayrun.rules')", "rules stands above units"),
        ("bayrun.rules.holes", "from bayrun.routing import route", "rules never imports routing"),
        ("bayrun.radio.loss", "import bayrun.routing", "radio never imports routing"),
        ("bayrun.routing.graph", "import bayrun.radio", "radio stands above routing"),
        ("bayrun.audit.plan", "from bayrun.framing import lay_out", "framing stands above audit"),
        ("bayrun.rules.holes", "from bayrun.audit import prove", "rules never imports audit"),
        ("bayrun.web.pages", "from bayrun.rules import check", "web may import only jobs, store, units"),
        ("bayrun.jobs.plan", "from bayrun.store import save", "store stands above jobs"),
        ("bayrun.rules.holes", "from bayrun import plan", "take it from the package that owns it"),
        ("bayrun.sundries.x", "", "sundries is not on the ladder"),
    ],
)
def test_planted_import_is_found(module: str, text: str, told: str) -> None:
    (breach,) = ladder.ladder_breaches(module, text)
    assert told in breach


@pytest.mark.parametrize(
    ("module", "text"),
    [
        ("bayrun.rules.holes", "from bayrun.limits import bore"),
        ("bayrun.rules.holes", "from .plates import check"),
        ("bayrun.rules.__init__", "from . import plates"),
        ("bayrun.jobs.plan", "from bayrun.audit import prove"),
        ("bayrun.web.pages", "from bayrun.jobs import Session"),
        ("bayrun.cli.main", "from bayrun import __version__"),
        ("bayrun.__init__", "from bayrun.jobs import plan"),
        ("bayrun.units.tape", "import re"),
    ],
)
def test_honest_import_passes(module: str, text: str) -> None:
    assert ladder.ladder_breaches(module, text) == []


@pytest.mark.parametrize(
    "text",
    [
        "import os",
        "from time import monotonic",
        "def f():\n    import urllib.request",
        "open('x')",
        "Path('x').read_text()",
        "p.write_bytes(b'')",
        "datetime.now()",
        "datetime.datetime.now()",
        "date.today()",
        "uuid.uuid4()",
        "random.random()",
        "numpy.random.default_rng()",
        "hash('a')",
    ],
)
def test_planted_touch_is_found(text: str) -> None:
    assert len(ladder.machine_breaches("bayrun.rules.holes", text)) == 1
    assert ladder.machine_breaches("bayrun.files.jobs", text) == []


@pytest.mark.parametrize(
    "text", ["random.Random(7)", "default_rng(7)", "uuid.uuid5(space, 'a')", "date(2026, 1, 2)"]
)
def test_steady_call_passes(text: str) -> None:
    assert ladder.machine_breaches("bayrun.rules.holes", text) == []


def test_tables_may_read_their_own_resources() -> None:
    text = "files('bayrun.tables').joinpath('clauses.toml').read_text('utf-8')"
    assert ladder.machine_breaches("bayrun.tables.clauses", text) == []
    assert len(ladder.machine_breaches("bayrun.rules.holes", text)) == 1


@pytest.mark.parametrize(
    "text",
    [
        "a_in == b_in",
        "a_in <= 3",
        "3 >= hole.diameter_in",
        "hole.diameter_in != other",
        "0 < a_in <= b",
        "a_in + margin <= b",
        "abs(a_in - b) <= 1",
        "-a_in >= b",
        "length_in(path) == 4",
        "self.sizes_in[0] >= 2",
    ],
)
def test_planted_comparison_is_found(text: str) -> None:
    assert len(ladder.comparison_breaches("bayrun.rules.holes", text)) == 1
    assert ladder.comparison_breaches("bayrun.geometry.touch", text) == []
    assert ladder.comparison_breaches("bayrun.limits.bore", text) == []


@pytest.mark.parametrize(
    "text", ["below(a_in, b_in)", "a_in is None", "count <= 3", "a_in in known", "a < b_in"]
)
def test_honest_comparison_passes(text: str) -> None:
    assert ladder.comparison_breaches("bayrun.rules.holes", text) == []


def test_planted_silence_is_found() -> None:
    text = "'Module.'\ndef told():\n    'Told.'\ndef silent(): ...\nclass C:\n    'C.'\n    def m(self): ..."
    assert ladder.docstring_breaches("m", text) == ["m.silent has no docstring", "m.C.m has no docstring"]
    assert ladder.docstring_breaches("m", "x = 1") == ["m has no docstring"]


def test_help_loads_nothing_heavy() -> None:
    program = (
        "import sys\nfrom bayrun.cli.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit as end:\n    assert end.code == 0\n"
        "print('loaded:', *sorted(set(sys.modules) & set(sys.argv[1:])))"
    )
    heavy = ["scipy", "numba", "ezdxf", "ifcopenshell", "typst", "shapely"]
    done = subprocess.run(
        [sys.executable, "-P", "-c", program, *heavy],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT / "src",
    )
    assert done.stdout.splitlines()[-1] == "loaded:"
    # The program above must be able to see a heavy module.
    planted = program.replace("import sys\n", "import sys, shapely\n")
    done = subprocess.run(
        [sys.executable, "-P", "-c", planted, *heavy],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT / "src",
    )
    assert done.stdout.splitlines()[-1] == "loaded: shapely"
