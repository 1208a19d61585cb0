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
        """Offsets of the two inside corners of the framing that bound the face here, low to high [in].

        They are faces of the walls that meet it, where a tape can hook; without one, its end.
        """
        low, high = 0.0, self.wall.length_in
        for piece in self.wall.left if self.side == "left" else self.wall.right:
            if piece.from_in < self.along_in < piece.to_in:
                low, high = piece.from_in, piece.to_in
        return self._face_at(low, "start"), self._face_at(high, "end")

    def _face_at(self, at_in: float, end: str) -> float:
        """The face of the wall that meets this one at an end of the stretch, inward of its center [in]."""
        inward = 1.0 if end == "start" else -1.0
        for joint in self.job.joints:
            if joint.on_wall == self.wall.id and near(joint.on_offset_in, at_in):
                return at_in + inward * joint.width_in / 2
        if not near(at_in, 0.0 if end == "start" else self.wall.length_in):
            return at_in
        plate_in = self.wall.plate_start_in if end == "start" else self.wall.plate_end_in
        for joint in self.job.joints:
            if joint.wall == self.wall.id and joint.end == end and "inline" not in joint.kind:
                # Boards that run through behind the plates' ends stand before the other wall's studs.
                half_in = self.job.wall(joint.on_wall).thickness_in / 2
                return at_in + max(half_in, inward * (plate_in - at_in)) * inward
        return plate_in

    @property
    def hook_in(self) -> float:
        """Offset of the nearer corner: the one the tape hooks on [in]."""
        low, high = self.corners_in
        return high if below(high - self.along_in, self.along_in - low) else low

    @property
    def hook_hand(self) -> str:
        """The hand that corner is at, as seen: ``left`` or ``right``."""
        return "left" if self.x(self.hook_in) < self.x(self.along_in) else "right"
