"""The places a job names for its enclosure, side by side on one page."""

from __future__ import annotations

from collections.abc import Sequence

from bayrun.drawings import cautions
from bayrun.drawings.lists import Column, ListRow, ListSheet
from bayrun.house import Job
from bayrun.jobs.plan import Plan, Progress
from bayrun.siting.plans import SitePlan, compare_candidates
from bayrun.units import feet_and_inches


def candidate_rows(job: Job, found: Sequence[SitePlan]) -> tuple[tuple[str, ...], ...]:
    """What differs between places, row by row: the question, then each place's answer."""
    money = job.practice.currency
    chosen = job.chosen_enclosure
    rows: list[tuple[str, ...]] = [("where", *(p.place for p in found))]
    rows.append(("in this plan", *("yes" if chosen and p.enclosure.id == chosen.id else "no" for p in found)))
    rows.append((f"cable, pulling, holes [{money}]", *(f"{p.price:,.0f}" for p in found)))
    rows.append(("feet of cable", *(f"{p.feet:,.0f}" for p in found)))
    rows.append(("holes to drill", *(f"{p.holes}" for p in found)))
    rows.append(("nail plates", *(f"{p.plates}" for p in found)))
    rows.append(("seals", *(f"{p.seals}" for p in found)))
    rows.append(("longest run", *(f"{p.longest_run}, {feet_and_inches(12 * p.longest_ft)}" for p in found)))
    rows.append(("runs without a way", *(", ".join(p.unreached) or "none" for p in found)))
    rows.append(("findings that say stop", *(f"{p.stops}" for p in found)))
    rows.append(("findings to fix soon", *(f"{p.fixes}" for p in found)))
    rows.append(("cannot tell", *(f"{p.cannot_tell}" for p in found)))
    rows.append(("entered from", *(" and ".join(p.enclosure.entries) for p in found)))
    rows.append(("radio from inside the shut box", *(_share(p.radio_inside) for p in found)))
    rows.append(("radio from the ceiling before it", *(_share(p.radio_ceiling) for p in found)))
    rows.append(("what the findings say of it", *(" ".join(p.about) or "nothing" for p in found)))
    return tuple(rows)


def _share(share: float | None) -> str:
    return "not asked" if share is None else f"{100 * share:.0f} % of the house, within about 6 dB"


def candidate_sheet(plan: Plan, progress: Progress | None = None) -> ListSheet | None:
    """One page with every place the job names for its one enclosure; None where it names only one."""
    built = {box.id for box in plan.job.built_enclosures[1:]}
    if sum(box.id not in built for box in plan.job.enclosures) < 2:
        return None
    found = compare_candidates(plan.job, plan.frame, plan.wiring, progress)
    chosen = plan.job.chosen_enclosure
    least = min(found, key=lambda p: p.order)
    money = plan.job.practice.currency
    heading = f"Where the enclosure could hang: {least.enclosure.id} costs least"
    mine = next((p for p in found if chosen is not None and p.enclosure.id == chosen.id), least)
    if mine is not least:
        heading += f", {mine.enclosure.id} is planned for {mine.price - least.price:,.0f} {money} more"
    return ListSheet(
        "enclosure places",
        heading,
        (Column("question", share=0.6), *(Column(p.enclosure.id, share=1.2) for p in found)),
        tuple(ListRow(row) for row in candidate_rows(plan.job, found)),
        note=(
            "Each place planned whole, with the same wishes, prices and framing. "
            "The feed is the electrician's: ask before choosing."
        ),
        tick=False,
        field="",
        caution=cautions.COVER[0],
        wide=True,
    )
