"""Printed data with provenance: figures of the codes by adopted edition."""

from bayrun.tables.amendments import Amendment, AmendmentError, check_amendments, read_amendments
from bayrun.tables.clauses import (
    Adopted,
    Clause,
    EditionError,
    Figures,
    adopt,
    adopt_careful,
    clause_slugs,
    figures_of,
    known_editions,
)

__all__ = [
    "Adopted",
    "Amendment",
    "AmendmentError",
    "Clause",
    "EditionError",
    "Figures",
    "adopt",
    "adopt_careful",
    "check_amendments",
    "clause_slugs",
    "figures_of",
    "known_editions",
    "read_amendments",
]
