"""Which hole routing may plan in a member: the largest bit that needs no steel, where there is one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.framing import Member
from bayrun.geometry import at_least, at_most
from bayrun.house import FloorFrame, Job, Wall
from bayrun.limits.bore import clear_span, hole_limits
from bayrun.limits.pieces import Piece
from bayrun.limits.steel import nail_plates_needed, plate_free_interval, strap_needed
from bayrun.tables import Adopted, adopt_careful

PUNCH_IN = 1.5
"""Width of the factory punch-outs of light steel studs [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Allowed:
    """One kind of hole a place may hold.

    Args:
        diameter_in: Largest hole planned [in].
        across: (low, high) centers from the wall's center line [in].
        plates: Nail plates one such hole needs.
        strap: Whether a top plate then needs a strap.
        fixed: Factory-made: nothing is drilled.
    """

    diameter_in: float
    across: tuple[float, float] = (0.0, 0.0)
    plates: int = 0
    strap: bool = False
    fixed: bool = False


@dataclass(frozen=True, slots=True)
class Allowance:
    """The hole rules of one job: its adopted editions and its bits."""

    job: Job
    adopted: Adopted

    @classmethod
    def of(cls, job: Job) -> Allowance:
        """The allowance of a job's adopted editions."""
        return cls(job, adopt_careful(job.practice.editions, job.practice.amendments))

    def stud(self, wall: Wall, between: Sequence[Member]) -> Allowed | None:
        """The hole to plan through studs side by side, centered; None where there is no legal bit."""
        if any(m.material == "steel" for m in between):
            return Allowed(PUNCH_IN, fixed=True) if all(m.material == "steel" for m in between) else None
        piece = Piece("sawn", "stud", wall.thickness_in, wall.counts_as_bearing, wall.exterior)
        return self._best(piece, centered=True)

    def plate(self, wall: Wall, *, top: bool) -> tuple[Allowed, ...]:
        """Holes to plan through a plate, to be tried in this order.

        The largest without steel, larger ones with it, then smaller ones that may stand farther out.
        """
        role = "plate" if top else "bottom plate"
        kind = "steel" if wall.steel and wall.plates.material == "steel" else "sawn"
        piece = Piece(
            "steel" if kind == "steel" else "sawn",
            "plate" if role == "plate" else "bottom plate",
            wall.thickness_in,
            wall.counts_as_bearing,
            wall.exterior,
            sheathed=wall.sheathed,
        )
        half_in = wall.thickness_in / 2
        found: list[Allowed] = []
        for bit_in in sorted(self.job.practice.bits_in, reverse=True):
            if bit_in < self.job.practice.least_hole_in:
                continue
            free = plate_free_interval(wall.thickness_in, bit_in, self.adopted)
            if free is not None:
                found.insert(0, Allowed(bit_in, (free[0] - half_in, free[1] - half_in)))
                break
        largest_free_in = found[0].diameter_in if found else 0.0
        for bit_in in sorted(self.job.practice.bits_in):
            span = clear_span(piece, bit_in, self.adopted)
            small = bit_in < self.job.practice.least_hole_in
            if small or at_most(bit_in, largest_free_in) or span is None:
                continue
            plates = len(nail_plates_needed(wall.thickness_in, bit_in, None, self.adopted))
            strap = top and strap_needed(piece, bit_in, self.adopted)
            found.append(Allowed(bit_in, (span[0] - half_in, span[1] - half_in), plates, strap))
        return (*found, *self._beside(wall, piece, largest_free_in))

    def _beside(self, wall: Wall, piece: Piece, under_in: float) -> tuple[Allowed, ...]:
        """Smaller holes that may stand farther off the middle, beside what lies over the plate.

        The last resort where a joist or chord lies along the plate: those without steel first.
        """
        half_in = wall.thickness_in / 2
        free, steel = [], []
        for bit_in in sorted(self.job.practice.bits_in, reverse=True):
            if bit_in < self.job.practice.least_hole_in or at_least(bit_in, under_in):
                continue
            clear = plate_free_interval(wall.thickness_in, bit_in, self.adopted)
            if clear is not None:
                free.append(Allowed(bit_in, (clear[0] - half_in, clear[1] - half_in)))
            span = clear_span(piece, bit_in, self.adopted)
            if span is not None:
                steel.append(Allowed(bit_in, (span[0] - half_in, span[1] - half_in), plates=1))
        return (*free, *steel)

    def joist(self, frame: FloorFrame) -> Allowed | None:
        """The hole to plan across a joist at mid-depth; None where nobody knows or it is never."""
        if frame.kind == "I-joists":
            if frame.knockouts is None:
                return None
            return Allowed(frame.knockouts.diameter_in, fixed=True)
        if "truss" in frame.kind:
            return None
        return self._best(Piece("sawn", "joist", frame.member_depth_in), centered=True)

    def joist_gap_in(self, frame: FloorFrame) -> float:
        """Least wood between two holes in one joist [in]."""
        piece = Piece("sawn", "joist", frame.member_depth_in)
        return max(float(hole_limits(piece, self.adopted).gap_min), self.job.practice.hole_gap_in)

    def _best(self, piece: Piece, *, centered: bool) -> Allowed | None:
        best: Allowed | None = None
        for bit_in in sorted(self.job.practice.bits_in):
            if bit_in < self.job.practice.least_hole_in:
                continue
            span = clear_span(piece, bit_in, self.adopted)
            middle_in = piece.depth_in / 2
            if span is None or (
                centered and not (at_least(middle_in, span[0]) and at_most(middle_in, span[1]))
            ):
                continue
            plates = len(nail_plates_needed(piece.depth_in, bit_in, None, self.adopted))
            if best is None or plates <= best.plates:
                best = Allowed(bit_in, plates=plates)
        return best
