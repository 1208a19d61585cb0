"""What the edits of the enclosure share: the box and the gear they speak of."""

from __future__ import annotations

from dataclasses import replace

from bayrun.house.edits.records import Refused
from bayrun.house.job import Job
from bayrun.house.wished import Enclosure, End, Gear


def box_of(job: Job, name: str) -> Enclosure:
    """The enclosure of this id.

    Raises:
        Refused: There is none.
    """
    found = next((box for box in job.enclosures if box.id == name), None)
    if found is None:
        raise Refused(f"enclosure {name} is not in the job")
    return found


def gear_inside(job: Job, name: str) -> Gear:
    """The gear of this id, in the enclosure.

    Raises:
        Refused: There is none, or it hangs elsewhere.
    """
    found = next((gear for gear in job.gear if gear.id == name), None)
    if found is None:
        raise Refused(f"gear {name} is not in the job")
    if not found.in_enclosure:
        raise Refused(f"{found.what} hangs in {found.room or 'another place'}, not in the enclosure")
    return found


def box_of_gear(job: Job, name: str) -> Enclosure:
    """The built enclosure that a gear inside hangs in.

    Raises:
        Refused: There is none.
    """
    found = job.enclosure_at(End("device", name))
    if found is None:
        raise Refused("there is no enclosure to hang gear in")
    return found


def with_box(job: Job, box: Enclosure) -> Job:
    """The job with one enclosure changed."""
    return replace(job, enclosures=tuple(box if b.id == box.id else b for b in job.enclosures))
