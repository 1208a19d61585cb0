"""A house from a file: shell, framing assumptions, proposed locations, an enclosure bay."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from bayrun.files.house_file import ReadOptions
from bayrun.files.revision import Revision as Changes
from bayrun.files.shell import Shell
from bayrun.framing import layout_centers_in
from bayrun.house import Assumption, Enclosure, Job, Revision
from bayrun.house.usual import usual_practice
from bayrun.jobs.plan import Progress
from bayrun.rules.words import count_of


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """An imported house, ready to plan.

    Args:
        said: What a person should know first, one sentence each.
        shell: What was understood of the file, mended.
    """

    job: Job
    said: tuple[str, ...]
    shell: Shell

    def report(self) -> str:
        """The import report: a page with a picture of each level, counts, trust, and every assumption."""
        from bayrun.files.report_page import report_page

        return report_page(self.shell, self.job, self.said, self.job.revision.date)


@dataclass(frozen=True, slots=True)
class HeldAgainst:
    """A new drawing held against a job: what moved, and what that touches."""

    old: Job
    new: Job
    found: Changes

    def page(self) -> str:
        """The picture of both revisions over each other, and the list, as one page."""
        from bayrun.files.revision_page import revision_page

        return revision_page(self.old, self.new, self.found)


def bring_in(
    path: Path,
    *,
    name: str = "",
    date: str = "",
    progress: Progress | None = None,
    options: ReadOptions | None = None,
) -> BroughtIn:
    """Read a house file and make it a job that can be planned at once.

    Framing assumptions are added and named one by one; locations are proposed by the room rules, each with
    its reason; the best bay is chosen for the enclosure, with the runner-up. A person changes what is wrong.

    Args:
        path: An IFC, gbXML or DXF file.
        name: Of the job, as the firm calls it; the file's own names of people and places are not carried.
        date: Of revision 1.
        progress: Told of each step as it begins.
        options: What the person said about the file.
    Raises:
        ImportRefused: The file cannot be read as a house.
    """
    from bayrun.files.shell_to_job import job_from_shell
    from bayrun.framing import lay_out
    from bayrun.house import ModelError
    from bayrun.siting import choose_enclosure
    from bayrun.wishes import plan_wishes
    from bayrun.wishes.propose import with_proposals
    from bayrun.workers.house_worker import read_in_worker

    def tell(words: str) -> None:
        if progress is not None:
            progress(words, 1, 1)

    shell = read_in_worker(path, options, told=tell)
    tell("framing by assumption")
    # The file's own name may be an address or an owner: it is not carried.
    job = job_from_shell(shell, job_id="imported", name=name or "Imported house", practice=usual_practice())
    job = replace(job, revision=Revision("1", date, "as imported"))
    tell("proposing locations")
    wishes = plan_wishes(job)
    wished = replace(job, locations=tuple(p.location for p in wishes.proposals))
    tell("choosing the enclosure bay")
    said = [f"Not placed: {words}" for words in wishes.left_out]
    try:
        box = choose_enclosure(wished, lay_out(wished))
    except ModelError as error:
        wooden = _wood_everywhere(wished)
        try:
            box = choose_enclosure(wooden, lay_out(wooden))
        except ModelError:
            said.append(f"No enclosure was placed: {error}")
            return BroughtIn(_note(replace(wished, runs=()), said), tuple(said), shell)
        job = _wood_at_box(job, box)
        said.append("The enclosure's bay is light steel: ask the framer for a wood stud on each side of it.")
    job = with_proposals(job, wishes.proposals, box.id)
    job = replace(job, enclosures=(box,), enclosure=box.id)
    return BroughtIn(_note(job, said), tuple(said), shell)


def hold_against(
    path: Path,
    old: Job,
    *,
    holes: tuple[tuple[str, str, float], ...] = (),
    progress: Progress | None = None,
    options: ReadOptions | None = None,
) -> HeldAgainst:
    """Hold a new revision of a plan against the job made of an older one.

    Args:
        path: The new drawing, of any kind that can be imported.
        old: The job as it stands, with its locations and runs.
        holes: Holes of the plan last issued, as (id, id of the wall or frame they are in, offset along it).
        progress: Told of each step as it begins.
        options: What the person said about the file.
    Returns:
        What moved and what that touches; the old job is not changed.
    Raises:
        ImportRefused: The file cannot be read as a house.
    """
    from bayrun.files.revision import compare
    from bayrun.files.shell_to_job import job_from_shell
    from bayrun.workers.house_worker import read_in_worker

    shell = read_in_worker(
        path, options, told=None if progress is None else lambda words: progress(words, 1, 1)
    )
    new = job_from_shell(shell, job_id="revision", name=old.name, practice=old.practice)
    return HeldAgainst(old, new, compare(old, new, holes))


def _wood_everywhere(job: Job) -> Job:
    """The job as if every steel wall had wood studs: which bay is best, if the framer sets two of them?"""
    walls = tuple(
        replace(w, wood_studs_in=tuple(c for _, c in layout_centers_in(w))) if w.steel else w
        for w in job.walls
    )
    return replace(job, walls=walls)


def _wood_at_box(job: Job, box: Enclosure) -> Job:
    walls = tuple(
        replace(w, wood_studs_in=box.bay_studs_in) if w.id == box.wall and w.steel else w for w in job.walls
    )
    return replace(job, walls=walls)


def _note(job: Job, said: list[str]) -> Job:
    """Proposals and what was left out stand among the assumptions, so that the cover names them."""
    were = f"{count_of(len(job.locations), 'location was', 'locations were')}"
    added = [Assumption("P1", f"{were} proposed by the room rules: strike or move what is wrong")]
    if job.enclosures:
        why = job.enclosures[0].note.removeprefix("chosen: ")
        added.append(Assumption("P2", f"The enclosure bay was chosen by the program: {why}"))
    added += [Assumption(f"P{i}", words) for i, words in enumerate(said, start=len(added) + 1)]
    return replace(job, assumptions=(*job.assumptions, *added))
