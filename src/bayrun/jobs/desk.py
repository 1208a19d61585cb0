"""A job as somebody works on it: from its text to a job, one edit at a time, and back to its text.

The page and any other caller edit through here: there is one implementation of every edit. What cannot
be done comes back as ``EditRefused`` with its reason in words.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from bayrun.findings import Finding, Fix
from bayrun.house import Job, wall_name
from bayrun.jobs.plan import Progress
from bayrun.units import tape


class EditRefused(ValueError):
    """An edit that cannot be done; the message says why, for the person who asked."""


class TextRefused(ValueError):
    """A job file that cannot be read; the message holds one line for each defect."""


@dataclass(frozen=True, slots=True)
class Edited:
    """What an edit made.

    Args:
        text: The job file after it; comments and spelling of what did not change stay.
        says: What was done, in a few words for the list of steps.
    """

    job: Job
    text: str
    says: str


def read_text(text: str, name: str) -> Job:
    """A job from its file's text.

    Args:
        name: Stands in every message where a file's name would.
    Raises:
        TextRefused: With every defect.
    """
    from bayrun.files import JobFileError, parse_job

    try:
        return parse_job(text, name)
    except JobFileError as error:
        raise TextRefused(str(error)) from None


def demo_text(house: str) -> str:
    """The job file of a demo house: ``a``, ``b`` or ``c``.

    Raises:
        FileNotFoundError: The examples are not beside the program.
    """
    from bayrun.files.examples import example_text

    return example_text(house)


def starter_text(name: str, date: str) -> str:
    """A starter job file under a name; its id is made from the name's letters and digits."""
    from bayrun.files.starter import starter_job

    return starter_job(job_id(name), name, date)


def job_id(name: str) -> str:
    """A short id from a name: its letters and digits with dashes between."""
    letters = "".join(c if c.isascii() and c.isalnum() else "-" for c in name.lower())
    return "-".join(part for part in letters.split("-") if part)[:40].rstrip("-") or "job"


@dataclass(frozen=True, slots=True)
class Imported:
    """A house drawn by others, as a job.

    Args:
        text: Its job file.
        said: What a person should know first, one sentence each.
        report: The import report, as one HTML page.
    """

    job: Job
    text: str
    said: tuple[str, ...]
    report: str


def import_file(path: Path, name: str, date: str, progress: Progress | None = None) -> Imported:
    """A job from a house file of any kind the importer reads; foreign bytes are read in a child process.

    Raises:
        TextRefused: It cannot be read as a house; the message says why.
    """
    from bayrun.files import write_job
    from bayrun.files.shell import ImportRefused
    from bayrun.jobs.bring_in import bring_in

    try:
        found = bring_in(path, name=name, date=date, progress=progress)
    except ImportRefused as error:
        raise TextRefused(str(error)) from None
    head = "Read from a drawing. Framing was assumed: the assumptions name what nobody measured."
    return Imported(found.job, write_job(found.job, head=head), found.said, found.report())


def edit_job(
    job: Job,
    text: str,
    verb: str,
    arguments: tuple[str | float, ...],
    *,
    says: str = "",
    by: str = "",
    date: str = "",
    reason: str = "",
) -> Edited:
    """One edit of a job and of its text.

    Args:
        text: The file that ``job`` was read from.
        verb, arguments: As a fix names them (``house/edits``).
        says: What the button said; empty makes words from the edit itself.
        by, date, reason: Who decided, when, why.
    Raises:
        EditRefused: It cannot be done, or would change nothing.
    """
    from bayrun.files import rewrite
    from bayrun.house import ModelError
    from bayrun.house.edits import Refused, apply

    try:
        made = apply(job, Fix(verb, arguments, ""), by=by, date=date, reason=reason)
        if made == job:
            raise EditRefused("That is so already: nothing was changed.")
        return Edited(made, rewrite(text, job, made), says or _words(job, verb, arguments))
    except (Refused, ModelError) as error:
        raise EditRefused(str(error)) from None
    except KeyError as error:
        raise EditRefused(f"there is no {error.args[0]} in the job") from None


def apply_fix(
    job: Job, text: str, finding: Finding, number: int, *, by: str = "", date: str = "", reason: str = ""
) -> Edited:
    """Apply one of a finding's own fixes.

    Raises:
        EditRefused: It has no such fix, or the fix cannot be done.
    """
    if not 0 <= number < len(finding.fixes):
        raise EditRefused(f"this finding has {len(finding.fixes)} fixes, not a number {number + 1}")
    fix = finding.fixes[number]
    said = f"{fix.says} ({finding.place})" if finding.place else fix.says
    return edit_job(job, text, fix.verb, fix.arguments, says=said, by=by, date=date, reason=reason)


def _words(job: Job, verb: str, arguments: tuple[str | float, ...]) -> str:
    """What an edit does, with its places in words."""
    from bayrun.house.edits import verb_of

    def number(index: int) -> str:
        value = arguments[index]
        return tape(value) if isinstance(value, int | float) else str(value)

    def place(name: str | float) -> str:
        room = next((q.room for q in job.locations if q.id == name), "")
        return f"{name} in {room}" if room else f"{name}"

    def wall(name: str | float) -> str:
        found = next((w for w in job.walls if w.id == name), None)
        return wall_name(found) if found is not None else f"{name}"

    match verb:
        case "move_location":
            return f"Moved {place(arguments[0])} to {number(1)} along its wall"
        case "add_location":
            return f"Placed a box with one {arguments[4]}"
        case "remove_location":
            return f"Struck {place(arguments[0])}"
        case "set_height":
            return f"{place(arguments[0])} at {number(1)} above finished floor"
        case "set_ports":
            return f"{place(arguments[0])} gets {float(arguments[2]):g} {arguments[1]}"
        case "add_wall":
            length_in = math.dist(
                (float(arguments[1]), float(arguments[2])), (float(arguments[3]), float(arguments[4]))
            )
            return f"Drew a wall {tape(length_in)} long ({arguments[5]})"
        case "move_wall":
            return f"Moved {wall(arguments[0])} by {tape(abs(float(arguments[1])))}"
        case "move_wall_end":
            return f"Moved the {arguments[1]} of {wall(arguments[0])}"
        case "remove_wall":
            return f"Took {wall(arguments[0])} away"
        case "set_wall":
            return f"{arguments[1]} of {wall(arguments[0])}: {arguments[2]}"
        case "add_opening":
            return f"{str(arguments[1]).capitalize()} {number(3)} wide in {wall(arguments[0])}"
        case "set_opening":
            return f"{arguments[1]} of {arguments[0]}: {arguments[2]}"
        case "remove_opening":
            return f"Closed {arguments[0]}"
        case "add_level":
            return f"Level {arguments[0]} on top"
        case "lay_frame":
            return f"{str(arguments[1]).capitalize()} over level {arguments[0]}, {number(3)} on center"
        case "place_enclosure":
            return f"Enclosure in {wall(arguments[0])}"
        case "turn_location":
            return f"Turned {place(arguments[0])} to the other room"
        case "name_room":
            return f"{arguments[1]} is now {arguments[2]} ({arguments[3]})"
        case _:
            return verb_of(verb).says.rstrip(".")


def empty_text(name: str, date: str) -> str:
    """The job file of a house that is still to be drawn: one level on a slab, the firm's usual practice."""
    from bayrun.files import write_job
    from bayrun.house import Level, Revision
    from bayrun.house.usual import usual_practice

    level = Level("1", 0.0, 97.125, slab=True, stud_length_in=92.625)
    job = Job(job_id(name), name, Revision("1", date), (level,), (), (), practice=usual_practice())
    return write_job(job, head="Drawn on the page of Bayrun. Lengths are inches, or as a tape reads.")
