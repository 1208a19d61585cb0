"""Printed helper tables compared with the exact clause: some round to the unsafe side. None is adopted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Kind = Literal["hole", "notch"]
COUNTY = "a county's printed sheet of common defects (https://studylib.net/doc/13373209)"
GUIDES = "several printed guides for installers"
HANDBOOK = "printed handbooks that turn shares into sixteenths or sixty-fourths"


@dataclass(frozen=True, slots=True)
class Printed:
    """One figure of a printed table.

    Args:
        source: Who prints it.
        kind: Of a hole or a notch.
        piece: The member in words, as in ``examples``.
        printed: The figure as printed [in].
        exact: The clause's own figure, written down here by hand [in].
        why: The arithmetic.
    """

    source: str
    kind: Kind
    piece: str
    printed: str
    exact: str
    why: str

    @property
    def unsafe(self) -> bool:
        """True where the printed figure allows more than the clause."""
        return Fraction(self.printed) > Fraction(self.exact)


PRINTED: tuple[Printed, ...] = (
    Printed(COUNTY, "hole", "2x4 non-bearing stud", "17/8", "21/10", "60 % of 3-1/2 is 2.1"),
    Printed(COUNTY, "hole", "2x6 non-bearing stud", "53/16", "33/10", "60 % of 5-1/2 is 3.3"),
    Printed(COUNTY, "hole", "2x4 bearing stud", "11/8", "7/5", "40 % of 3-1/2 is 1.4"),
    Printed(COUNTY, "hole", "2x6 bearing stud", "35/16", "11/5", "40 % of 5-1/2 is 2.2"),
    Printed(HANDBOOK, "hole", "2x4 bearing stud", "23/16", "7/5", "1-7/16 is 41.1 %"),
    Printed(HANDBOOK, "notch", "2x4 non-bearing stud", "45/32", "7/5", "40 % of 3-1/2 is 1.4"),
    Printed(HANDBOOK, "notch", "2x6 non-bearing stud", "141/64", "11/5", "40 % of 5-1/2 is 2.2"),
    Printed(HANDBOOK, "notch", "2x4 bearing stud", "7/8", "7/8", "25 % of 3-1/2 exactly"),
    Printed(HANDBOOK, "notch", "2x6 bearing stud", "11/8", "11/8", "25 % of 5-1/2 exactly"),
    Printed(GUIDES, "hole", "2x6 joist", "29/16", "3/2", "a third is 1.833, but 2 in stay at each edge"),
)
