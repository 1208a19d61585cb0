"""The import report: one page that opens in any browser, prints, and needs nothing beside it."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from bayrun.files.agree import agreed
from bayrun.files.report_confidence import LevelReport, level_reports, look_first
from bayrun.files.report_picture import (
    ACCENT,
    FAINT,
    INK,
    KEY,
    RULE,
    STOP,
    WOOD,
    level_picture,
    level_title,
    wall_look,
)
from bayrun.files.shell import NoteKind, Shell
from bayrun.house import Job
from bayrun.rules.words import count_of

_MARKS = {"good": "■ good", "fair": "◧ fair", "poor": "□ poor"}
_KINDS: tuple[tuple[NoteKind, str], ...] = (
    ("not understood", "Not understood"),
    ("mended", "Mended"),
    ("assumed", "Assumed while reading"),
    ("left out", "Left out"),
    ("read", "Read"),
)
PAGE_STYLE = f"""
body {{ font: 16px/1.45 sans-serif; color: {INK}; background: #fdfcf8; margin: 0 auto; max-width: 60rem;
  padding: 1rem; }}
h1 {{ font-size: 1.5rem; margin: 0 0 .3rem; }} h2 {{ font-size: 1.15rem; margin: 1.6rem 0 .4rem; }}
.faint {{ color: {FAINT}; }} .numbers {{ display: flex; flex-wrap: wrap; gap: 1.4rem; margin: .8rem 0; }}
.numbers b {{ display: block; font-size: 1.7rem; font-variant-numeric: tabular-nums; }}
figure {{ margin: .6rem 0; }} svg {{ width: 100%; height: auto; max-height: 90vh; background: #fff; }}
table {{ border-collapse: collapse; }}
td, th {{ text-align: left; padding: .15rem 1rem .15rem 0; vertical-align: top; }}
td.n {{ text-align: right; font-variant-numeric: tabular-nums; }} li {{ margin: .2rem 0; }}
.poor {{ color: {STOP}; }}
.key svg {{ width: 2.2rem; height: 1.1rem; background: none; vertical-align: middle; }}
.key span {{ margin-right: 1.2rem; white-space: nowrap; }}
@media print {{ body {{ font-size: 11pt; max-width: none; }} figure {{ break-inside: avoid; }} }}
"""


def report_page(shell: Shell, job: Job, said: Sequence[str] = (), date: str = "") -> str:
    """The report of one import as a whole HTML page.

    Args:
        shell: Healed: what was understood of the file.
        job: What was made of it, for its assumptions.
        said: What planning could not do, one sentence each.
        date: Of the job's revision.
    Returns:
        The page, without scripts and without anything fetched; the same text for the same import.
    """
    levels = level_reports(shell)
    parts = [
        f"<h1>What was read: {escape(shell.source)}</h1>",
        (
            f'<p class="faint">{escape(job.name)}{f", {escape(date)}" if date else ""}. '
            "Check these pictures against the paper drawing before anything is drilled.</p>"
        ),
        _numbers(levels, job),
        "<h2>Look at this first</h2>",
        _list(look_first(shell, tuple(said)), ordered=True),
        "<h2>How far it can be trusted</h2>",
        _trust(levels),
    ]
    used: set[str] = set()
    for level in shell.stories:
        picture, lost = level_picture(shell, level)
        parts.append(f"<h2>{escape(level_title(level.name))}</h2>")
        if not picture:
            parts.append("<p>Nothing stands on this level.</p>")
            continue
        parts.append(f"<figure>{picture}</figure>")
        if lost:
            parts += ["<p>Marked in red:</p>", _list(lost, ordered=True)]
        used |= _looks(shell, level.name)
    parts += [_key(used), "<h2>What was found in the file, and what was done with it</h2>"]
    for kind, title in _KINDS:
        notes = [n for n in shell.notes if n.kind == kind]
        if notes:
            lines = [str(n).partition(": ")[2] for n in notes]
            parts += [f"<h3>{title}</h3>", _list([agreed(t[:1].upper() + t[1:]) for t in lines])]
    parts += [
        f"<h2>{count_of(len(job.assumptions), 'assumption')} to settle</h2>",
        '<p class="faint">The job file holds the same list under “assumptions”.</p>',
        _assumptions(job),
        "<h2>Cautions</h2>",
        (
            "<p>AC power, structure and fire blocking are the work of licensed trades. The local code and "
            "the "
            "inspector have the last word. A model is not a framed house: what is not measured is "
            "assumed.</p>"
        ),
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>Import report: {escape(job.name)}</title><style>{PAGE_STYLE}</style></head>\n<body>\n"
        + "\n".join(parts)
        + "\n</body></html>\n"
    )


def _numbers(levels: Sequence[LevelReport], job: Job) -> str:
    rows = (
        (len(levels), "level"),
        (sum(v.walls for v in levels), "wall"),
        (sum(v.rooms for v in levels), "room"),
        (sum(v.doors for v in levels), "door"),
        (sum(v.windows for v in levels), "window"),
        (sum(v.voids for v in levels), "open hole"),
        (len(job.locations), "location proposed"),
    )
    shown = [(n, word if n == 1 else word.replace("location", "locations") if " p" in word else f"{word}s")
             for n, word in rows]  # fmt: skip
    area = sum(v.area_ft2 for v in levels)
    cells = "".join(f"<span><b>{n}</b>{word}</span>" for n, word in shown)
    return f'<div class="numbers">{cells}<span><b>{area:,.0f}</b>sq ft in rooms</span></div>'


def _list(lines: Sequence[str], ordered: bool = False) -> str:
    tag = "ol" if ordered else "ul"
    return f"<{tag}>" + "".join(f"<li>{escape(line)}</li>" for line in lines) + f"</{tag}>"


def _trust(levels: Sequence[LevelReport]) -> str:
    rows = []
    for v in levels:
        counts = (
            f"{count_of(v.walls, 'wall')}, {count_of(v.rooms, 'room')} of {v.area_ft2:,.0f} sq ft, "
            f"{count_of(v.doors, 'door')}, {count_of(v.windows, 'window')}"
        )
        why = "<br>".join(f'<span class="{m}">{_MARKS[m]}</span>: {escape(words)}' for m, words in v.reasons)
        rows.append(
            f'<tr><td>{escape(level_title(v.level))}</td><td class="{v.mark}"><b>{_MARKS[v.mark]}</b></td>'
            f"<td>{counts}</td><td>{why}</td></tr>"
        )
    head = "<tr><th>Level</th><th>Trust</th><th>Counts</th><th>Why</th></tr>"
    return f"<table>{head}{''.join(rows)}</table>"


def _assumptions(job: Job) -> str:
    rows = "".join(
        f"<tr><td>{escape(a.id)}</td><td>{escape(a.says)}</td><td>{escape(a.where)}</td>"
        f"<td>{escape(a.why)}</td></tr>"
        for a in job.assumptions
    )
    return f"<table><tr><th>No.</th><th>Assumed</th><th>Where</th><th>Why</th></tr>{rows}</table>"


def _looks(shell: Shell, level: str) -> set[str]:
    walls = [w for w in shell.walls if w.level == level and w.role != "duplicate"]
    used = {wall_look(w) for w in walls}
    joined = {(j.wall, j.end) for j in shell.joints}
    if any((w.id, end) not in joined for w in walls if w.role == "wall" for end in ("start", "end")):
        used.add("free")
    rooms = [s for s in shell.rooms if s.level == level]
    used |= {
        "room" if s.source_ref or (s.title and not s.title.startswith("Room")) else "found" for s in rooms
    }
    return used | {t.kind for t in shell.traces if t.level == level}


def _key(used: set[str]) -> str:
    """The key of what the pictures use, and nothing else."""
    pen = f'stroke="{INK}" stroke-width="1.2"'
    samples = {
        "known": f'<rect x="1" y="5" width="28" height="6" fill="{INK}"/>',
        "guess": f'<rect x="1" y="5" width="28" height="6" fill="{WOOD}" {pen}/>',
        "solid": f'<rect x="1" y="5" width="28" height="6" fill="{FAINT}" {pen}/>',
        "other": f'<rect x="1" y="5" width="28" height="6" fill="none" stroke="{FAINT}" '
        'stroke-dasharray="4 3"/>',
        "room": f'<rect x="1" y="2" width="28" height="12" fill="#fff" stroke="{RULE}"/>',
        "found": f'<rect x="1" y="2" width="28" height="12" fill="none" stroke="{RULE}"/>'
        f'<path d="M4 14L16 2M12 14L24 2M20 14L28 6" stroke="{RULE}"/>',
        "lost": f'<circle cx="15" cy="8" r="6.5" fill="#fff" stroke="{STOP}" stroke-width="1.5"/>',
        "free": f'<circle cx="15" cy="8" r="4" fill="#fff" stroke="{ACCENT}" stroke-width="1.5"/>',
        "drawn": f'<path d="M1 8H29" stroke="{RULE}"/>',
    }
    shown = "".join(
        f'<span><svg viewBox="0 0 30 16" aria-hidden="true">{samples[name]}</svg> {escape(words)}</span>'
        for name, words in KEY
        if name in used
    )
    return f'<p class="key">{shown}</p>'
