"""The published JSON Schema of the job file, drawn from the same table that reads and writes it."""

from __future__ import annotations

from typing import Any

from bayrun.files.codecs import LARGEST_IN
from bayrun.files.upgrade import CURRENT_SCHEMA
from bayrun.files.wishtable import JOB, records

_LENGTH_TEXT = (
    r"^\s*-?\s*[0-9.¼½¾⅛⅜⅝⅞⅓⅔]"
    r"[0-9./\s¼½¾⅛⅜⅝⅞⅓⅔'\"′″’”–—−a-zA-Z-]*$"
)


def _length(least_in: float, *, above: bool = False) -> dict[str, Any]:
    number: dict[str, Any] = {"type": "number", "maximum": LARGEST_IN}
    number["exclusiveMinimum" if above else "minimum"] = least_in
    text = {"type": "string", "pattern": _LENGTH_TEXT}
    return {
        "description": 'Inches, or a length as people write it: 5\' 3-1/2", 5-3, 63 1/2", 1613 mm.',
        "anyOf": [number, text],
    }


def job_schema() -> dict[str, Any]:
    """JSON Schema of the job file, draft 2020-12.

    It tells shapes, keys and ranges. Ids that must be known, and the sign of lengths written as text,
    are checked by the reader only.
    """
    job = JOB.definition()
    properties = {"schema": {"const": CURRENT_SCHEMA, "description": "version of this file's keys"}}
    definitions: dict[str, Any] = {
        "id": {"type": ["string", "integer"], "pattern": r"^[^\s,]+$|^$"},
        "name": {"type": ["string", "number"], "minLength": 1},
        "text": {"type": ["string", "number"]},
        "length": _length(-LARGEST_IN),
        "length_from_zero": _length(0),
        "length_above_zero": _length(0, above=True),
    }
    for record in records()[1:]:
        definitions[record.title] = record.definition()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:bayrun:job:{CURRENT_SCHEMA}",
        "title": "Bayrun job file",
        "description": "One house, what is wished in it, and the firm's practice.",
        "type": "object",
        "properties": properties | job["properties"],
        "required": ["schema", *job["required"]],
        "additionalProperties": False,
        "$defs": dict(sorted(definitions.items())),
    }
