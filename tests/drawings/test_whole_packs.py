"""The packs that people get, of demo houses and of models by others: every page measured."""

from __future__ import annotations

from functools import cache

import pytest
from hand_made import EXAMPLES
from pack_measure import PackMeasure, measure_pack

from bayrun.drawings.measure import measure_scene
from bayrun.drawings.pack import drawing_sheets
from bayrun.files.jobfile import read_job
from bayrun.house import Job
from bayrun.jobs.bring_in import bring_in
from bayrun.jobs.pack import make_pack
from bayrun.jobs.plan import Plan, plan
from conftest import shared_file

MODELS = {"duplex": "houses/duplex/Duplex_A_20110907.ifc", "flat": "houses/flat/04_Flat.ifc"}
HOUSES = ["house-a", "house-b", "house-c", *MODELS]


@cache
def planned_whole(name: str) -> Plan:
    """A house planned as the command line plans it; a model by others is skipped where it is not there."""
    job: Job
    if name in MODELS:
        job = bring_in(shared_file(MODELS[name]), date="2026-11-25").job
    else:
        job = read_job(EXAMPLES / f"{name}.yaml")
    return plan(job)


@cache
def measured(name: str) -> PackMeasure:
    """The whole pack of a house, measured."""
    return measure_pack(make_pack(planned_whole(name), "")["pack.pdf"])


@pytest.mark.parametrize("name", HOUSES)
def test_every_page_is_clean(name: str) -> None:
    measure = measured(name)
    assert measure.overlaps == ()
    assert measure.clipped == ()
    assert measure.empty_pages == ()
    assert measure.uncounted == ()
    assert measure.loose_fonts == ()
    assert measure.pages > 10


@pytest.mark.parametrize("name", HOUSES)
def test_every_drawing_is_clean(name: str) -> None:
    whole = planned_whole(name)
    for sheet in drawing_sheets(whole.job, whole.frame, whole.wiring):
        measure = measure_scene(sheet.scene)
        assert (measure.overlaps, measure.clipped, measure.outside) == ((), (), ()), sheet.name
