"""Counting: lengths, drill list, plates, straps, supports, seals, pulls, boxes, labels, material, totals."""

from bayrun.takeoff.count import takeoff
from bayrun.takeoff.records import DrillRow, LabelPair, LengthRow, MaterialLine, Takeoff, Totals
from bayrun.takeoff.totals import totals

__all__ = ["DrillRow", "LabelPair", "LengthRow", "MaterialLine", "Takeoff", "Totals", "takeoff", "totals"]
