"""Gear the enclosure lacks: a switch that feeds devices, or an amplifier or pad on the coax."""

from __future__ import annotations

import re
from dataclasses import replace

from bayrun.findings import Fix
from bayrun.house.edits.records import Refused, Signed, Verb, number_of
from bayrun.house.job import Job
from bayrun.house.wished import Gear

COAX = re.compile(r"coax (amplifier|pad) (\d+(?:\.\d+)?) dB")
"""Words of the gear that changes the level of the coax."""


def _free(job: Job, name: str) -> str:
    taken = {g.id for g in job.gear} | {box.id for box in job.enclosures} | {q.id for q in job.locations}
    number, made = 1, name
    while made in taken:
        number += 1
        made = f"{name}{number}"
    return made


def add_switch(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with a switch in the enclosure, with so many ports and watts over its cables.

    Raises:
        Refused: Figures that make no sense.
    """
    ports, watts = number_of(fix, 0), number_of(fix, 1)
    if not 1 <= ports <= 96 or not 0 <= watts <= 5000:
        raise Refused(f"expected a switch of 1 to 96 ports and up to 5000 W, got {ports:g} and {watts:g} W")
    what = f"network switch, {ports:.0f} ports"
    made = Gear(_free(job, "SWITCH"), what, True, ports=int(ports), supply_w=watts)
    return replace(job, gear=(*job.gear, made))


def set_coax_gain(job: Job, fix: Fix, signed: Signed) -> Job:
    """The job with one amplifier (or, below zero, one pad) on its coax, instead of what was there.

    Raises:
        Refused: More than 40 dB up or 30 down.
    """
    gain_db = number_of(fix, 0)
    if not -30 <= gain_db <= 40:
        raise Refused(f"expected a gain of -30 to 40 dB, got {gain_db:g}")
    others = tuple(g for g in job.gear if not COAX.search(g.what))
    job = replace(job, gear=others)
    if gain_db == 0:
        return job
    what = f"coax amplifier {gain_db:g} dB" if gain_db > 0 else f"coax pad {-gain_db:g} dB"
    made = Gear(_free(job, "AMP" if gain_db > 0 else "PAD"), what, True)
    return replace(job, gear=(*others, made))


SWITCH_VERB = Verb(
    "add_switch", ("ports", "watts"), True, "Put a switch that feeds devices in the box.", add_switch
)
COAX_VERB = Verb("set_coax_gain", ("dB",), True, "An amplifier or a pad on the coax.", set_coax_gain)
