"""Rooms that the planned access points leave dark, access points in the box, and metal beside them."""

from __future__ import annotations

from bayrun.cables.ranges import Verdict
from bayrun.findings import Finding, Fix, Severity, Source
from bayrun.house import Room
from bayrun.house.building import Point
from bayrun.radio.coverage import Sender, coverage, deciding_band, usual_bands
from bayrun.radio.senders import access_points, ceiling_point, clear_of_joists, inside_room, metal_words
from bayrun.rules.case import Case
from bayrun.wiring.devices import four_pair
from bayrun.wishes import kind_of_room

DARK, METAL = "radio-dark-room", "radio-near-metal"
STEP_IN = 24.0
PASSING = ("closet", "bath", "garage", "unfinished", "mechanical", "utility")
"""Kinds of rooms where nobody sits with a screen: dark there is a note. Common practice, no source."""
PRACTICE = Source("common practice", "", "free space and ITU-R P.2040-3 walls, -67 dBm wanted", "practice")


def check_dark(case: Case) -> tuple[Finding, ...]:
    """Rooms of which half falls short beyond the doubt of 6 dB, in the deciding band.

    Source: ITU-R P.2040-3 for layers; what is wanted is common practice. Silent where no access point is
    wished: nobody asked for radio.
    """
    senders = access_points(case.job)
    if not senders or not case.job.rooms:
        return ()
    bands = tuple(b for b in usual_bands() if b.name == deciding_band())
    found = coverage(case.job, senders, bands, STEP_IN)
    findings = []
    for signal in found.dark(bands[0].name):
        room = case.job.room(signal.room, signal.level)
        fixes = _fixes(case, senders, room)
        stays = kind_of_room(room) not in PASSING
        says = (
            f"{room.name} is dark to radio: half of it has {signal.half_dbm.value:.0f} dBm or less "
            f"(± {signal.half_dbm.plus_minus:.0f} dB), {bands[0].wanted_dbm:g} wanted in {bands[0].name}."
        )
        findings.append(
            Finding(
                DARK, Severity.FIX_SOON if stays else Severity.NOTE, (signal.level, room.name),
                f"{room.name}, level {room.level}", says, signal.half_dbm.value, bands[0].wanted_dbm, "dBm",
                PRACTICE, fixes,
            )
        )  # fmt: skip
    return tuple(findings)


def _fixes(case: Case, senders: tuple[Sender, ...], room: Room) -> tuple[Fix, ...]:
    """An access point on the room's own ceiling, where that lights it; the plan finds its way."""
    letter = next((kind.letter for kind in case.job.practice.cables if four_pair(kind)), None)
    if letter is None or case.job.chosen_enclosure is None:
        return ()
    x, y = clear_of_joists(case.job, room, _middle(room))
    if not inside_room(room, (x, y)):
        return ()
    bands = tuple(b for b in usual_bands() if b.name == deciding_band())
    more = (*senders, Sender("new", *ceiling_point(case.job, room, x, y)))
    after = coverage(case.job, more, bands, STEP_IN)
    if after.of_room(room.level, room.name, bands[0].name).verdict is Verdict.FAILS:
        return ()
    says = f"Hang an access point on the ceiling of {room.name}, with its data run."
    return (Fix("hang_access_point", (room.level, x, y, letter), says),)


def _middle(room: Room) -> Point:
    """The middle of a room; in one that is no rectangle, the spot of a net nearest to it that lies inside."""
    xs, ys = [p[0] for p in room.polygon], [p[1] for p in room.polygon]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    if inside_room(room, middle):
        return middle
    net = [
        (min(xs) + (max(xs) - min(xs)) * i / 12, min(ys) + (max(ys) - min(ys)) * j / 12)
        for i in range(1, 12)
        for j in range(1, 12)
    ]
    held = [p for p in net if inside_room(room, p)]
    return min(held, key=lambda p: ((p[0] - middle[0]) ** 2 + (p[1] - middle[1]) ** 2, p)) if held else middle


def check_metal(case: Case) -> tuple[Finding, ...]:
    """Access points with a duct, panel or other metal nearer than 3 ft. Source: common practice."""
    findings = []
    for sender in access_points(case.job):
        metal = metal_words(case.job, sender)
        if metal:
            says = (
                f"Metal stands near access point {sender.id}: {metal}. Within 3 ft it throws a shadow; "
                "hang it clear of it where that can be done."
            )
            place = sender.says.partition(", ")[2]
            findings.append(
                Finding(
                    METAL,
                    Severity.NOTE,
                    (sender.id,),
                    place,
                    says,
                    source=Source("common practice", confirmed="practice"),
                )
            )
    return tuple(findings)
