"""The folder of a pack: what may be written over, and how a whole pack takes its place at once.

A pack is written beside its place and renamed, so that nobody ever reads half of one; a failure at any moment
leaves the older pack. What a person keeps in the folder is never removed.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from bayrun.cli.talk import reason, refuse, typed

MARKS = ("plan.json", "pack.pdf")
"""Files that a folder must hold to be taken for a pack."""
_FILES = {*MARKS, "job.yaml", "lists.xlsx", "cost-check.json"}
_FOLDERS = {"lists": (".csv",), "drawings": (".svg", ".dxf")}
_OF_THE_SYSTEM = {".DS_Store", "Thumbs.db", "desktop.ini"}
_LEFT = re.compile(r"^\.(?P<name>.*)\.(?P<pid>\d+)\.(?P<what>part|new|old)$", re.DOTALL)
EDITED_S = 2.5
"""A job file this much younger than its pack was changed by a person (files of one pack: under a second)."""


def default_folder(job: Path) -> Path:
    """Where a pack goes when nobody says: beside its job file; a pack's own job file renews its pack."""
    if job.name == "job.yaml" and all((job.parent / name).is_file() for name in MARKS):
        return job.parent
    return job.with_name(f"{job.stem}-pack")


def look(out: Path, job: Path, job_data: bytes, command: str) -> None:
    """See that a pack may be written into a folder, before any work is done.

    Args:
        out: The folder, there or not.
        job: The job file that will be planned.
        job_data: Its bytes.
        command: For the message.
    Raises:
        SystemExit: With 2 and one message: it is a file, holds other things, or cannot be written.
    """
    place = Path(os.path.realpath(out))
    _recover(place)
    if place.exists() and not place.is_dir():
        raise refuse(command, f"{out} is a file: expected a folder for the pack.")
    if not place.parent.is_dir():
        raise refuse(command, f"the folder {place.parent} is not there.")
    if place.is_dir():
        try:
            _look_inside(out, place, job, job_data, command)
        except OSError as error:
            raise refuse(command, f"{out} cannot be read: {reason(error)}") from None
    where = place if place.is_dir() and not _whole(place) else place.parent
    if not os.access(where, os.W_OK):
        raise refuse(command, f"the folder {where} cannot be written.")


def _look_inside(out: Path, place: Path, job: Path, job_data: bytes, command: str) -> None:
    names = [p.name for p in place.iterdir() if p.name not in _OF_THE_SYSTEM and not _LEFT.match(p.name)]
    if names and not all(name in names for name in MARKS):
        raise refuse(command, f"{out} holds other things and was left as it is: name an empty or new folder.")
    others = strangers(place)
    if others:
        more = f" and {len(others) - 3} more" if len(others) > 3 else ""
        raise refuse(
            command,
            f"{out} holds a pack and other things ({', '.join(others[:3])}{more}), which would be lost: "
            "move them away, or name another folder. Nothing was written.",
        )
    kept = place / "job.yaml"
    if not kept.is_file() or kept.resolve() == job.resolve() or kept.read_bytes() == job_data:
        return
    if kept.stat().st_mtime > (place / "plan.json").stat().st_mtime + EDITED_S:
        raise refuse(
            command,
            f"{out / 'job.yaml'} was changed after its pack was made and would be lost: plan that file "
            f"(bayrun plan {typed(out / 'job.yaml')}), or name another folder. Nothing was written.",
        )


def strangers(place: Path) -> list[str]:
    """What lies in a pack's folder and is no part of a pack, by name."""
    found = []
    for path in sorted(place.iterdir()):
        name = path.name
        if name in _OF_THE_SYSTEM or _LEFT.match(name) or (name in _FILES and path.is_file()):
            continue
        if name in _FOLDERS and path.is_dir() and not path.is_symlink():
            inside = (p for p in sorted(path.iterdir()) if p.name not in _OF_THE_SYSTEM)
            found += [f"{name}/{p.name}" for p in inside if p.suffix not in _FOLDERS[name] or p.is_dir()]
        else:
            found.append(name)
    return found


def _whole(place: Path) -> bool:
    """Whether the folder itself can change places: not where someone stands in it, or it is a mount."""
    here = Path.cwd()
    inside = here == place or place in here.parents
    return not inside and not place.is_mount() and os.access(place.parent, os.W_OK)


def install(out: Path, files: Mapping[str, bytes], command: str) -> None:
    """Put a whole pack in its place at once, or leave everything as it was.

    Args:
        out: The folder; ``look`` has passed it.
        files: Name in the folder → bytes.
        command: For the message.
    Raises:
        SystemExit: With 2 and one message, where the system refuses; the older pack is back then.
    """
    place = Path(os.path.realpath(out))
    whole = not place.exists() or _whole(place)
    home = place.parent if whole else place
    beside, ready, old = (home / f".{place.name}.{os.getpid()}.{what}" for what in ("part", "new", "old"))
    try:
        with _ended_in_order():
            _write_all(beside, files)
            moves = [(beside, place)]
            if whole and place.exists():
                shutil.copymode(place, beside)
                moves = [(place, old), (beside, place)]
            elif not whole:
                old.mkdir()
                there = [p for p in sorted(place.iterdir()) if p not in (beside, old)]
                moves = [(p, old / p.name) for p in there if p.name not in _OF_THE_SYSTEM]
                moves.append((beside, ready))  # from here on a program that is killed leaves the new pack
                moves += [(ready / p.name, place / p.name) for p in sorted(beside.iterdir())]
            _move(moves)
    except OSError as error:
        raise refuse(command, f"{out} cannot be written: {reason(error)}. It is as it was.") from None
    finally:
        for left in (beside, ready, old):
            shutil.rmtree(left, ignore_errors=True)


def _write_all(beside: Path, files: Mapping[str, bytes]) -> None:
    beside.mkdir()
    for name, data in files.items():
        path = beside / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _move(moves: list[tuple[Path, Path]]) -> None:
    """All of the renames, or none."""
    done: list[tuple[Path, Path]] = []
    try:
        for source, target in moves:
            source.replace(target)
            done.append((source, target))
    except BaseException:
        for source, target in reversed(done):
            target.replace(source)
        raise


@contextmanager
def _ended_in_order() -> Iterator[None]:
    """While files are written, an order to end tidies up first."""

    def end(number: int, frame: FrameType | None) -> None:
        raise SystemExit(128 + number)

    try:
        before = signal.signal(signal.SIGTERM, end)
    except ValueError:  # not the main thread
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _recover(place: Path) -> None:
    """After a program that was killed: the older pack goes back, or the new one whole in; the rest goes."""
    for home in {place.parent, place}:
        if not home.is_dir() or not os.access(home, os.W_OK):
            continue
        for path in sorted(home.iterdir()):
            match = _LEFT.match(path.name)
            if match is None or match["name"] != place.name or _alive(int(match["pid"])):
                continue
            if match["what"] == "new" or (match["what"] == "old" and home == place and not _full(path)):
                _move([(p, place / p.name) for p in sorted(path.iterdir())])
            elif match["what"] == "old" and not place.exists():
                path.replace(place)
            shutil.rmtree(path, ignore_errors=True)


def _full(old: Path) -> bool:
    """Whether every entry of the older pack had gone: then the new pack was on its way in."""
    return not old.with_name(f"{old.name.removesuffix('old')}part").is_dir()


def _alive(pid: int) -> bool:
    """Whether a process is still at work; where nobody can tell, it counts as alive."""
    if os.name != "posix":
        return True
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
