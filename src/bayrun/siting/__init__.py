"""Where the enclosure should go: every bay looked at, with reasons for and against."""

from bayrun.siting.bays import Box, Ranked, rank_bays
from bayrun.siting.choose import choose_enclosure

__all__ = ["Box", "Ranked", "choose_enclosure", "rank_bays"]
