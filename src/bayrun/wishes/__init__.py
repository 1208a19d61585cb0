"""What a house usually wants: room rules, heights, wall spaces; proposals with reasons, never additions."""

from bayrun.wishes.propose import Wishes, left_out, plan_wishes, propose, with_proposals
from bayrun.wishes.records import Proposal
from bayrun.wishes.room_rules import ROOM_RULES, SITE_RULES, Rule, Seat, kind_of_room, rules_for
from bayrun.wishes.runs import runs_for
from bayrun.wishes.spots import Spot, spots
from bayrun.wishes.walking import walking_order
from bayrun.wishes.wall_space import WallSpace, dark_wall_spaces, wall_spaces

__all__ = [
    "ROOM_RULES",
    "SITE_RULES",
    "Proposal",
    "Rule",
    "Seat",
    "Spot",
    "WallSpace",
    "Wishes",
    "dark_wall_spaces",
    "kind_of_room",
    "left_out",
    "plan_wishes",
    "propose",
    "rules_for",
    "runs_for",
    "spots",
    "walking_order",
    "wall_spaces",
    "with_proposals",
]
