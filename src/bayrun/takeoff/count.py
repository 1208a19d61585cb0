"""Count everything of one plan at once."""

from __future__ import annotations

from bayrun.framing.records import Frame
from bayrun.house import Job
from bayrun.tables.prices import PriceList, generic_prices
from bayrun.takeoff.added import with_added_plates, with_added_seals, with_added_straps
from bayrun.takeoff.boxes import deal_boxes
from bayrun.takeoff.carry import carried_pulls, carried_supports, retired
from bayrun.takeoff.drill import drill_rows
from bayrun.takeoff.labels import label_pairs
from bayrun.takeoff.lengths import length_rows
from bayrun.takeoff.material import material
from bayrun.takeoff.plates import grommets, nail_plates, straps
from bayrun.takeoff.pulls import pulls
from bayrun.takeoff.records import Takeoff
from bayrun.takeoff.seals import seals
from bayrun.takeoff.supports import supports
from bayrun.wiring import Wiring


def takeoff(
    job: Job, frame: Frame, wiring: Wiring, prices: PriceList | None = None, base: Takeoff | None = None
) -> Takeoff:
    """All lists of one plan: lengths, steel, supports, seals, drill rows, pulls, boxes, labels, material.

    Args:
        prices: The firm's price list; None takes the example, whose prices are invented.
        base: The lists of the plan last issued: pulls, boxes and supports keep their names.
    Returns:
        The lists, and findings of the counting itself (a run longer than any box).
    """
    plates, ties, rings = (
        with_added_plates(job, frame, wiring, nail_plates(job, frame, wiring)),
        with_added_straps(job, wiring, straps(job, frame, wiring)),
        grommets(job, frame, wiring),
    )
    held = carried_supports(supports(job, wiring), base)
    closed = with_added_seals(job, frame, wiring, seals(job, frame, wiring))
    firm = generic_prices() if prices is None else prices
    dealt = deal_boxes(job, wiring, pulls(job, wiring), float(firm.rate("useful rest").value))
    pulled, boxes = carried_pulls(dealt.pulls, dealt.boxes, base)
    labels = label_pairs(job, wiring)
    lines = material(
        job,
        wiring,
        prices=firm,
        plates=plates,
        straps=ties,
        grommets=rings,
        supports=held,
        seals=closed,
        boxes=boxes,
        labels=labels,
    )
    return Takeoff(
        lengths=length_rows(job, wiring),
        plates=plates,
        grommets=rings,
        straps=ties,
        supports=held,
        seals=closed,
        drill=drill_rows(job, frame, wiring, plates, ties),
        pulls=pulled,
        boxes=boxes,
        labels=labels,
        material=lines,
        findings=dealt.findings,
        box_checks=dealt.checks,
        retired=retired(base, [x.id for group in (pulled, boxes, held) for x in group]),
    )
