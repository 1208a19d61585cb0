"""Typesetting in a child process: typst source, drawings and vendored fonts in, PDF bytes out.

The child may use so much memory and time and no more, reads no fonts but ours, and a warning is a failure: a
missing letter or an image that could not be read must never reach a sheet. What it makes is PDF/UA-1 (tags,
reading order, words for pictures), checked while it is written.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

MEMORY_BYTES = 2_000_000_000
SECONDS = 120.0
"""A pack takes about a second; this is for the worst house on the slowest machine."""

_PACKAGE = Path(__file__).resolve().parent.parent
_DRAWINGS = _PACKAGE / "drawings"


class TypesettingError(RuntimeError):
    """The pages could not be made; the message says why, in words."""


def typeset(
    template: str,
    files: Mapping[str, bytes],
    *,
    seconds: float = SECONDS,
    memory_bytes: int = MEMORY_BYTES,
) -> bytes:
    """Make a PDF from one of our templates.

    Args:
        template: Name of a file in drawings/templates, e.g. ``pack.typ``.
        files: What the template reads, by name: ``data.json``, ``plan-1.svg``.
        seconds, memory_bytes: Limits of the child.
    Returns:
        The PDF, the same bytes for the same input.
    Raises:
        TypesettingError: It failed, gave a warning, or went past a limit.
    """
    source = {template: (_DRAWINGS / "templates" / template).read_bytes(), **files}
    head = {
        "main": template,
        "files": [[name, len(data)] for name, data in source.items()],
        "fonts": str(_DRAWINGS / "fonts"),
        "memory": memory_bytes,
    }
    message = json.dumps(head).encode() + b"\n" + b"".join(source.values())
    environment = {
        k: v for k, v in os.environ.items() if k in ("PATH", "SYSTEMROOT", "TMPDIR", "TEMP", "TMP")
    }
    environment["PYTHONPATH"] = str(_PACKAGE.parent)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "bayrun.workers.typst_worker"],
            input=message,
            capture_output=True,
            timeout=seconds,
            env=environment,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise TypesettingError(f"typesetting took longer than {seconds:g} seconds and was stopped") from None
    line, _, body = done.stdout.partition(b"\n")
    try:
        answer = json.loads(line)
    except ValueError:
        limit = f"{memory_bytes / 1e9:g} GB"
        raise TypesettingError(
            f"typesetting ended early (exit {done.returncode}): it may have needed more than {limit}"
        ) from None
    if "error" in answer:
        raise TypesettingError(str(answer["error"]))
    return body


def _limit_memory(limit: int) -> None:
    try:
        import resource  # only where the system has it
    except ImportError:
        return
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    if hard != resource.RLIM_INFINITY:
        limit = min(limit, hard)
    resource.setrlimit(resource.RLIMIT_AS, (limit, hard))


def _child() -> None:
    head = json.loads(sys.stdin.buffer.readline())
    files = {name: sys.stdin.buffer.read(size) for name, size in head["files"]}
    _limit_memory(head["memory"])
    answer, body = _compile(head["main"], files, head["fonts"])
    sys.stdout.buffer.write(json.dumps(answer).encode() + b"\n" + body)


def _compile(main: str, files: dict[str, bytes], fonts: str) -> tuple[dict[str, str], bytes]:
    import typst  # heavy, and only the child needs it

    compile_with_warnings: Any = typst.compile_with_warnings  # its own stubs know no mapping of files

    # The first file of the mapping is the main one for some versions, ``main.typ`` for others.
    given = {"main.typ": files[main], **{name: data for name, data in files.items() if name != main}}
    try:
        made, warnings = compile_with_warnings(
            given, format="pdf", pdf_standards="ua-1", font_paths=[fonts], ignore_system_fonts=True
        )
    except MemoryError:
        return {"error": "typesetting needed more memory than it may have"}, b""
    except typst.TypstError as error:
        return {"error": f"typesetting failed: {error.message or error}"}, b""
    if warnings:
        told = "; ".join(sorted({w.message for w in warnings}))
        return {"error": f"typesetting gave warnings: {told}"}, b""
    return {}, made


if __name__ == "__main__":
    _child()
