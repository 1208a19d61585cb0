"""The passage graph and the solver: every cable through real framing, every crossing an explicit hole."""

from bayrun.routing.route import least_way_in, route

__all__ = ["least_way_in", "route"]
