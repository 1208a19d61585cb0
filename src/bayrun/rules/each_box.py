"""Rules about the enclosure, asked of every enclosure that is built."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import wraps

from bayrun.findings import Finding
from bayrun.rules.case import Case

Check = Callable[[Case], tuple[Finding, ...]]


def each_box(check: Check) -> Check:
    """The same check for the chosen enclosure and every second one.

    For a second one the cure "choose another place" is left out: it would move the chosen enclosure.
    """

    @wraps(check)
    def checked(case: Case) -> tuple[Finding, ...]:
        found = list(check(case))
        for box in case.job.built_enclosures[1:]:
            other = replace(case, job=replace(case.job, enclosure=box.id))
            for finding in check(other):
                fixes = tuple(f for f in finding.fixes if f.verb != "choose_enclosure")
                found.append(replace(finding, fixes=fixes))
        return tuple(dict.fromkeys(found))

    return checked
