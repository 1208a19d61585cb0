"""Done work that no longer agrees with the job: drilled where no wood is, pulled to where no box is."""

from __future__ import annotations

from bayrun.findings import Finding, Severity, Source
from bayrun.rules.case import Case

SLUG = "done-work-differs"


def check(case: Case) -> tuple[Finding, ...]:
    """One finding for each piece of done work that the plan could not bring together with the job."""
    source = Source("common practice", confirmed="practice")
    return tuple(
        Finding(SLUG, Severity.FIX_SOON, (told.about,), told.place, f"{told.says}.", source=source)
        for told in case.wiring.done_told
    )
