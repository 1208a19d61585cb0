"""How far an import can be trusted, level by level, by counts a person can check; and what to look at first.

Nothing here is a probability: each mark is a share of things counted, and each reason says which.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bayrun.files.agree import agreed
from bayrun.files.shell import Shell, ShellLevel, ShellSpace, ShellWall
from bayrun.files.shell_guess import kind_of_name
from bayrun.files.shell_rooms import room_outline
from bayrun.geometry import at_most

Mark = Literal["good", "fair", "poor"]
_ORDER: tuple[Mark, ...] = ("good", "fair", "poor")
AREA_SHARE = 0.02
"""Rooms whose area is this near to what the file itself states agree with it."""
_FREE_GOOD, _FREE_FAIR = 0.1, 0.3
_NAMED_GOOD, _NAMED_FAIR = 0.8, 0.4


@dataclass(frozen=True, slots=True)
class LevelReport:
    """One level as it was understood.

    Args:
        mark: The worst of its reasons.
        reasons: One sentence each, the worst first.
        agree, declared: Rooms whose areas agree with the file's own, of those it states an area for.
    """

    level: str
    walls: int
    doors: int
    windows: int
    voids: int
    rooms: int
    area_ft2: float
    mark: Mark
    reasons: tuple[tuple[Mark, str], ...]
    agree: int = 0
    declared: int = 0


def level_reports(shell: Shell) -> tuple[LevelReport, ...]:
    """Each story of a healed shell with its counts and how far it can be trusted, from below."""
    return tuple(_report(shell, level) for level in shell.stories)


def _report(shell: Shell, level: ShellLevel) -> LevelReport:
    walls = [w for w in shell.story_walls if w.level == level.name]
    ids = {w.id for w in walls}
    openings = [o for o in shell.openings if o.wall in ids]
    rooms = [s for s in shell.rooms if s.level == level.name]
    agree, declared = _areas(shell, rooms)
    reasons = [*_of_walls(shell, walls), *_of_rooms(rooms)]
    if declared:
        share = agree / declared
        mark: Mark = "good" if agree == declared else "fair" if share >= _NAMED_GOOD else "poor"
        reasons.append(
            (mark, f"{agree} of {declared} rooms come within 2 % of the area the file itself states")
        )
    lost = sum(t.kind == "lost" and t.level == level.name for t in shell.traces)
    if lost:
        reasons.append(("fair", agreed(f"{lost} things marked in the picture were not understood or closed")))
    reasons.sort(key=lambda r: -_ORDER.index(r[0]))
    return LevelReport(
        level.name,
        len(walls),
        sum(o.kind == "door" for o in openings),
        sum(o.kind == "window" for o in openings),
        sum(o.kind == "void" for o in openings),
        len(rooms),
        sum(r.area_in2 for r in rooms) / 144,
        reasons[0][0] if reasons else "poor",
        tuple(reasons),
        agree,
        declared,
    )


def _of_walls(shell: Shell, walls: list[ShellWall]) -> list[tuple[Mark, str]]:
    if not walls:
        return [("poor", "no wall stands on this level")]
    joined = {(j.wall, j.end) for j in shell.joints}
    free = sum((w.id, end) not in joined for w in walls for end in ("start", "end"))
    share = free / (2 * len(walls))
    mark: Mark = "good" if at_most(share, _FREE_GOOD) else "fair" if at_most(share, _FREE_FAIR) else "poor"
    found = [(mark, f"{2 * len(walls) - free} of {2 * len(walls)} wall ends meet another wall")]
    silent = sum(w.core == "other" for w in walls)
    if silent:
        words = f"{silent} of {len(walls)} walls do not say what they are built of: their studs are guesses"
        found.append(("fair" if silent else "good", words))
    return found


def _of_rooms(rooms: list[ShellSpace]) -> list[tuple[Mark, str]]:
    if not rooms:
        return [("poor", "the walls close no room: nothing can be wished here until rooms are drawn")]
    told = sum(kind_of_name(r.title, r.area_in2)[1] for r in rooms)
    share = told / len(rooms)
    mark: Mark = "good" if share >= _NAMED_GOOD else "fair" if share >= _NAMED_FAIR else "poor"
    return [(mark, f"{told} of {len(rooms)} rooms have a name that tells their use")]


def _areas(shell: Shell, rooms: list[ShellSpace]) -> tuple[int, int]:
    """How many rooms agree with the area the file states: inside its faces, or to the middle of its walls."""
    declared = [r for r in rooms if r.declared_in2]
    agree = 0
    for room in declared:
        stated = room.declared_in2 or 1.0
        tries = (
            room.area_in2,
            room_outline(room, shell.walls, "middle").area_in2,
            room_outline(room, shell.walls).area_in2,
        )
        agree += any(abs(t / stated - 1) <= AREA_SHARE for t in tries)
    return agree, len(declared)


def look_first(shell: Shell, said: tuple[str, ...] = (), most: int = 8) -> tuple[str, ...]:
    """What a person should look at before anything else, the gravest first.

    Args:
        shell: Healed.
        said: What planning itself could not do.
        most: How many sentences.
    """
    ranked: list[tuple[int, str]] = []
    for note in shell.notes:
        text = str(note).partition(": ")[2]
        grave = _gravity(note.kind, note.text)
        if grave is not None:
            ranked.append((grave, text[:1].upper() + text[1:] + "."))
    ranked += [(1, words if words.endswith(".") else words + ".") for words in said]
    if any(w.core == "other" for w in shell.story_walls):
        ranked.append((3, "Measure one wall of each thickness: its studs are judged from how thick it is."))
    ranked.append(
        (4, "Find which way the joists run and which walls bear: these are assumed, and holes hang on it.")
    )
    ranked.sort(key=lambda r: r[0])
    return tuple(dict.fromkeys(words for _, words in ranked))[:most]


def _gravity(kind: str, text: str) -> int | None:
    if "look here first" in text or "unit" in text or "$INSUNITS" in text:
        return 0
    if kind == "not understood":
        return 1
    if "look whether" in text or "were found from the walls" in text or "one plan" in text:
        return 2
    if "sheet holds" in text or "split level" in text:
        return 0
    return None
