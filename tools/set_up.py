"""Set-up of the checkout: one virtual environment from the hashed lock, made once and mended by itself.

The standard library alone, for it runs before anything is installed. All talk goes to stderr, so that stdout
stays the program's own.

How it holds together:

* The environment is ``.venv`` in the checkout, or a folder of the user's cache where that is read-only.
* ``bayrun-begun`` is written first and marks the folder as ours; ``bayrun-stamp.json`` is written last and
  names the lock files it was made from. A stamp that matches means: nothing to do, no network. A begun folder
  without a stamp was interrupted: it is removed and made anew (downloads come from pip's own cache).
* One set-up at a time: the lock file is held by this process and by the installer it starts, so that a set-up
  killed in the middle is not overtaken while its installer still writes.
* The package is put on the path by a ``.pth`` file: an editable install would build with a backend that no
  hash covers.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO

WINDOWS = os.name == "nt"
LEVELS = ("runtime", "dev")
BEGUN, STAMP, LOG = "bayrun-begun", "bayrun-stamp.json", "bayrun-setup.log"
STAMP_FORMAT = 1

# What a person's own settings of Python and pip must not change about a locked environment.
_NOT_PASSED_ON = (
    *("PYTHONHOME", "PYTHONPATH", "PYTHONSTARTUP", "PYTHONPYCACHEPREFIX", "__PYVENV_LAUNCHER__"),
    *(
        "PIP_TARGET",
        "PIP_PREFIX",
        "PIP_ROOT",
        "PIP_CONSTRAINT",
        "PIP_REQUIREMENT",
        "PIP_NO_BINARY",
        "PIP_ONLY_BINARY",
    ),
)

_WARM = """
try:
    from bayrun.routing import warm
except ImportError:
    raise SystemExit(0)
warm()
"""


class SetupError(Exception):
    """Set-up cannot go on; the text says what to do in one sentence or two."""


@dataclass(frozen=True)
class Place:
    """Where the environment of one checkout lives.

    Args:
        venv: Folder of the virtual environment.
        lock: File held while a set-up runs.
        bytecode: Folder for compiled modules when the checkout cannot hold them, else None.
    """

    venv: Path
    lock: Path
    bytecode: Path | None = None

    @property
    def python(self) -> Path:
        """The environment's interpreter."""
        return self.venv / "Scripts" / "python.exe" if WINDOWS else self.venv / "bin" / "python"

    def environment(self) -> dict[str, str]:
        """What a process started in this environment needs beside the user's own variables."""
        return {"PYTHONPYCACHEPREFIX": str(self.bytecode)} if self.bytecode else {}


def say(text: str) -> None:
    """Talk to the person: to stderr, for stdout belongs to the program."""
    print(text, file=sys.stderr, flush=True)


# --- Where ------------------------------------------------------------------------------------------------


def checkout_place(checkout: Path) -> Place:
    """The usual place: beside the sources."""
    return Place(checkout / ".venv", checkout / ".venv-lock")


def cache_place(checkout: Path) -> Place:
    """The place for a read-only checkout: a folder of the user's cache, one per checkout.

    Raises:
        SetupError: There is no folder at all that this user may write to.
    """
    name = hashlib.sha256(os.fsencode(checkout)).hexdigest()[:16]
    for base in _cache_folders():
        folder = base / name
        with contextlib.suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
            if not WINDOWS and base.parent == Path(tempfile.gettempdir()):
                base.chmod(0o700)  # fails when another user made it, and then it is not used
            with tempfile.TemporaryFile(dir=folder):
                return Place(folder / "venv", folder / "lock", folder / "bytecode")
    raise SetupError(
        f"Neither {checkout} nor a cache folder can be written to: set XDG_CACHE_HOME to a folder of yours."
    )


def _cache_folders() -> Iterator[Path]:
    for variable in ("XDG_CACHE_HOME", "LOCALAPPDATA"):
        if os.path.isabs(os.environ.get(variable, "")):
            yield Path(os.environ[variable]) / "bayrun"
    with contextlib.suppress(RuntimeError):
        yield Path.home() / ".cache" / "bayrun"
    yield Path(tempfile.gettempdir()) / f"bayrun-{os.getuid() if hasattr(os, 'getuid') else 'cache'}"


def _writable(place: Place) -> bool:
    try:
        with place.lock.open("a"):
            return True
    except OSError:
        return False


# --- One at a time ----------------------------------------------------------------------------------------


def _try_lock(handle: IO[str]) -> bool:
    try:
        if WINDOWS:
            import msvcrt

            handle.seek(0)
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined, unused-ignore]
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


@contextlib.contextmanager
def held(lock: Path, tell: Callable[[str], None] = say) -> Iterator[int]:
    """Hold the lock file, waiting for another set-up of the same checkout to end.

    Yields:
        The descriptor that holds the lock; a child process that gets it holds the lock too.
    """
    with lock.open("a+", encoding="utf-8") as handle:
        if not _try_lock(handle):
            tell("Another set-up of this checkout is running: waiting for it to end (Ctrl-C stops this).")
            while not _try_lock(handle):
                time.sleep(0.2)
        yield handle.fileno()


# --- What is there ----------------------------------------------------------------------------------------


def lock_hash(checkout: Path, level: str) -> str:
    """Hash of the lock file of one level (``runtime`` or ``dev``)."""
    path = checkout / "requirements" / f"{level}.txt"
    try:
        return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()
    except OSError as error:
        raise SetupError(f"{path} cannot be read ({error.strerror}): is the checkout complete?") from None


def state(checkout: Path, place: Place, level: str) -> str:
    """Tell how far the environment is: ``ready``, ``new``, ``update``, ``rebuild`` or ``foreign``.

    ``update`` is a whole environment made from other locks; ``rebuild`` one that was interrupted or moved, or
    whose Python is gone; ``foreign`` is a folder that this program did not make and does not touch.
    """
    if not place.venv.is_dir():
        return "foreign" if place.venv.exists() else "new"
    if not any(place.venv.iterdir()):
        return "new"
    try:
        stamp = json.loads((place.venv / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        stamp = None
    if not isinstance(stamp, dict):
        return "rebuild" if (place.venv / BEGUN).exists() else "foreign"
    whole = stamp.get("format") == STAMP_FORMAT and stamp.get("checkout") == str(checkout)
    if not whole or not place.python.exists() or stamp.get("python") != str(place.python.resolve()):
        return "rebuild"
    locks = stamp.get("locks", {})
    wanted = LEVELS[: LEVELS.index(level) + 1]
    return "ready" if all(locks.get(name) == lock_hash(checkout, name) for name in wanted) else "update"


def _write_stamp(checkout: Path, place: Place, level: str) -> None:
    locks = {name: lock_hash(checkout, name) for name in LEVELS[: LEVELS.index(level) + 1]}
    stamp = {
        "format": STAMP_FORMAT,
        "checkout": str(checkout),
        "python": str(place.python.resolve()),
        "locks": locks,
    }
    beside = place.venv / (STAMP + ".new")
    beside.write_text(json.dumps(stamp, indent=1) + "\n", encoding="utf-8")
    beside.replace(place.venv / STAMP)


# --- The steps --------------------------------------------------------------------------------------------


class Steps:
    """The steps that change the environment; tests put cheaper ones in their place."""

    def __init__(self, checkout: Path, place: Place, lock_descriptor: int) -> None:
        self.checkout, self.place, self.lock_descriptor = checkout, place, lock_descriptor

    def make(self) -> None:
        """Make the bare environment."""
        try:
            import ensurepip
            import venv  # noqa: F401

            ensurepip.version()  # an empty folder of that name imports as well
        except (ImportError, AttributeError):
            raise SetupError(_missing_venv()) from None
        command = [sys.executable, "-m", "venv", str(self.place.venv)]
        self.run(command, "Making the environment", explain=_explain_venv)

    def install(self, level: str) -> None:
        """Install exactly what the lock file names: every file by its hash, nothing built from source."""
        lock = self.checkout / "requirements" / f"{level}.txt"
        total = sum(
            1 for line in lock.read_text(encoding="utf-8").splitlines() if re.match(r"[A-Za-z0-9]", line)
        )
        pip = [str(self.place.python), "-m", "pip", "install", "--require-hashes", "--only-binary", ":all:"]
        quiet = ["--no-input", "--disable-pip-version-check", "--progress-bar", "off", "-r", str(lock)]
        self.run(pip + quiet, "Installing packages", total=total, explain=_explain_pip)

    def link(self) -> None:
        """Put the sources on the environment's path."""
        folders = [self.place.venv / "Lib" / "site-packages"] if WINDOWS else []
        folders += self.place.venv.glob("lib/python3.*/site-packages")
        source = str(self.checkout / "src")
        # Python reads this file in the locale's encoding, so a path with other letters is an escaped import.
        line = source if source.isascii() else f"import sys; sys.path.append({source!a})"
        for folder in folders:
            if folder.is_dir():
                (folder / "bayrun.pth").write_text(line + "\n", encoding="ascii")

    def compile(self) -> None:
        """Compile the sources to bytecode; a file that does not compile is told when it is imported."""
        command = [str(self.place.python), "-m", "compileall", "-q", str(self.checkout / "src" / "bayrun")]
        self.run(command, "Compiling", must_succeed=False)

    def warm(self) -> None:
        """Let the router compile its inner loops now rather than in the first plan, where it has any."""
        router = self.checkout / "src" / "bayrun" / "routing" / "__init__.py"
        if not router.is_file() or "warm" not in router.read_text(encoding="utf-8"):
            return
        label = "Preparing the cable router (up to a minute, this once)"
        if not self.run([str(self.place.python), "-P", "-c", _WARM], label, must_succeed=False):
            say(f"  The router will be prepared at the first plan instead; why: {self.place.venv / LOG}")

    def run(
        self,
        command: Sequence[str],
        label: str,
        *,
        total: int = 0,
        must_succeed: bool = True,
        explain: Callable[[str], str] = lambda _text: "",
    ) -> bool:
        """Run one child with its output in the log, telling how far it is.

        Args:
            command: What to run.
            label: What to call it.
            total: Number of packages, where the output tells one line per package.
            must_succeed: Raise when it fails.
            explain: Turns the output of a failure into a sentence.
        Returns: Whether it succeeded.
        Raises:
            SetupError: It failed and had to succeed.
        """
        environment = {key: value for key, value in os.environ.items() if key not in _NOT_PASSED_ON}
        environment.update(self.place.environment(), PIP_USER="0", PYTHONNOUSERSITE="1")
        log_path = self.place.venv / LOG
        with log_path.open("ab") as log:
            start_byte = log.tell()
            child = subprocess.Popen(
                command,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
                env=environment,
                cwd=self.place.venv,
                pass_fds=() if WINDOWS else (self.lock_descriptor,),
            )
        try:
            _watch(child, label, lambda: _text_from(log_path, start_byte), total)
        except BaseException:
            child.terminate()
            child.wait()
            raise
        if child.returncode and must_succeed:
            text = _text_from(log_path, start_byte)
            tail = "\n".join(f"    {line}" for line in text.splitlines()[-12:])
            raise SetupError(f"{label} failed. {explain(text)}\n  The last lines of its output:\n{tail}")
        return child.returncode == 0


def _text_from(path: Path, start_byte: int) -> str:
    with path.open("rb") as log:
        log.seek(start_byte)
        return log.read().decode("utf-8", "replace")


def _watch(child: subprocess.Popen[bytes], label: str, text: Callable[[], str], total: int) -> None:
    """Wait for a child, showing one moving line on a terminal and a line every ten seconds elsewhere."""
    terminal, started, told = sys.stderr.isatty(), time.monotonic(), 0.0
    if not terminal:
        say(f"{label} ...")
    while True:
        with contextlib.suppress(subprocess.TimeoutExpired):
            child.wait(timeout=0.25)
        elapsed = time.monotonic() - started
        part = ""
        if total:
            done = len(re.findall(r"^(?:Collecting|Ignoring|Requirement already) ", text(), re.MULTILINE))
            part = f", {min(done, total)} of {total} fetched" if done < total else ", unpacking"
        if terminal:
            print(f"\r\x1b[K{label}{part} ({elapsed:.0f} s)", end="", file=sys.stderr, flush=True)
        elif elapsed - told >= 10:
            told = elapsed
            say(f"  {label}{part} ({elapsed:.0f} s)")
        if child.returncode is not None:
            if terminal:
                print(f"\r\x1b[K{label}: {elapsed:.0f} s", file=sys.stderr, flush=True)
            return


def _missing_venv() -> str:
    version = f"{sys.version_info[0]}.{sys.version_info[1]}"
    return (
        f"Python's venv module is missing: install the package python{version}-venv "
        f"(on Debian or Ubuntu: sudo apt install python{version}-venv), then run this again."
    )


def _explain_venv(text: str) -> str:
    return _missing_venv() if "ensurepip" in text else ""


def _explain_pip(text: str) -> str:
    """Say what a failed installation means, in one sentence."""
    if "DO NOT MATCH THE HASHES" in text:
        return "A downloaded file differs from the one that was locked and was refused."
    if re.search(r"connection|resolution|timed out|unreachable|proxy|SSL", text, re.IGNORECASE):
        return "The package index was not reached: the first set-up needs the network, once."
    if "No matching distribution" in text:
        version = f"{sys.version_info[0]}.{sys.version_info[1]}"
        return (
            f"A package was not found for Python {version} on this machine: is the package index reached, "
            "and is this a Python 3.11, 3.12 or 3.13 of 64 bits?"
        )
    if "No space left" in text:
        return "The disk is full: about 700 MB is needed."
    return ""


# --- The whole --------------------------------------------------------------------------------------------


def ensure(checkout: Path, level: str = "runtime", steps: type[Steps] = Steps) -> Place:
    """Make the environment of a checkout if it is not there yet, or mend it.

    Args:
        checkout: Root of the sources.
        level: ``runtime`` to use Bayrun, ``dev`` to check it as well.
        steps: How the steps are carried out.
    Returns: The place of an environment that is whole.
    Raises:
        SetupError: It cannot be made; the text says what to do.
    """
    beside = checkout_place(checkout)
    if state(checkout, beside, level) == "ready":
        return beside
    place = beside if _writable(beside) else cache_place(checkout)
    if state(checkout, place, level) == "ready":
        return place
    with held(place.lock) as descriptor:
        found = state(checkout, place, level)  # again: another set-up may have ended while this one waited
        if found == "ready":
            return place
        if found == "foreign":
            raise SetupError(f"{place.venv} was not made by this program: move it away, then run this again.")
        started = time.monotonic()
        if found == "rebuild":
            say("An earlier set-up was interrupted or has moved: making it anew.")
            _remove(place.venv)
        elif found == "new":
            say(f"Setting up Bayrun in {place.venv} (once; about 600 MB with its packages).")
        else:
            say("The list of packages has changed: updating.")
            (place.venv / STAMP).unlink()
        work = steps(checkout, place, descriptor)
        if found != "update":
            place.venv.mkdir(parents=True, exist_ok=True)
            (place.venv / BEGUN).write_text("Made by ./bayrun; safe to delete.\n", encoding="utf-8")
            work.make()
        work.install(level)
        work.link()
        work.compile()
        work.warm()
        _write_stamp(checkout, place, level)
        say(f"Set up in {time.monotonic() - started:.0f} s.")
    return place


def _remove(folder: Path) -> None:
    try:
        shutil.rmtree(folder)
    except OSError as error:
        raise SetupError(
            f"{folder} cannot be removed ({error.strerror}): close what runs in it, or delete it by hand."
        ) from None


def run_module(place: Place, arguments: Sequence[str]) -> int:
    """Become ``python -m bayrun`` in the environment; on Windows run it and return its exit code."""
    # -P: a file named like a library in the current folder must not stand in for it.
    command = [str(place.python), "-P", "-m", "bayrun", *arguments]
    environment = {**os.environ, **place.environment()}
    if not WINDOWS:
        os.execve(command[0], command, environment)
    return subprocess.call(command, env=environment)


def main(checkout: Path, arguments: Sequence[str]) -> int:
    """Set up if need be, then run Bayrun with the arguments."""
    try:
        return run_module(ensure(checkout), arguments)
    except SetupError as error:
        say(f"Set-up: {error}")
    except KeyboardInterrupt:
        say("\nStopped. Run it again to go on: what was begun is mended by itself.")
        return 130
    return 2
