"""Hands for the tests of edits: a demo house, an edit, a refusal's words."""

from __future__ import annotations

from functools import cache

import pytest

from bayrun.files import read_job
from bayrun.findings import Fix
from bayrun.house import Job
from bayrun.house.edits import Refused, apply
from conftest import ROOT


@cache
def house(letter: str) -> Job:
    """A demo house."""
    return read_job(ROOT / "examples" / f"house-{letter}.yaml")


def edit(job: Job, verb: str, *arguments: str | float) -> Job:
    """The job after one edit."""
    return apply(job, Fix(verb, arguments, ""))


def refused(job: Job, verb: str, *arguments: str | float) -> str:
    """Why an edit was refused; the test fails where it was not."""
    with pytest.raises(Refused) as caught:
        edit(job, verb, *arguments)
    return str(caught.value)
