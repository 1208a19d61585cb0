"""Cautions of the sheets, each in one short sentence, and which of them fits which sheet.

Source: this project's list of work that can hurt someone; each defers to the local code, the inspector
and the licensed trades. Nothing here is a finding of compliance.
"""

from __future__ import annotations

COVER: tuple[str, ...] = (
    (
        "House power is the licensed electrician's: the feed, receptacle, breaker and anything inside "
        "the enclosure while it is live."
    ),
    (
        "Wood that carries the house is not ours to weaken: no hole in trusses, I-joist flanges, beams, "
        "headers or posts without the written answer of the engineer or maker. Limits shown are for sawn "
        "lumber."
    ),
    (
        "Holes through plates, the garage separation and rated walls or floors are closed with what the "
        "inspector takes; rated ones only by a listed system. Keep off flues and hot lights."
    ),
    (
        "Bonding and grounding of cables that come from outside, antennas and dishes: by the code and a "
        "licensed trade, before they are connected."
    ),
    "Power and low voltage never share a box or a compartment without the listed barrier.",
    (
        "The jacket's listing must suit the space it runs in: ask about every return-air space; attics "
        "are hot."
    ),
    (
        "Smoke, carbon monoxide, fire alarm, elevator and pool wiring have rules of their own and are "
        "not planned here."
    ),
    (
        "Ladders, attics, drills and dust: work safely; in an old house ask about lead and asbestos "
        "before drilling."
    ),
    (
        "Look on both sides, above and below before the bit turns: gas, water, drain, duct. A nail plate "
        "does not mend a pipe."
    ),
    "Heights may be set by law for access and escape: the local rule stands above this plan.",
)
"""The cover's, in the order of what can hurt most."""

DRILL = "Look behind, above and below first. No hole in trusses, beams, headers or posts."
MARK = "Keep clear of the electrician's boxes, pipes, ducts and door swings; ask before you move one."
PULL = "No more than 25 lbf on four-pair cable; no kinks, no tight corners; keep clear of power."
LABEL = "A cable without its label at both ends is lost when the board goes up."
PLATE = "Steel where the hole's edge is under 1-1/4 in from the face. A plate does not mend a pipe."
MATERIAL = "Prices are the firm's table; check stock and listing before loading."
WALK = "Tape and eyes beat the plan: what differs is written here before anybody drills."
FINDINGS = "Stop means do not build it so. Cannot tell is never a pass."
ENCLOSURE = "The power feed, its hole and its staples are the licensed electrician's work."
COVER_LINE = "A plan for the crew, not an inspection and not a permit."
