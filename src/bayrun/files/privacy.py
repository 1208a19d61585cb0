"""People, firms and addresses in the texts of a house file: taken out before anything is carried on.

A pack lies open on a job site. It needs rooms and walls by name, never who owns them or where they live.
"""

from __future__ import annotations

import re

_STREET = (
    r"(?:street|st|avenue|ave|road|rd|drive|dr|lane|ln|court|ct|boulevard|blvd|way|place|pl|terrace|circle|cir"
    r"|parkway|pkwy|highway|hwy|stra(?:ß|ss)e|str|weg|gasse|platz)"
)
_PATTERNS = tuple(
    re.compile(pattern, re.I)
    for pattern in (
        r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+",  # mail
        r"(?:https?://|www\.)\S+",
        (
            rf"\b\d{{1,6}}[a-z]?\s+(?:[nsew]\.?\s+)?(?:[\w'’.-]+\s+){{1,3}}{_STREET}\b\.?"
            r"(?:\s*,?\s*(?:unit|apt|#)\s*\w+)?"
        ),
        r"\b[\w'’-]*\s?(?:stra(?:ß|ss)e|gasse|platz|weg)\s+\d{1,4}[a-z]?\b",
        r"(?:\+\d{1,3}[\s.-]?)?\(?\b\d{3}\)?[\s.-]\d{3}[\s.-]\d{4}\b",  # telephone
        r"\b[a-z]{2}\s+\d{5}(?:-\d{4})?\b",  # state and postal code
        (
            r"\b(?:owner|client|homeowner|customer|architect|designer|engineer|builder|contractor"
            r"|drawn(?: by)?"
            r"|checked(?: by)?|prepared(?: for| by)?|project address|address|lot)\s*[:#].*"
        ),
        r"(?-i:\b(?:Mr|MR|Mrs|MRS|Ms|MS|Dr|DR|Herr|Frau|Familie)\.?\s+[A-Z][\w'’-]+(?:\s+[A-Z][\w'’-]+)?)",
        r"\b(?:the\s+)?[\w'’&.-]+(?:\s+[\w'’&.-]+)?\s+(?:residence|estate)\b",
    )
)


def without_people(text: str) -> tuple[str, int]:
    """A text on one line without people, firms and addresses, and how many were taken out.

    Limits of use: a bare name ("Anna") cannot be told from a room's name.
    """
    clean = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    taken = 0
    for pattern in _PATTERNS:
        clean, hits = pattern.subn("", clean)
        taken += hits
    return (" ".join(clean.split()).strip(" ,;:-") if taken else clean), taken
