"""A session gives the very bytes of a plan made without its memo, whatever was planned in it before."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from tests.demo import job as demo_job
from tests.random_houses import random_house

from bayrun.files.planjson import plan_json
from bayrun.framing import lay_out
from bayrun.house import Job
from bayrun.jobs import plan
from bayrun.jobs.plan import Plan
from bayrun.jobs.session import Session
from bayrun.routing.build import passages
from bayrun.routing.memo import Memo
from bayrun.routing.mesh import weave


def bytes_of(made: Plan) -> bytes:
    return plan_json(made.job, made.frame, made.wiring, made.counted, made.findings)


def shaken(job: Job, dice: random.Random) -> Job:
    """One location elsewhere: along its wall, up, or over the ceiling."""
    q = dice.choice(job.locations)
    if q.offset_in is not None:
        wall = next(w for w in job.walls if w.id == q.wall)
        low_in, high_in = wall.plate_start_in + 4, wall.plate_end_in - 4
        moved = replace(q, offset_in=round(dice.uniform(low_in, high_in) * 16) / 16)
    elif q.x_in is not None and q.y_in is not None:
        moved = replace(q, x_in=q.x_in + dice.randint(-12, 12), y_in=q.y_in + dice.randint(-12, 12))
    else:
        moved = replace(q, height_in=q.height_in + 2)
    return replace(job, locations=tuple(moved if one.id == q.id else one for one in job.locations))


@pytest.mark.parametrize("house", ["A", "B", "C"])
def test_moved_locations_one_after_another(house: str) -> None:
    dice = random.Random(f"warm {house}")
    session, job = Session(), demo_job(house)
    last = session.plan(job)
    for _ in range(3):
        job = shaken(job, dice)
        warm = session.plan(job, base=last.issued)
        cold = plan(job, base=last.issued)
        assert bytes_of(warm) == bytes_of(cold)
        assert session.plan(job, base=last.issued) is warm
        last = warm
    plain = session.plan(job)
    assert bytes_of(plain) == bytes_of(plan(job))
    assert session.plan(job, base=last.issued) is not plain


def test_other_houses_and_practice_do_not_mix() -> None:
    session = Session()
    houses = [demo_job("A"), random_house(7), demo_job("A")]
    houses.append(replace(houses[0], practice=replace(houses[0].practice, hole_gap_in=2.0)))
    houses.append(replace(houses[0], obstacles=()))
    for job in houses:
        assert bytes_of(session.plan(job)) == bytes_of(plan(job))


@pytest.mark.parametrize("seed", range(4))
def test_the_graph_is_the_same_with_and_without_a_memo(seed: int) -> None:
    dice = random.Random(seed)
    job, memo = random_house(seed + 40), Memo()
    frame = lay_out(job)
    for _ in range(3):
        warm, cold = passages(job, frame, memo), passages(job, frame)
        assert warm == cold
        woven, fresh = weave(warm, memo), weave(cold)
        assert woven.nodes == fresh.nodes
        for column in ("start", "target", "edge", "length", "place", "terminal"):
            assert (getattr(woven, column) == getattr(fresh, column)).all()
        job = shaken(job, dice)
