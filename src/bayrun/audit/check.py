"""The audit of one plan: everything at once, in the order of the catalog."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from bayrun.audit.bundles import check_bundles
from bayrun.audit.cavities import check_cavities
from bayrun.audit.defects import Defect
from bayrun.audit.holes import check_holes
from bayrun.audit.lengths import check_lengths
from bayrun.audit.members import check_bays, check_members
from bayrun.audit.paths import check_paths, check_wishes
from bayrun.audit.pulls import check_boxes, check_labels, check_pulls
from bayrun.audit.reading import read_plan
from bayrun.audit.seals import check_seals
from bayrun.audit.site import Site
from bayrun.audit.steel import check_grommets, check_plates, check_straps
from bayrun.audit.totals import check_drill_list, check_job_named, check_locations, check_totals
from bayrun.house import Job

CHECKS: tuple[Callable[[Site], Iterator[Defect]], ...] = (
    check_job_named,
    check_members,
    check_bays,
    check_locations,
    check_wishes,
    check_paths,
    check_cavities,
    check_holes,
    check_bundles,
    check_lengths,
    check_plates,
    check_straps,
    check_grommets,
    check_seals,
    check_pulls,
    check_boxes,
    check_labels,
    check_drill_list,
    check_totals,
)


def audit(job: Job, plan: Mapping[str, Any]) -> tuple[Defect, ...]:
    """Hold a plan against its house by separate arithmetic.

    Args:
        job: The house, wishes and practice as the job file has them.
        plan: plan.json as parsed data; nothing in it is believed.
    Returns:
        Every defect once, in the order of the catalog; empty where nothing was found. That is no approval:
        the adopted code, the inspector and the licensed trades decide.
    Raises:
        PlanError: The plan is no plan; every fault of the file at once.

    Limits of use: separation from power, bend radius and the place of gear are left to the rules; members
    in walls that stand askew are held in the wall's own coordinates.
    """
    site = Site(job, read_plan(plan))
    found = {defect: None for check in CHECKS for defect in check(site)}
    return tuple(sorted(found, key=lambda d: d.order))
