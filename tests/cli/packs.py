"""The command line as a person meets it, and packs made once for all tests here and in tests/jobs."""

from __future__ import annotations

import atexit
import os
import shutil
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pypdfium2
from click.testing import CliRunner

from bayrun.cli.main import main
from conftest import ROOT, shared_file

EXAMPLES = ROOT / "examples"
MODELS = {"duplex": "houses/duplex/Duplex_A_20110907.ifc", "flat": "houses/flat/04_Flat.ifc"}
HOUSES = ("a", "b", "c")


class Done(NamedTuple):
    """How a command ended, and what it said where."""

    code: int
    out: str
    err: str


def bayrun(*words: str | Path) -> Done:
    """Run the command line in this process."""
    done = CliRunner().invoke(main, [str(word) for word in words])
    return Done(done.exit_code, done.stdout, done.stderr)


def in_new_process(*words: str | Path, cwd: Path | None = None, code: str = "", **settings: str) -> Done:
    """Run the command line, or a few lines of Python, in a new process.

    Args:
        cwd: Working folder.
        code: Python lines to run first; ``sys.argv`` holds the words.
        settings: Environment.
    """
    program = ["-c", f"{code}\nfrom bayrun.cli.main import main\nmain()"] if code else ["-m", "bayrun"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONDONTWRITEBYTECODE": "1", **settings}
    done = subprocess.run(
        [sys.executable, *program, *(str(word) for word in words)],
        cwd=cwd or ROOT,
        env=environment,
        capture_output=True,
        timeout=120,
        check=False,
    )
    return Done(done.returncode, done.stdout.decode(), done.stderr.decode())


class Pack(NamedTuple):
    """A pack in its folder, and how it was made."""

    folder: Path
    job: Path
    done: Done

    def bytes_of(self, name: str) -> bytes:
        """One file of the pack."""
        return (self.folder / name).read_bytes()


@cache
def scratch() -> Path:
    """A folder of this test session, removed at its end."""
    folder = Path(tempfile.mkdtemp(prefix="bayrun-tests-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


@cache
def pack_of(house: str) -> Pack:
    """The pack of a demo house (a, b, c) or of a model by others (duplex, flat), as ``bayrun`` writes it."""
    folder = scratch() / house / "pack"
    folder.parent.mkdir(exist_ok=True)
    job = EXAMPLES / f"house-{house}.yaml" if house in HOUSES else imported(house).job
    done = bayrun("plan", job, "--out", folder)
    assert done.code in (0, 1), done.err
    return Pack(folder, job, done)


class Imported(NamedTuple):
    """A model by others as a job file."""

    model: Path
    job: Path
    done: Done


@cache
def imported(name: str) -> Imported:
    """A model by others, imported once; skips where it is not there."""
    model = shared_file(MODELS[name])
    job = scratch() / f"{name}.yaml"
    return Imported(model, job, bayrun("import", model, "--out", job, "--date", "2026-11-25"))


@cache
def pages_of(pdf: Path) -> tuple[str, ...]:
    """The searchable text of each page, white space as single spaces."""
    document = pypdfium2.PdfDocument(pdf)
    return tuple(
        " ".join(page.get_textpage().get_text_bounded().replace("\u00a0", " ").split()) for page in document
    )


def tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, hidden ones too."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


@cache
def starter() -> str:
    """The text of the starter job."""
    job = scratch() / "starter.yaml"
    assert bayrun("new", job, "--date", "2026-11-25").code == 0
    return job.read_text(encoding="utf-8")


def small_job(folder: Path, *changes: tuple[str, str], name: str = "job.yaml") -> Path:
    """A starter job with changes of its text, each of which must apply."""
    text = starter()
    for old, new in changes:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


TOO_DEEP = ('    depth: 3-5/8"\n', '    depth: 7"\n')
"""A change of the starter that must stop the job: the enclosure is deeper than its wall."""


def keys_of(told: dict[str, Any]) -> set[str]:
    """The keys of a JSON object."""
    return set(told)
