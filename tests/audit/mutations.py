"""Every planted fault: wood and holes, paths, lists."""

from __future__ import annotations

from audit import plant_lists, plant_paths, plant_wood
from audit.planting import PLANTED

__all__ = ["PLANTED", "plant_lists", "plant_paths", "plant_wood"]
