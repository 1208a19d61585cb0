"""A wall as seen from one of its rooms: which way is right, where the corner to hook a tape on is.

Standing on the left of a wall's direction and looking at it, its start is at the right hand: offsets run
leftward. From the other side they run rightward. Everything that draws or tells a wall "as seen" asks here,
so that left and right cannot be confused in two ways.
"""

from __future__ import annotations

from dataclasses import dataclass

from bayrun.geometry import below, near
from bayrun.house import Job, Wall, face_room
from bayrun.house.building import Side


@dataclass(frozen=True, slots=True)
class WallView:
    """One face of a wall, as seen from its room.

    Args:
        side: The face that is looked at, by the wall's direction.
        along_in: Where on it: decides the room [in].
    """

    job: Job
    wall: Wall
    side: Side
    along_in: float

    @property
    def mirrored(self) -> bool:
        """True where offsets run from right to left in the picture."""
        return self.side == "left"

    def x(self, along_in: float) -> float:
        """Place in the picture, growing to the right, of an offset along the wall [in]."""
        return -along_in if self.mirrored else along_in

    @property
    def room(self) -> str:
        """The room it is seen from."""
        return face_room(self.wall, self.side, self.along_in)

    @property
    def corners_in(self) -> tuple[float, float]:
        """Offsets of the two ends of the framing's face here, low to high [in].

        They are faces of the walls that meet it, where a tape can hook; without one, the end of the face.
        """
        low, high = self._stretch_in
        return self._face_at(low, "start"), self._face_at(high, "end")

    @property
    def _stretch_in(self) -> tuple[float, float]:
        """The face from wall to wall, by center lines [in]."""
        low, high = 0.0, self.wall.length_in
        pieces = self.wall.left if self.side == "left" else self.wall.right
        for piece in pieces:
            if piece.from_in < self.along_in < piece.to_in:
                low, high = piece.from_in, piece.to_in
        # Where two rooms are one space no wall stands at the line between them: the face goes on.
        for piece in sorted(pieces, key=lambda p: -p.to_in):
            if near(piece.to_in, low) and self._crossing_half(low) is None:
                low = piece.from_in
        for piece in sorted(pieces, key=lambda p: p.from_in):
            if near(piece.from_in, high) and self._crossing_half(high) is None:
                high = piece.to_in
        return low, high

    def _crossing_half(self, at_in: float) -> float | None:
        """Half the thickness of a wall that meets this face at an offset; None where none does [in]."""
        dx, dy = self.wall.direction
        for joint in self.job.joints:
            if joint.on_wall == self.wall.id and near(joint.on_offset_in, at_in):
                if "inline" in joint.kind:
                    continue
                other = self.job.wall(joint.wall)
                far = other.end if joint.end == "start" else other.start
                across = (far[0] - self.wall.start[0]) * -dy + (far[1] - self.wall.start[1]) * dx
                if (across > 0) is (self.side == "left"):
                    return joint.width_in / 2
        return None

    def _face_at(self, at_in: float, end: str) -> float:
        """The face of the wall that meets this one at an end of the stretch, inward of its center [in]."""
        inward = 1.0 if end == "start" else -1.0
        half_in = self._crossing_half(at_in)
        if half_in is not None:
            return at_in + inward * half_in
        if not near(at_in, 0.0 if end == "start" else self.wall.length_in):
            return at_in
        plate_in = self.wall.plate_start_in if end == "start" else self.wall.plate_end_in
        for joint in self.job.joints:
            if joint.wall == self.wall.id and joint.end == end and "inline" not in joint.kind:
                # Boards that run through behind the plates' ends stand before the other wall's studs.
                half_in = self.job.wall(joint.on_wall).thickness_in / 2
                return at_in + max(half_in, inward * (plate_in - at_in)) * inward
        return plate_in

    def _is_corner(self, at_in: float, end: str) -> bool:
        """Whether a wall really stands at an end of the stretch; where a wall goes on in line none does."""
        if self._crossing_half(at_in) is not None:
            return True
        if not near(at_in, 0.0 if end == "start" else self.wall.length_in):
            return False
        mine = [j for j in self.job.joints if j.wall == self.wall.id and j.end == end]
        return any("inline" not in joint.kind for joint in mine)

    @property
    def hook_in(self) -> float:
        """Offset of the corner the tape hooks on: a real one before a mere end, then the nearer [in]."""
        low, high = self.corners_in
        first, last = self._stretch_in
        real = self._is_corner(first, "start"), self._is_corner(last, "end")
        if real[0] != real[1]:
            return low if real[0] else high
        return high if below(high - self.along_in, self.along_in - low) else low

    @property
    def hook_is_corner(self) -> bool:
        """False where neither end of the face is a corner: the tape hooks on the end of the plate."""
        first, last = self._stretch_in
        return self._is_corner(first, "start") or self._is_corner(last, "end")

    @property
    def hook_hand(self) -> str:
        """The hand that corner is at, as seen: ``left`` or ``right``."""
        return "left" if self.x(self.hook_in) < self.x(self.along_in) else "right"
