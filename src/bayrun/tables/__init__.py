"""Printed data with provenance: figures of the codes by adopted edition."""

from bayrun.tables.clauses import (
    Adopted,
    Clause,
    EditionError,
    adopt,
    adopt_careful,
    known_editions,
)

__all__ = ["Adopted", "Clause", "EditionError", "adopt", "adopt_careful", "known_editions"]
