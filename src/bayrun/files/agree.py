"""One wall has, two walls have: sentences that count things, made to agree where the count is one."""

from __future__ import annotations

import re

_NOUNS = {
    "walls": "wall", "ends": "end", "openings": "opening", "doors": "door", "windows": "window",
    "rooms": "room", "levels": "level", "storeys": "storey", "spaces": "space", "surfaces": "surface",
    "gaps": "gap", "figures": "figure", "holes": "hole", "niches": "niche", "voids": "void",
    "floors": "floor", "slopes": "slope", "layers": "layer", "lines": "line", "breaks": "break",
    "names": "name", "things": "thing", "drawings": "drawing", "studs": "stud", "stubs": "stub",
    "pieces": "piece", "slabs": "slab", "roofs": "roof", "beams": "beam", "columns": "column",
    "stairs": "stair", "ramps": "ramp", "ceilings": "ceiling", "joists": "joist", "locations": "location",
    "chases": "chase", "texts": "text", "units": "unit", "sides": "side", "readings": "reading",
}  # fmt: skip
_VERBS = {
    "have": "has", "are": "is", "were": "was", "stand": "stands", "run": "runs", "meet": "meets",
    "do": "does", "begin": "begins", "take": "takes", "say": "says", "carry": "carries", "lie": "lies",
    "lean": "leans", "count": "counts", "make": "makes", "follow": "follows",
}  # fmt: skip
_PHRASES = (
    ("doors and windows", "door or window"), ("windows and doors", "window or door"),
    ("surfaces or openings", "surface or opening"), ("they are doors", "it is a door"),
    ("they are", "it is"),
    ("their own", "its own"), ("of their", "of its"), ("through their", "through its"),
    ("lean or lie", "leans or lies"), ("studs are planned in them", "studs are planned in it"),
    ("things that are not walls", "a thing that is no wall"), ("each other", "others"),
)  # fmt: skip
_ONE = re.compile(rf"(?<![\w.,/'\"-])1 ((?:[a-z]+ ){{0,2}}?)({'|'.join(_NOUNS)})\b")
_VERB = re.compile(rf"(?<!the )(?<!a )(?<!of )(?<!one )(?<!not )(?<!they )\b({'|'.join(_VERBS)})\b")


def agreed(text: str) -> str:
    """The sentence with what stands after a count of one put in the singular.

    Args:
        text: One sentence, written for many: ``1 walls have damaged data``.
    Returns:
        ``1 wall has damaged data``; a sentence that counts nothing once comes back as it is.
    """
    first = _ONE.match(text)
    for plural, single in _PHRASES if first or text.startswith(("1 doors and", "1 windows and")) else ():
        text = text.replace(plural, single, 1)
    text = _ONE.sub(lambda m: f"1 {m[1]}{_NOUNS[m[2]]}", text)
    if first is None:
        return text
    # The verbs of the sentence itself, up to where the next one begins; a list of names holds none.
    cut = re.search(r"[:;(]", text)
    head, rest = (text, "") if cut is None else (text[: cut.start()], text[cut.start() :])
    return _VERB.sub(lambda m: _VERBS[m[1]], head) + rest
