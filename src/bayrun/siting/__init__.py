"""Where the enclosure, and other things, should go: every bay looked at, with reasons for and against."""

from bayrun.siting.bays import Box, Ranked, rank_bays
from bayrun.siting.choose import choose_enclosure
from bayrun.siting.reach import Reach, Spot, reach

__all__ = ["Box", "Ranked", "Reach", "Spot", "choose_enclosure", "rank_bays", "reach"]
