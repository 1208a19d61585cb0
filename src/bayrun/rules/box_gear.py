"""What hangs in the enclosure and what enters it: fitted out once for a plan, judged by subject.

Sizes nobody said are the usual ones of the gear's words: a finding that leans on them says so.
"""

from __future__ import annotations

from bayrun.enclosure import fit_out
from bayrun.findings import Finding
from bayrun.rules import box_entries, box_full, box_heat
from bayrun.rules.case import Case
from bayrun.rules.enclosure_bay import place_of

SLUGS = (*box_full.SLUGS, *box_heat.SLUGS, *box_entries.SLUGS)


def check(case: Case) -> tuple[Finding, ...]:
    """Everything about gear, heat, knockouts and slack of the chosen enclosure. Source: firm practice."""
    found: list[Finding] = []
    for box in case.job.built_enclosures:
        told = fit_out(case.job, case.wiring, box)
        if told is None:
            continue
        place = place_of(case, box)
        found += box_full.findings(case, told, place)
        found += box_heat.findings(case, told, place)
        found += box_entries.findings(case, told, place)
    return tuple(found)
