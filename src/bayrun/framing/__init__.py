"""Every member from the plan; bays; what lies over, under and beside a member."""

from bayrun.framing.bays import blocked_in_wall, obstacle_heights, obstacle_plan, rect_to_wall, to_wall
from bayrun.framing.lay_out import lay_out
from bayrun.framing.records import Bay, Cover, Frame, Member
from bayrun.framing.walls import layout_centers_in

__all__ = [
    "Bay",
    "Cover",
    "Frame",
    "Member",
    "blocked_in_wall",
    "lay_out",
    "layout_centers_in",
    "obstacle_heights",
    "obstacle_plan",
    "rect_to_wall",
    "to_wall",
]
