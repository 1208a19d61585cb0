"""Whole plans for a few places of the enclosure, side by side, so that a choice has numbers.

Limits of use: each place is planned with the same wishes, prices and framing; what the electrician's feed
costs there, nobody knows before asking. A plan is a good one, not proven the best.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bayrun.findings import Finding, Severity
from bayrun.framing import Frame
from bayrun.house import Enclosure, Job, wall_name
from bayrun.routing import route
from bayrun.routing.prices import MICRO
from bayrun.rules.catalogue import check_all
from bayrun.siting.choose import enclosure_in
from bayrun.siting.sites import HouseSites, Progress, Site, with_enclosure
from bayrun.takeoff import takeoff
from bayrun.wiring import Wiring
from bayrun.wishes.runs import air_handler, runs_for

DOZEN = 12
PER_ROOM = 3
"""Bays planned in one room at most, so that the dozen is a choice of rooms too. Our own figure."""


@dataclass(frozen=True, slots=True)
class SitePlan:
    """What a house costs with the enclosure in one place.

    Args:
        site: The bay as ranked; None for a place the job names itself.
        price: Cable, pulling and holes by the firm's table, as routing weighs them [currency].
        feet: Of cable, slack included [ft].
        holes, plates, seals: To drill, nail, close.
        longest_run, longest_ft: The longest cable.
        unreached: Runs without a way.
        stops, fixes: Findings that say stop, and fix soon; ``cannot_tell`` those a fact is missing for.
        about: What the findings say of the enclosure itself, worst first.
        radio_inside, radio_ceiling: Share of the house an access point in the shut box, and one on the
            ceiling before it, would serve by the figure itself (about 6 dB); None where it was not asked.
    """

    enclosure: Enclosure
    place: str
    site: Site | None
    price: float
    feet: float
    holes: int
    plates: int
    seals: int
    longest_run: str
    longest_ft: float
    unreached: tuple[str, ...]
    stops: int
    fixes: int
    cannot_tell: int
    about: tuple[str, ...]
    radio_inside: float | None = None
    radio_ceiling: float | None = None

    @property
    def order(self) -> tuple[float, ...]:
        """Best first: no run lost, no stop, then the price weighed by the room."""
        weigh = self.site.score / self.site.price if self.site and 0 < self.site.price < float("inf") else 1.0
        return len(self.unreached), self.stops, self.price * weigh


def place_words(job: Job, box: Enclosure) -> str:
    """Where an enclosure stands, in words."""
    wall = job.wall(box.wall)
    return f"{box.room} side of {wall_name(wall, sum(box.bay_studs_in) / 2)}, level {box.level}"


def plan_at(
    job: Job, frame: Frame, enclosure: Enclosure, site: Site | None = None, *, radio: bool = True
) -> SitePlan:
    """The whole plan with the enclosure in this place.

    Args:
        frame: ``framing.lay_out(job)``: the framing does not depend on the enclosure.
        radio: Also ask what an access point there would serve (a fraction of a second).
    """
    here = with_enclosure(job, enclosure)
    if not here.runs:
        here = replace(here, runs=runs_for(here.locations, enclosure.id, air_handler(here)))
    return told_of(here, frame, route(here, frame), site, radio=radio)


def told_of(
    here: Job, frame: Frame, wiring: Wiring, site: Site | None = None, *, radio: bool = True
) -> SitePlan:
    """The numbers of a plan already made, for its chosen enclosure.

    Raises:
        ValueError: The job has no enclosure.
    """
    enclosure = here.chosen_enclosure
    if enclosure is None:
        raise ValueError(f"{here.name}: expected an enclosure to speak of, got none")
    counted = takeoff(here, frame, wiring)
    found = (
        *check_all(here, frame, wiring, plates=counted.plates, straps=counted.straps, seals=counted.seals),
        *counted.findings,
    )
    longest = max(wiring.runs, key=lambda r: (r.length_in, r.id), default=None)
    inside, ceiling = _radio(here) if radio else (None, None)
    return SitePlan(
        enclosure=enclosure,
        place=place_words(here, enclosure),
        site=site,
        price=wiring.cost / MICRO,
        feet=sum(r.length_in for r in wiring.runs) / 12.0,
        holes=sum(1 for h in wiring.holes if not h.open_passage),
        plates=len(counted.plates),
        seals=len(counted.seals),
        longest_run=longest.id if longest else "",
        longest_ft=longest.length_in / 12.0 if longest else 0.0,
        unreached=tuple(u.run for u in wiring.unreached),
        stops=_count(found, Severity.STOP),
        fixes=_count(found, Severity.FIX_SOON),
        cannot_tell=_count(found, Severity.CANNOT_TELL),
        about=tuple(
            f"{f.severity.value}: {f.says}"
            for f in sorted(found, key=lambda f: f.order)
            if enclosure.id in f.about and f.severity is not Severity.NOTE
        ),
        radio_inside=inside,
        radio_ceiling=ceiling,
    )


def _count(found: Sequence[Finding], severity: Severity) -> int:
    return sum(1 for f in dict.fromkeys(found) if f.severity is severity)


def _radio(job: Job) -> tuple[float | None, float | None]:
    from bayrun.cables.ranges import RangeError
    from bayrun.radio.coverage import coverage, deciding_band, usual_bands
    from bayrun.radio.senders import above_enclosure, enclosure_sender

    band = [b for b in usual_bands() if b.name == deciding_band()]
    shares: list[float | None] = []
    for sender in (enclosure_sender(job), above_enclosure(job)):
        try:
            if sender is None or not band:
                raise RangeError("no access point to ask about")
            asked = coverage(job, [sender], band, step_in=36.0)
        except RangeError:
            shares.append(None)
            continue
        levels = [v for net in asked.levels_dbm for v in net[0] if v != float("-inf")]
        shares.append(sum(v >= band[0].wanted_dbm for v in levels) / len(levels) if levels else None)
    return shares[0], shares[1]


def best_plans(
    sites: HouseSites, frame: Frame, most: int = DOZEN, progress: Progress | None = None
) -> tuple[SitePlan, ...]:
    """Whole plans for the best bays, each from its better room, best first.

    Args:
        most: How many bays at most.
        progress: Called with ("planning places", done, total).
    """
    seen: dict[str, Site] = {}
    rooms: Counter[tuple[str, str]] = Counter()
    for site in sites.fitting:
        room = site.ranked.level, site.ranked.room
        if site.ranked.bay not in seen and len(seen) < most and rooms[room] < PER_ROOM:
            seen[site.ranked.bay] = site
            rooms[room] += 1
    made = []
    for number, site in enumerate(seen.values(), start=1):
        box = enclosure_in(site.ranked, sites.box, f"SITE{number}", site.entries)
        made.append(plan_at(sites.job, frame, box, site))
        if progress is not None:
            progress("planning places", number, len(seen))
    return tuple(sorted(made, key=lambda p: p.order))


def compare_candidates(
    job: Job, frame: Frame, wiring: Wiring | None = None, progress: Progress | None = None
) -> tuple[SitePlan, ...]:
    """Whole plans for the places the job names for its one enclosure, in the job's order.

    Args:
        wiring: The plan already made with the chosen one, if there is one.
    """
    built = {box.id for box in job.built_enclosures[1:]}
    named = [box for box in job.enclosures if box.id not in built]
    chosen = job.chosen_enclosure
    made = []
    for number, box in enumerate(named, start=1):
        ready = wiring is not None and chosen is not None and box.id == chosen.id
        made.append(told_of(job, frame, wiring) if ready and wiring else plan_at(job, frame, box))
        if progress is not None:
            progress("planning candidates", number, len(named))
    return tuple(made)
