"""Steps run alone with the same result: plan, plan in a frame, a session's memo; progress as it is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bayrun.files import parse_job, read_job
from bayrun.framing import lay_out
from bayrun.house import Job
from bayrun.jobs import Session, plan
from bayrun.jobs import session as session_module
from bayrun.jobs.pack import make_pack
from bayrun.jobs.plan import check, plan_in
from bayrun.routing import route
from bayrun.takeoff import takeoff
from cli.packs import TOO_DEEP, pack_of, starter, tree


@pytest.fixture
def job() -> Job:
    """The starter job."""
    return parse_job(starter())


def test_each_step_alone_gives_the_same(job: Job) -> None:
    made = plan(job)
    frame = lay_out(job)
    wiring = route(job, frame)
    counted = takeoff(job, frame, wiring)
    assert (made.frame, made.wiring, made.counted) == (frame, wiring, counted)
    assert made.findings == check(job, frame, wiring, counted)
    assert plan_in(job, frame) == made
    assert Session().plan(job) == made


def test_the_pack_by_hand_is_the_pack_of_the_command_line() -> None:
    pack = pack_of("c")
    assert make_pack(plan(read_job(pack.job), certify=True), pack.job.read_bytes()) == tree(pack.folder)


def test_findings_come_worst_first_and_once() -> None:
    made = plan(parse_job(starter().replace(*TOO_DEEP)))
    ranks = [f.severity.rank for f in made.findings]
    assert ranks == sorted(ranks)
    assert ranks[0] == 0
    assert len(set(made.findings)) == len(made.findings)
    assert made.totals.stops == len(made.stops) == ranks.count(0) > 0


def test_a_session_frames_and_plans_the_same_content_once(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    framed = []

    def counting(asked: Job) -> object:
        framed.append(asked)
        return lay_out(asked)

    monkeypatch.setattr(session_module, "lay_out", counting)
    session = Session()
    first = session.plan(job)
    moved = replace(job, locations=(replace(job.locations[0], height_in=60.0), *job.locations[1:]))
    second = session.plan(moved)
    assert second.frame is first.frame  # a moved location keeps the frame
    assert second.wiring != first.wiring
    assert session.plan(job) is first  # an undone edit keeps its plan
    assert len(framed) == 1
    wall = replace(job.walls[0], spacing_in=24.0)
    session.plan(replace(job, walls=(wall, *job.walls[1:])))
    assert len(framed) == 2


def test_progress_names_each_step_as_it_begins(job: Job) -> None:
    told: list[tuple[str, int, int]] = []
    made = plan(job, lambda *step: told.append(step))
    make_pack(made, b"", lambda *step: told.append(step))
    words = list(dict.fromkeys(what for what, _, _ in told))
    assert words == [
        *("framing the house", "finding a way for every run", "routed", "counting and checking"),
        *("writing the lists", "drawing the sheets", "setting the pages"),
    ]
    routed = [(done, total) for what, done, total in told if what == "routed"]
    assert [done for done, _ in routed] == sorted(done for done, _ in routed)
    assert routed[-1][0] == routed[-1][1]
