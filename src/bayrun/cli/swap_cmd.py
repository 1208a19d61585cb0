"""``bayrun swap PACK --run A09-D1 --left 84``: a cable box runs short; which runs change boxes."""

from __future__ import annotations

from pathlib import Path

import click

from bayrun.cli.talk import print_json, reason, refuse


@click.command(
    help="A cable box runs short: which runs change boxes, so that nothing new is opened. Exit 1 where a new "
    "box or a longer spool is needed."
)
@click.argument("pack", type=click.Path(path_type=Path))
@click.option("--run", required=True, help="The run to cut next; what is pulled before it counts as pulled.")
@click.option("--left", type=float, default=None, help="Feet really left in that run's box.")
@click.option("--box", "boxes", multiple=True, help="BX-D-2=310: feet really left in another box.")
@click.option("--done", multiple=True, help="A run that was pulled out of order.")
@click.option("--json", "as_json", is_flag=True, help="Only JSON on standard output.")
def swap(
    pack: Path, run: str, left: float | None, boxes: tuple[str, ...], done: tuple[str, ...], as_json: bool
) -> None:
    """Tell the best way on when a box runs short."""
    from bayrun.files.planjson import PlanFileError, read_plan_json, to_plain
    from bayrun.house import CableKind
    from bayrun.takeoff.short import on_the_stand, swap_advice

    path = pack / "plan.json" if pack.is_dir() else pack
    try:
        told = read_plan_json(path.read_bytes())
        job = told.job_record()
    except OSError as error:
        raise refuse("swap", f"{path} cannot be read: {reason(error)}") from None
    except PlanFileError as error:
        raise refuse("swap", f"{path} is not a plan: {error}") from None
    feeds = {one: box for box in told.takeoff.boxes for one, _ in box.cuts}
    known = {box.id for box in told.takeoff.boxes}
    defects = []
    if run not in feeds:
        defects.append(f"--run: expected a run of the plan that a box feeds, got {run!r}")
    defects += [f"--done: expected a run of the plan, got {one!r}" for one in done if one not in feeds]
    read: dict[str, float] = {}
    if left is not None and run in feeds:
        read[feeds[run].id] = left
    for text in boxes:
        name, _, feet = text.partition("=")
        try:
            number = float(feet)
        except ValueError:
            number = -1.0
        if name not in known or not 0 <= number < float("inf"):
            defects.append(f"--box: expected a box and its feet such as BX-D-2=310, got {text!r}")
        else:
            read[name] = number
    if left is not None and not 0 <= left < float("inf"):
        defects.append(f"--left: expected feet of zero or more, got {left:g}")
    if defects:
        raise refuse("swap", "; ".join(defects))
    letter = feeds[run].kind
    kind = next((k for k in job.practice.cables if k.letter == letter), CableKind(letter, letter, 0.0))
    stand, planned, todo = on_the_stand(
        told.takeoff.boxes, told.takeoff.pulls, run, read, kind.reserve_ft, done
    )
    advice = swap_advice(stand, planned, todo, kind.box_ft, kind.reserve_ft)
    if as_json:
        print_json({"boxes": [to_plain(one) for one in stand], **to_plain(advice)})
    else:
        click.echo(advice.says)
    raise SystemExit(1 if advice.new or advice.never else 0)
