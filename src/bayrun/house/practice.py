"""The firm's practice: slack, fill, bits, cables, prices. Every value is the firm's to change."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from bayrun.tables import Amendment


@dataclass(frozen=True, slots=True)
class CableKind:
    """One kind of cable as the firm buys it.

    Args:
        letter: Drawn on the line and written in run ids.
        name: ``data four-pair``, ``coax series 6`` …
        diameter_in: Outside diameter from its data sheet [in].
        line: ``solid``, ``long dash``, ``dash dot``, ``dotted double``, ``short dash``.
        price_per_foot: In the job's currency.
        box_ft: Feet in a full box or spool.
        bend_radius_x_diameter: Least bend radius as a multiple of the outside diameter.
        pull_limit_lbf: Largest pull, or None where nothing is published.
        listing: Flame listing printed on the jacket, e.g. ``CMR``; empty means nobody said.
        connector: What terminates one end.
        rating_c: Temperature rating printed on the jacket [C]; None: nobody said, and 60 counts.
    """

    letter: str
    name: str
    diameter_in: float
    line: str = "short dash"
    price_per_foot: Decimal = Decimal("0.20")
    box_ft: float = 1000.0
    bend_radius_x_diameter: float = 4.0
    pull_limit_lbf: float | None = None
    listing: str = ""
    connector: str = ""
    reserve_ft: float = 5.0
    """Last feet of a box that cannot be used."""
    rating_c: int | None = None


@dataclass(frozen=True, slots=True)
class Slack:
    """Cable left at each kind of end [in]; at the enclosure counted past its far corner."""

    enclosure_in: float = 36.0
    wall_in: float = 12.0
    ceiling_in: float = 36.0
    soffit_in: float = 36.0
    exterior_in: float = 12.0
    contact_in: float = 12.0
    coil_in: float = 72.0
    conduit_in: float = 12.0
    gear_in: float = 36.0

    def for_mount(self, mount: str) -> float:
        """Slack at a location of this mount [in]."""
        return float(getattr(self, f"{mount}_in"))


@dataclass(frozen=True, slots=True)
class Costs:
    """What routing weighs, in the job's currency and seconds. Common practice, no source: estimates.

    Args:
        hour: One crew hour.
        hole_s, plate_s, strap_s, seal_s: Seconds to make one.
        pull_s_per_foot: Seconds of pulling per foot of one cable.
        ladder_s: Seconds to set a ladder for one hole that is out of reach from the floor.
        plate_price, strap_price, seal_price: Material of one.
        attic_factor, crawl_factor: How much dearer a foot is there.
        attic_low_factor: The same in an attic too low to stand or sit in (``Practice.attic_kneel_in``).
        attic_flat_factor: The same where one lies flat or pushes with a stick (``Practice.attic_flat_in``).
        power_along_factor: How much dearer a foot is along power nearer than the firm's distance; a square
            crossing costs nothing. 1 leaves power out of the price.
        ac_bay_s: Seconds' worth of dislike for the bay the electrician needs.
        against_wish_s: Seconds' worth of dislike for leaving a bay the way a person did not wish.
    """

    hour: Decimal = Decimal("48.00")
    hole_s: float = 45.0
    plate_s: float = 35.0
    strap_s: float = 180.0
    seal_s: float = 60.0
    pull_s_per_foot: float = 3.0
    ladder_s: float = 20.0
    plate_price: Decimal = Decimal("0.55")
    strap_price: Decimal = Decimal("4.50")
    seal_price: Decimal = Decimal("0.80")
    attic_factor: float = 1.2
    crawl_factor: float = 1.5
    ac_bay_s: float = 600.0
    attic_low_factor: float = 1.5
    attic_flat_factor: float = 2.0
    power_along_factor: float = 1.5
    against_wish_s: float = 3000.0


@dataclass(frozen=True, slots=True)
class Practice:
    """Everything the firm decides once and may change for one job.

    Args:
        fill_max: Share of a hole's area that cables may take; 0.40 is the habit, above 0.60 is refused.
        bits_in: Bits on the truck, small to large [in].
        hole_gap_in: Least wood between two holes in one member [in].
        obstacle_margin_in: Kept clear around pipes and ducts [in].
        straight_in_open_space: False: square to the framing, as a neat crew runs.
        dress_factor: Jacket over path length; 1 prints the path itself.
        editions: Adopted editions, e.g. ``IRC`` → ``2021``.
        stand_boxes: Cable boxes on the stand at once: bounds a pull.
        stand_boxes_by_kind: (letter, boxes) the firm brings of one kind; a kind not named gets what its
            lengths need, at least two where a location takes several.
        partial_boxes: (letter, feet) of opened boxes on hand, used before a new one is opened.
        least_hole_in: Smallest hole worth drilling at a plate [in].
        attic_kneel_in, attic_flat_in: Headroom between chords under which a foot of attic costs more [in].
        attic_least_in: Clear height under the roof's deck under which no cable is laid: over a plate no way
            up, over a truss or joist no way across [in]. Practice.
    """

    slack: Slack = Slack()
    costs: Costs = Costs()
    cables: tuple[CableKind, ...] = ()
    fill_max: float = 0.40
    bits_in: tuple[float, ...] = (0.75, 0.875, 1.0, 1.125, 1.25, 1.375, 1.5, 1.75, 2.0)
    hole_gap_in: float = 1.0
    obstacle_margin_in: float = 0.5
    straight_in_open_space: bool = False
    dress_factor: float = 1.0
    editions: tuple[tuple[str, str], ...] = (("IRC", "2021"), ("NEC", "2020"))
    stand_boxes: int = 4
    stand_boxes_by_kind: tuple[tuple[str, int], ...] = ()
    partial_boxes: tuple[tuple[str, float], ...] = ()
    least_hole_in: float = 0.75
    support_every_in: float = 54.0
    power_separation_in: float = 6.0
    attic_kneel_in: float = 36.0
    attic_flat_in: float = 18.0
    attic_least_in: float = 3.0
    spare_rate: float = 0.10
    currency: str = "USD"
    amendments: tuple[Amendment, ...] = ()
    """Local changes to the adopted codes, from their overlay file."""

    def cable(self, letter: str) -> CableKind:
        """The cable kind of this letter; KeyError where the firm has none."""
        for kind in self.cables:
            if kind.letter == letter:
                return kind
        raise KeyError(letter)

    def edition(self, document: str) -> str:
        """The adopted edition of a document, empty where nobody said."""
        return dict(self.editions).get(document, "")
