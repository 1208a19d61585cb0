"""What stands at the end of a run and what it takes: said by the job, else by the words of its note."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from bayrun.house import CableKind, Job, Location
from bayrun.tables.physics import physics_table

DEFAULT_AWG = 24
"""Conductors of four-pair cable whose name does not tell: the thinner of the usual two, the careful side."""


@dataclass(frozen=True, slots=True)
class Device:
    """A device at a location.

    Args:
        key: Its kind in the table's words, empty where nobody knows.
        cable_w: What it takes over a four-pair cable [W]; 0 where it takes none.
        cable_class: Its class of power over the cable; 0 where it takes none.
        bell_w, alarm_w, shade_w: What it takes over a pair of that kind [W]; 0 where it takes none.
        speaker_ohm: Impedance of a loudspeaker [ohm]; 0 where it is none.
        needs_data: Four-pair cables it wants.
        said: True where the job itself says the kind or the watts.
    """

    key: str
    cable_w: float = 0.0
    cable_class: int = 0
    bell_w: float = 0.0
    alarm_w: float = 0.0
    shade_w: float = 0.0
    speaker_ohm: float = 0.0
    needs_data: int = 0
    said: bool = False


def device_keys() -> tuple[str, ...]:
    """The kinds of devices the table knows."""
    return tuple(row["key"] for row in _rows())


def _rows() -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = physics_table("devices")["device"]
    return rows


def device_at(location: Location) -> Device:
    """What stands at a location: its ``device``, else the first kind whose words are in its note.

    A location's own ``device_w`` goes before the table's watts; a kind the table lacks takes only what the
    job says.
    """
    told = location.device.strip().lower()
    row: dict[str, Any] = {}
    for candidate in _rows():
        if told and told == candidate["key"]:
            row = candidate
            break
        if not told and any(_has(location.note, word) for word in candidate["words"]):
            row = candidate
            break
    watts, number = float(row.get("device_w", 0.0)), int(row.get("cable_class", 0))
    if location.device_w is not None:
        watts, number = location.device_w, _class_of(location.device_w)
    return Device(
        str(row.get("key", told)),
        watts,
        number,
        float(row.get("bell_w", 0.0)),
        float(row.get("alarm_w", 0.0)),
        float(row.get("shade_w", 0.0)),
        float(row.get("speaker_ohm", 0.0)),
        int(row.get("needs_data", 0)) or (1 if watts > 0 else 0),
        bool(told) or location.device_w is not None,
    )


def _has(text: str, word: str) -> bool:
    return re.search(rf"\b{re.escape(word)}s?\b", text.lower()) is not None


def _class_of(watts: float) -> int:
    """Smallest class of power that is enough; 0 for none, 8 where even that is too little."""
    if watts <= 0:
        return 0
    classes = physics_table("poe")["class"]
    enough = [row for row in classes if row["device_w"] >= watts]
    return int(min(enough, key=lambda row: float(row["supply_w"]))["number"]) if enough else 8


def devices(job: Job) -> tuple[tuple[Location, Device], ...]:
    """Every location with its device, in the job's order."""
    return tuple((location, device_at(location)) for location in job.locations)


def four_pair(kind: CableKind) -> bool:
    """True for data cable of four pairs."""
    return "four-pair" in kind.name or "four pair" in kind.name


def category_of(kind: CableKind) -> str:
    """Category its name tells, else 5e, the careful side."""
    match = re.search(r"\b(?:cat(?:egory)?\s*)(5e|6a|6)\b", kind.name.lower())
    return {"5e": "5e", "6": "6", "6a": "6A"}[match[1]] if match else "5e"


def awg_of(kind: CableKind) -> int | None:
    """Gauge of its conductors: from its name (``16/2``, ``23 AWG``); four-pair cable that says none is 24."""
    match = re.search(r"\b(\d{2})/\d{1,2}\b", kind.name) or re.search(r"\b(\d{2})\s*awg\b", kind.name.lower())
    if match:
        return int(match[1])
    return DEFAULT_AWG if four_pair(kind) else None


def conductors_of(kind: CableKind) -> int | None:
    """Conductors in its name (``16/4`` has 4), or None."""
    match = re.search(r"\b\d{2}/(\d{1,2})\b", kind.name)
    return int(match[1]) if match else None


def coax_of(kind: CableKind) -> str:
    """Which coax of the attenuation table it is, or empty."""
    text = kind.name.lower()
    if "coax" not in text and "rg" not in text:
        return ""
    match = re.search(r"(?:series|rg)[ -]?(59|11|6)\b", text)
    return f"RG-{match[1]}" if match else "RG-6"


def is_fiber(kind: CableKind) -> bool:
    """True for glass fiber."""
    return "fiber" in kind.name.lower() or "fibre" in kind.name.lower()


LOAD_WORDS = (("bell", ("bell", "chime")), ("alarm", ("keypad", "alarm", "sounder")), ("shade", ("shade",)))


def load_words(kind: CableKind) -> str:
    """What a two-wire cable feeds, by its name: ``bell``, ``alarm``, ``shade``, ``speaker``; else empty."""
    text = kind.name.lower()
    if "speaker" in text:
        return "speaker"
    return next((use for use, words in LOAD_WORDS if any(word in text for word in words)), "")
