"""The calculators as a person meets them: only JSON on stdout, exit codes, one message for bad input."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner, Result

from bayrun.cli.quick import quick


def ask(*words: str) -> Result:
    return CliRunner().invoke(quick, list(words))


EXAMPLES: list[tuple[int, tuple[str, ...], tuple[str, ...]]] = [
    (0, ("power", "12", "25.5", "--length", "150", "--temperature", "130"), ("class 4", "holds")),
    (1, ("power", "25.5", "--length", "100 m", "--awg", "26", "--temperature", "60C"), ("fails", "30 W")),
    (0, ("power", "12", "--length", "150", "--switch", "60"), ("Switch: holds",)),
    (0, ("link", "--length", "150", "--temperature", "130"), ("Longest fixed cable here: 253 ft", "holds")),
    (1, ("link", "--length", "290", "--category", "6a", "--temperature", "122"), ("fails", "allows 259 ft")),
    (1, ("drop", "--length", "100", "--amps", "0.5"), ("5.3 % of 5 %", "thinnest that is enough: 16 AWG")),
    (0, ("drop", "--kind", "bell", "--length", "60", "--watts", "8"), ("16 V over 60 ft", "holds")),
    (0, ("drop", "--kind", "shade", "--length", "20", "--amps", "1"), ("start at 2 x counted",)),
    (1, ("speaker", "--length", "60"), ("thinnest that is enough: 14 AWG",)),
    (0, ("speaker", "--length", "150", "--line", "70.7", "--watts", "40"), ("at the far end", "holds")),
    (0, ("coax", "--length", "80", "--entry", "8", "--splitter", "2"), ("1000 MHz", "tilt", "holds")),
    (1, ("coax", "--length", "200", "--entry", "-5", "--splitter", "8"), ("fails",)),
    (0, ("optical", "--length", "120"), ("10GBASE-SR OM3 over 120 ft: holds",)),
    (1, ("optical", "--length", "400 m", "--connectors", "3"), ("longer than 300 m",)),
    (0, ("coverage", "--distance", "35", "--wall", "2x drywall partition"), ("± 6 dBm", "holds")),
    (1, ("coverage", "--distance", "60", "--wall", "5x concrete wall"), ("fails",)),
    (1, ("coverage", "--distance", "30", "--in-enclosure", "--band", "6"), ("metal box 20", "cannot tell")),
    (0, ("wall-loss", "--wall", "drywall partition"), ('1/2" plasterboard', "5.25 GHz: ")),
    (0, ("wall-loss", "--layer", "brick:4", "--layer", "air:1", "--band", "2.4"), ("2.4 GHz: ",)),
    (0, ("heat", "--watts", "10"), ("inside 87 °F (30 °C)", "leave by the door")),
    (1, ("heat", "--watts", "45", "--insulated-back", "--battery", "12x9"), ("fails", "battery: ")),
    (0, ("heat", "--bundle", "24"), ("class 8 on all, 86 °F", "holds")),
    (1, ("heat", "--bundle", "24", "--around", "131F"), ("fails", "split the bundle")),
]
REFUSALS: list[tuple[tuple[str, ...], str]] = [
    (("power", "99", "--length", "400"), "at most 71.3 W"),
    (("power", "9", "--length", "far"), "expected feet such as 150"),
    (("power", "9", "--length", "50", "--temperature", "hot"), "expected degrees Fahrenheit"),
    (("power", "9", "--length", "50", "--class", "9"), "a power class 0 to 8"),
    (("link", "--length", "900", "--temperature", "160", "--connections", "6"), "20 to 60 C"),
    (("link", "--length", "90", "--category", "8"), "one of 5e, 6, 6A, got 8"),
    (("drop", "--length", "9"), "expected either --amps or --watts"),
    (("drop", "--length", "9", "--amps", "1", "--volts", "120"), "5 to 60 V"),
    (("drop", "--length", "9", "--amps", "1", "--kind", "motor"), "one of device, alarm, bell, shade"),
    (("speaker", "--length", "9", "--line", "70.7"), "--line and --watts together"),
    (("speaker", "--length", "9", "--ohms", "0"), "2 to 32 ohm"),
    (("coax", "--length", "80", "--entry", "8", "--splitter", "5"), "a splitter to be one of"),
    (("optical", "--length", "80", "--application", "OC-3"), "an application to be one of"),
    (("wall-loss", "--layer", "floorboard:3/4"), "a frequency for floorboard 50 to 100 GHz"),
    (("wall-loss", "--layer", "brick"), "expected a material and its thickness"),
    (("wall-loss",), "expected either --wall or --layer"),
    (("coverage", "--distance", "30", "--wall", "mud"), "got mud"),
    (("coverage", "--distance", "900"), "a distance 3.28084 to 328.084 ft"),
    (("coverage", "--distance", "30", "--band", "7"), "one of 2.4 GHz, 5 GHz, 6 GHz, got 7 GHz"),
    (("heat",), "expected either --watts"),
    (("heat", "--watts", "900", "--height", "2"), "a wall enclosure), got 2 in; expected watts"),
    (("heat", "--watts", "9", "--battery", "big"), "expected volts x amp-hours such as 12x9"),
    (("heat", "--bundle", "500"), "1 to 192"),
]


@pytest.mark.parametrize(("code", "words", "told"), EXAMPLES)
def test_examples(code: int, words: tuple[str, ...], told: tuple[str, ...]) -> None:
    done = ask(*words)
    assert done.exit_code == code, done.output
    assert done.stderr == ""
    for part in told:
        assert part in done.stdout
    as_json = ask(*words, "--json")
    assert (as_json.exit_code, as_json.stderr) == (code, "")
    figures = list(_figures(json.loads(as_json.stdout)))
    assert figures
    for figure in figures:
        assert figure["formula"], figure
        assert figure["source"], figure


def _figures(told: Any) -> Any:
    """Every figure in an answer."""
    if isinstance(told, list):
        for item in told:
            yield from _figures(item)
    elif isinstance(told, dict):
        if "formula" in told:
            yield told
        else:
            yield from _figures(list(told.values()))


@pytest.mark.parametrize(("words", "told"), REFUSALS)
def test_refusals(words: tuple[str, ...], told: str) -> None:
    done = ask(*words, "--json")
    assert done.exit_code == 2, done.output
    assert done.stdout == ""
    assert told in done.stderr
    assert "Traceback" not in done.stderr
