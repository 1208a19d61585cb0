"""What the audit can find: one record a defect, and the catalog of its kinds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bayrun.units import tape

Measure = float | str | None


@dataclass(frozen=True, slots=True)
class Defect:
    """One thing in which a plan contradicts its house, or itself.

    Args:
        kind: Slug of the catalog, e.g. ``member-moved``.
        about: Ids of what it speaks of: members, holes, runs, boxes.
        place: Where, in words of the trade.
        says: One sentence for a person.
        measured, expected: What the plan says and what separate arithmetic gives; inches where a number.
    """

    kind: str
    about: tuple[str, ...]
    place: str
    says: str
    measured: Measure = None
    expected: Measure = None

    @property
    def order(self) -> tuple[int, tuple[str, ...], str]:
        """Sort key: the catalog's order, then what it speaks of."""
        slugs = [slug for slug, _ in KINDS]
        return (slugs.index(self.kind), self.about, self.says)

    def __str__(self) -> str:
        return f"{self.kind}  {', '.join(self.about)}  {self.place}: {self.says}"


KINDS: tuple[tuple[str, str], ...] = (
    ("other-job", "the plan was made for another job or revision"),
    ("id-twice", "two members, holes, runs or lists' entries carry one id"),
    ("member-missing", "a piece of framing that the walls and frames ask for is not in the plan"),
    ("member-extra", "a piece of framing that nothing asks for"),
    ("member-moved", "a piece of framing stands elsewhere than the layout puts it"),
    ("member-mistold", "a piece of framing with the wrong material, load or world box"),
    ("bay-wrong", "a bay whose sides are not the faces of what bounds it, or that holds wood or a pipe"),
    ("bay-missing", "clear space between two studs with no bay"),
    ("location-misplaced", "a location stands elsewhere than the job puts it, or lists the wrong runs"),
    ("run-lost", "a wished run is neither planned nor told as unreached"),
    ("run-not-wished", "a run that nobody wished, or twice, or of another kind or between other ends"),
    ("path-broken", "a path jumps, or has fewer than two points"),
    ("end-misplaced", "a path does not end at its location, entry or device"),
    ("path-in-open-room", "a cable hangs in a room, a door or a window"),
    ("crosses-without-hole", "a cable passes wood outside every hole of its own"),
    (
        "crosses-never-member",
        "a cable passes a truss, beam, header, post or board that is never drilled there",
    ),
    (
        "obstacle-entered",
        "a cable or a hole runs into a pipe, duct, cabinet or other obstacle, or its margin",
    ),
    ("separation-crossed", "a cable crosses a separation where nothing may pass"),
    ("path-misses-hole", "a path names a hole that is not where it passes, or does not exist"),
    ("hole-in-nothing", "a hole in a member that does not stand in this house"),
    ("hole-misplaced", "tape coordinates and world coordinates of a hole differ, or it leaves its member"),
    ("hole-never", "a hole in a member that is never drilled"),
    ("hole-too-big", "a hole over what the adopted code allows in its member"),
    ("hole-near-edge", "too little wood between a hole and an edge of its member"),
    ("holes-too-near", "too little wood between two holes of one member"),
    ("hole-not-a-bit", "a drilled hole of a size that no bit on the truck makes"),
    (
        "knockout-moved",
        "a cable through an I-joist where the maker's chart has no knockout, or a sleeve moved",
    ),
    ("plate-hole-barred", "something lies directly over or under a hole in a plate"),
    ("occupants-differ", "a hole and the paths do not agree about who passes it"),
    ("circle-wrong", "a cable is drawn too thick or too thin, or not at all"),
    ("circle-outside", "a cable does not lie inside its hole"),
    ("circles-overlap", "two cables of one hole overlap"),
    ("hole-too-full", "a hole is filled beyond the firm's share or 60 %"),
    ("slack-wrong", "slack at an end is not the firm's, past the far corner at the enclosure"),
    ("length-wrong", "a length is not its segments plus slack, or is under the square distance"),
    ("cut-short", "what is cut off the box does not reach, or the lists differ about it"),
    ("plate-missing", "a face under 1-1/4 in from a hole without its nail plate"),
    ("plate-extra", "a nail plate on a face that needs none, or a second one"),
    ("plate-small", "nail plates that do not cover their hole"),
    ("strap-missing", "a cut top plate without its strap, or with one too short"),
    ("strap-extra", "a strap where none is asked, or a second one"),
    ("grommet-wrong", "grommets do not equal the steel members passed"),
    ("seal-missing", "a hole or box in a floor, ceiling or separation without its seal"),
    ("seal-extra", "a seal for a hole or box that is not there, or a second one"),
    ("seal-weak", "a rated assembly closed with something that is not a listed firestop"),
    ("pull-wrong", "a run is in no pull or in several, or a pull takes more than the stand holds"),
    ("box-wrong", "a cable box is overdrawn, its rest or its cuts do not add up, or it was never on hand"),
    ("run-cut-wrong", "a run is cut from no box, from two, or from a box of another kind"),
    ("label-wrong", "a run without its label pair, or two pairs that can be read as one another"),
    ("drill-row-wrong", "the drill list and the holes differ"),
    ("totals-wrong", "a total is not the sum of its records"),
)
"""(slug, what it means) of every kind of defect, in the order in which they are told."""


def point_words(p: Sequence[float]) -> str:
    """A world point as a tape would give it."""
    return f"x {tape(p[0])}, y {tape(p[1])}, {tape(p[2])} up"
