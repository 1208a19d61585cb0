"""Edits of a job, one verb a file. A fix names a verb; ``apply`` gives the edited job or says why not.

Some edits change the house or its answers, those about holes, notches and ways are kept in the job as choices
(``house/hole_choices.py`` reads them): the next plan follows both (``honored``). A request to a trade changes
nothing until it is answered.
"""

from __future__ import annotations

from bayrun.findings import Fix
from bayrun.house.edits import (
    acknowledge,
    add_gear,
    add_knockout,
    add_level,
    add_location,
    add_nail_plate,
    add_obstacle,
    add_opening,
    add_seal,
    add_strap,
    add_wall,
    answer,
    ask,
    choose_enclosure,
    cover_run,
    free_gear,
    hang_access_point,
    hang_gear,
    lay_frame,
    leave_by,
    leave_slack,
    move_gear_out,
    move_location,
    move_wall,
    move_wall_end,
    name_room,
    never_place,
    notch,
    pin_run,
    place_enclosure,
    place_gear,
    redrill_hole,
    remove_location,
    remove_obstacle,
    remove_opening,
    remove_wall,
    resize_enclosure,
    set_cable,
    set_gear,
    set_height,
    set_level,
    set_opening,
    set_ports,
    set_wall,
    shift_hole,
    split_hole,
    turn_location,
    vent_door,
)
from bayrun.house.edits.records import Refused, Signed, Verb
from bayrun.house.job import Job

__all__ = ["VERBS", "Refused", "Signed", "Verb", "apply", "verb_of"]

VERBS: tuple[Verb, ...] = (
    move_location.VERB,
    ask.VERB,
    answer.VERB,
    acknowledge.VERB,
    redrill_hole.VERB,
    shift_hole.VERB,
    split_hole.VERB,
    notch.VERB,
    pin_run.VERB,
    cover_run.VERB,
    never_place.VERB,
    leave_by.BAY_VERB,
    leave_by.SIDE_VERB,
    choose_enclosure.VERB,
    add_location.VERB,
    hang_access_point.VERB,
    set_gear.VERB,
    add_gear.SWITCH_VERB,
    add_gear.COAX_VERB,
    set_cable.VERB,
    set_cable.RATE_VERB,
    set_cable.GAUGE_VERB,
    remove_location.VERB,
    set_height.VERB,
    set_ports.VERB,
    turn_location.VERB,
    name_room.VERB,
    add_level.VERB,
    set_level.VERB,
    add_wall.VERB,
    move_wall.VERB,
    move_wall_end.VERB,
    set_wall.VERB,
    remove_wall.VERB,
    add_opening.VERB,
    set_opening.VERB,
    remove_opening.VERB,
    lay_frame.VERB,
    add_obstacle.VERB,
    remove_obstacle.VERB,
    place_enclosure.VERB,
    add_nail_plate.VERB,
    add_strap.VERB,
    add_seal.VERB,
    place_gear.VERB,
    free_gear.VERB,
    move_gear_out.VERB,
    resize_enclosure.VERB,
    vent_door.VERB,
    add_knockout.VERB,
    leave_slack.VERB,
    hang_gear.VERB,
)


def verb_of(name: str) -> Verb:
    """The edit of this name.

    Raises:
        Refused: There is none; the known ones are named.
    """
    for verb in VERBS:
        if verb.name == name:
            return verb
    raise Refused(f"no edit is called {name!r}: expected one of {', '.join(v.name for v in VERBS)}")


def apply(job: Job, fix: Fix, *, by: str = "", date: str = "", reason: str = "") -> Job:
    """The job after one edit; the job given is never changed.

    Args:
        job: To edit.
        fix: What to do: a finding's own fix, or one a person made.
        by, date, reason: Who decided, when, why; answers and acknowledgments are refused without a name.
    Raises:
        Refused: It cannot be done; the message says why.
    """
    verb = verb_of(fix.verb)
    if len(fix.arguments) != len(verb.takes):
        raise Refused(
            f"{fix.verb}: expected {len(verb.takes)} arguments ({', '.join(verb.takes)}), "
            f"got {len(fix.arguments)}"
        )
    return verb.run(job, fix, Signed(by, date, reason))
