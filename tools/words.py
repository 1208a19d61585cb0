"""Scan of the repository for what must not stand in it: registry hosts, paths of one machine, stray talk.

Lock files and listings like to write down where a package came from; a checkout must work wherever packages
come from, and must not tell where it was written. The patterns are split so that this file has none.
"""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

_BANNED = {
    "a package registry's host": (
        r"registry\.[n]pmjs|registry\.[y]arnpkg|[p]ypi\.org|[p]ythonhosted\.org|[d]eb\.debian|[c]rates\.io/"
        r"|--(?:extra-)?[i]ndex-url\s*[=\s]\s*\S*:/|--[f]ind-links\s*[=\s]\s*\S*/"
    ),
    "a path of one machine": r"(?<![\w./$}<~-])/(?:[w]ork|[r]oot|[f]arm|[o]pt/wheels|[h]ome/[a-z]+)/",
    "talk that is not about the project": (
        r"[t]ranscript|[s]eed document|[v]ideo-0\d|[l]anguage model|[c]oding assistant|[s]ub-?agent\b"
    ),
}
_PATTERN = re.compile("|".join(f"(?P<w{n}>{text})" for n, text in enumerate(_BANNED.values())), re.IGNORECASE)
_LARGEST_BYTES = 4_000_000


def scan_text(text: str) -> list[tuple[int, str, str]]:
    """List what must not stand in a text, as (line number, what it is, the words found)."""
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        for match in _PATTERN.finditer(line):
            kind = list(_BANNED)[int((match.lastgroup or "w0")[1:])]
            found.append((number, kind, match[0]))
    return found


def scan(checkout: Path) -> list[str]:
    """Scan every file that is or would be committed; one line per place.

    Raises:
        OSError: git is not installed.
        subprocess.CalledProcessError: The folder is no git checkout.
    """
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    names = subprocess.run(command, cwd=checkout, capture_output=True, check=True).stdout.decode().split("\0")
    lines = []
    for name in sorted(set(filter(None, names))):
        path = checkout / name
        lines += [f"{name}: its name holds {kind}: {words}" for _, kind, words in scan_text("/" + name)]
        if not path.is_file() or path.is_symlink() or path.stat().st_size > _LARGEST_BYTES:
            continue
        data = path.read_bytes()
        if b"\0" not in data[:4096]:
            lines += [
                f"{name}:{n}: {kind}: {words}"
                for n, kind, words in scan_text(data.decode("utf-8", "replace"))
            ]
    return lines
