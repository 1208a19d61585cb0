"""Names of the ends of runs in the passage graph."""

from __future__ import annotations

from bayrun.house import Enclosure, End, Job

BOX = "enclosure"


def box_terminal(job: Job, box: Enclosure) -> str:
    """Name of an enclosure in the graph: ``enclosure`` for the chosen one, with its id for a second one."""
    chosen = job.chosen_enclosure
    return BOX if chosen is not None and chosen.id == box.id else f"{BOX}:{box.id}"


def is_box(end_id: str) -> bool:
    """True for the name of an enclosure or one of its entries in the graph."""
    return end_id.split("/")[0].split(":")[0] == BOX


def terminal(job: Job, end: End) -> str:
    """Name of one end of a run in the graph."""
    box = job.enclosure_at(end)
    if box is not None:
        return box_terminal(job, box)
    return BOX if end.type == "enclosure" else end.id
