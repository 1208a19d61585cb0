"""What people decided and what is drilled already, worked into the passage graph before anything is laid.

A hole by choice becomes a way of its own at the place and with the bit that was said, open from the start
and never closed while runs are laid; the slot it replaces is taken away. Notches and places that are never
drilled take slots away. Whatever cannot be followed is told with its reason and the plan goes on without it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from bayrun.framing import Frame, Member
from bayrun.geometry import below, near
from bayrun.house import Choice, Job, WishedRun, wall_name
from bayrun.house.hole_choices import (
    NOTCH,
    OF_HOLES,
    ChoiceError,
    HoleChoice,
    Spot,
    hole_choices,
    notches,
    wrong_choices,
)
from bayrun.house.way_choices import LEAVE, NEVER, LeaveBy, NeverPlace, leave_by, never_place, of_kind
from bayrun.routing.bores import Bore, Boring
from bayrun.routing.build import Passages
from bayrun.routing.records import Place, Slot
from bayrun.units import tape
from bayrun.wiring import ChoiceTold

WORKED_IN = (*OF_HOLES, NOTCH, NEVER, LEAVE)
"""Kinds of choices that change the passage graph."""
SAME_IN = 0.0625
"""Two places on one member nearer than a sixteenth are the same place [in]."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One hole choice in the graph.

    Args:
        kind: Of the choice that says most about it: ``move hole``, ``bit`` or ``split hole``.
        about: As the job names it.
        spot: Where the plan had the hole when it was decided.
        places: Indexes of its places in the graph.
        already: True where the plan would drill the same hole by itself.
        price: What the holes cost that the graph gives for nothing, each [micro-currency].
        words: The hole as it was, by its member.
    """

    kind: str
    about: str
    spot: Spot
    places: tuple[int, ...]
    already: bool
    price: int
    words: str


@dataclass(frozen=True, slots=True)
class Settled:
    """The passage graph with everything that was decided in it.

    Args:
        asked: Hole choices that stand in the graph.
        told: Choices that cannot stand in it, each with its reason.
    """

    passages: Passages
    asked: tuple[Asked, ...] = ()
    told: tuple[ChoiceTold, ...] = ()
    left_by: tuple[tuple[LeaveBy, tuple[int, ...]], ...] = ()
    """Locations fed by a bay somebody chose, and the places their runs would rather not take."""

    def avoid(self, wished: WishedRun) -> tuple[int, ...]:
        """Places a run takes only where there is no other way."""
        ends = {end.id for end in (wished.from_end, wished.to_end) if end.type == "location"}
        return tuple(sorted({p for one, places in self.left_by if one.location in ends for p in places}))


def member_words(job: Job, member: Member) -> str:
    """A member by its role and where it stands: ``the stud at 5' 4" of wall Bath / Hall (A-W26)``."""
    wall = next((w for w in job.walls if w.id == member.host), None)
    if wall is None:
        return member.says or f"the {member.role} of {member.host}"
    if "plate" in member.role:
        return f"the {member.role} of {wall_name(wall)}"
    middle_in = (member.along[0] + member.along[1]) / 2
    return f"the {member.role} at {tape(middle_in)} of {wall_name(wall, middle_in)}"


def settle(job: Job, frame: Frame, passages: Passages) -> Settled:
    """Work the job's choices about holes, notches and ways into its passage graph."""
    wrong = {(c.kind, c.about): why for c, why in (*wrong_choices(job), *_wrong_ways(job))}
    told = [
        ChoiceTold(kind, about, "not followed", (), f"{kind}: not followed, because it cannot be read: {why}")
        for (kind, about), why in wrong.items()
    ]
    sound = replace(job, choices=tuple(c for c in job.choices if (c.kind, c.about) not in wrong))
    if not any(c.kind in WORKED_IN for c in sound.choices):
        return Settled(passages, (), tuple(told))
    never = [never_place(c) for c in of_kind(sound, NEVER)]
    members = {m.id: m for m in frame.members}
    boring = Boring(job, frame, passages)
    left = _cut(passages.places, _notch_test(sound))
    left = _cut(left, _never_test(never))
    told += [_never_told(job, members, one) for one in never]
    added: list[Place] = []
    asked: list[tuple[HoleChoice, int, bool, int]] = []
    for number, choice in enumerate(hole_choices(sound), start=1):
        made = _places(job, members, boring, passages.places, choice, number)
        if isinstance(made, str):
            member = members.get(choice.spot.member)
            where = str(choice.spot) if member is None else _words(job, member, choice.spot)
            says = f"{where}: not followed, because {made}"
            told.append(ChoiceTold(_kind(choice), str(choice.spot), "not followed", (), says))
            continue
        already = _already(passages.places, choice)
        asked.append((choice, len(made), already, made[0].open_price))
        added += [replace(p, open_price=0) for p in made]
        left = _cut(left, _spot_test(members[choice.spot.member], choice.spot))
    first = len(left)
    records = []
    for choice, count, already, price in asked:
        indexes = tuple(range(first, first + count))
        words = _words(job, members[choice.spot.member], choice.spot)
        records.append(Asked(_kind(choice), str(choice.spot), choice.spot, indexes, already, price, words))
        first += count
    settled = replace(passages, places=(*left, *added))
    by = tuple((one, _not_by(job, settled, one)) for one in map(leave_by, of_kind(sound, LEAVE)))
    return Settled(settled, tuple(records), tuple(told), by)


def _wrong_ways(job: Job) -> tuple[tuple[Choice, str], ...]:
    wrong = []
    for choice in job.choices:
        try:
            if choice.kind == NEVER:
                never_place(choice)
            elif choice.kind == LEAVE:
                leave_by(choice)
        except ChoiceError as error:
            wrong.append((choice, str(error)))
    return tuple(wrong)


def never_test(job: Job) -> Callable[[Place, Slot], bool]:
    """Whether a slot lies where somebody said that nothing is drilled, or in the section of a notch."""
    wrong = {(c.kind, c.about) for c, _ in (*wrong_choices(job), *_wrong_ways(job))}
    sound = replace(job, choices=tuple(c for c in job.choices if (c.kind, c.about) not in wrong))
    never, notched = _never_test([never_place(c) for c in of_kind(sound, NEVER)]), _notch_test(sound)
    return lambda place, slot: never(place, slot) or notched(place, slot)


def _never_test(never: Sequence[NeverPlace]) -> Callable[[Place, Slot], bool]:
    def test(place: Place, slot: Slot) -> bool:
        names = {place.wall, *(m for m in (place.member, *place.plies) if m)}
        names |= {n.partition("/")[0] for n in names}
        for one in never:
            if one.about not in names or not place.member:
                continue
            if one.from_in is None or one.to_in is None:
                return True
            r = place.diameter_in / 2
            if below(one.from_in, slot.along_in + r) and below(slot.along_in - r, one.to_in):
                return True
        return False

    return test


def _never_told(job: Job, members: dict[str, Member], one: NeverPlace) -> ChoiceTold:
    wall = next((w for w in job.walls if w.id == one.about), None)
    hosts = {f.id for f in job.frames} | {b.id for b in job.barriers}
    if wall is None and one.about not in hosts and one.about not in members:
        says = f"never place {one.about}: not followed, because it is no longer in the framing"
        return ChoiceTold(NEVER, one.about, "not followed", (), says)
    what = wall_name(wall) if wall is not None else one.about
    if wall is None and one.about in members:
        what = member_words(job, members[one.about])
    stretch = (
        "" if one.from_in is None or one.to_in is None else f" from {tape(one.from_in)} to {tape(one.to_in)}"
    )
    says = f"no hole in {what}{stretch}: by your choice"
    return ChoiceTold(NEVER, one.about, "by your choice", (), says)


def _not_by(job: Job, passages: Passages, one: LeaveBy) -> tuple[int, ...]:
    """Plate holes of a location's wall that are not in the chosen bay."""
    location = next((q for q in job.locations if q.id == one.location), None)
    if location is None or location.wall is None:
        return ()
    cells = {c.id: c for c in passages.cells}
    found = []
    for i, place in enumerate(passages.places):
        if place.wall != location.wall or place.axis != "up" or not place.member:
            continue
        rect = cells[place.a].rect
        if one.along_in < rect.u0 or one.along_in > rect.u1:
            found.append(i)
    return tuple(found)


def _words(job: Job, member: Member, spot: Spot) -> str:
    return f"hole at {tape(spot.at_in)} in {member_words(job, member)}"


def _kind(choice: HoleChoice) -> str:
    if choice.count > 1:
        return "split hole"
    return "bit" if choice.across_in is None and choice.along_in is None else "move hole"


def at_of(member: Member, slot: Slot, axis: str) -> float:
    """Where a slot lies along its member, as a spot counts: up a stud, else along [in]."""
    return slot.up_in if axis == "along" else slot.along_in


def slot_at(places: Sequence[Place], spot: Spot) -> tuple[int, int] | None:
    """(place, slot) of the graph at a spot, a plain one first; None where there is none."""
    for i, place in enumerate(places):
        if spot.member not in (place.member, *place.plies):
            continue
        for k, slot in enumerate(place.slots):
            at_in = slot.up_in if place.axis == "along" else slot.along_in
            if not abs(at_in - spot.at_in) > SAME_IN:
                return i, k
    return None


def _places(
    job: Job,
    members: dict[str, Member],
    boring: Boring,
    places: Sequence[Place],
    choice: HoleChoice,
    number: int,
) -> list[Place] | str:
    """The ways of one choice, or why there are none."""
    member = members.get(choice.spot.member)
    if member is None:
        return f"{choice.spot.member} is no longer in the framing"
    known = slot_at(places, choice.spot)
    bit_in, across_in = choice.bit_in, choice.across_in
    if known is not None:
        place = places[known[0]]
        if place.fixed:
            return "nothing is drilled there: it is a factory opening"
        bit_in = place.diameter_in if bit_in is None else bit_in
        across_in = place.slots[known[1]].across_in if across_in is None else across_in
    if bit_in is None:
        bits_in = job.practice.bits_in
        bit_in = max((b for b in bits_in if not below(1.0, b)), default=min(bits_in))
    made = []
    for k, at_in in enumerate(choice.places_in()):
        bore = Bore(member, at_in, across_in, bit_in)
        one = boring.place(bore, f"choice-{number}.{k + 1}", "choice")
        if isinstance(one, str):
            return f"at {tape(at_in)} in {member_words(job, member)} {one}"
        made.append(one if choice.bit_in is None else replace(one, bit_in=bit_in))
    return made


def _already(places: Sequence[Place], choice: HoleChoice) -> bool:
    """True where a plain plan has a slot at the very place with the very bit."""
    if choice.count > 1:
        return False
    at_in = choice.places_in()[0]
    found = slot_at(places, Spot(choice.spot.member, at_in))
    if found is None:
        return False
    place, slot = places[found[0]], places[found[0]].slots[found[1]]
    same_bit = choice.bit_in is None or near(choice.bit_in, place.diameter_in)
    same_across = choice.across_in is None or near(choice.across_in, slot.across_in)
    return same_bit and same_across and near(at_in, choice.spot.at_in)


def _spot_test(member: Member, spot: Spot) -> Callable[[Place, Slot], bool]:
    def test(place: Place, slot: Slot) -> bool:
        if place.set_by or place.fixed or member.id not in (place.member, *place.plies):
            return False
        return not abs(at_of(member, slot, place.axis) - spot.at_in) > SAME_IN

    return test


def _notch_test(job: Job) -> Callable[[Place, Slot], bool]:
    cut: dict[str, list[tuple[float, float]]] = {}
    for notch in notches(job):
        half_in = notch.length_in / 2
        cut.setdefault(notch.spot.member, []).append((notch.spot.at_in - half_in, notch.spot.at_in + half_in))

    def test(place: Place, slot: Slot) -> bool:
        """A hole in the section of a notch: both together weaken the same wood."""
        at_in = slot.up_in if place.axis == "along" else slot.along_in
        r = place.diameter_in / 2
        return any(
            below(low, at_in + r) and below(at_in - r, high)
            for name in ((place.member, *place.plies) if place.member else ())
            for low, high in cut.get(name, ())
        )

    return test


def _cut(places: Sequence[Place], gone: Callable[[Place, Slot], bool]) -> tuple[Place, ...]:
    """The places without the slots that are gone; a place with none left is gone too."""
    kept = []
    for place in places:
        slots = tuple(s for s in place.slots if not gone(place, s))
        if len(slots) == len(place.slots):
            kept.append(place)
        elif slots:
            kept.append(replace(place, slots=slots))
    return tuple(kept)
