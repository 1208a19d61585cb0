"""What a child process may do: so much memory and time, no files written, no network, no other programs.

The limits of the system are used where it has them (POSIX); the rest is held by Python's audit hooks, which
native code does not pass through. Both together are a fence against damaged files, and a hurdle for hostile
ones.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parent.parent
_KEPT = ("PATH", "SYSTEMROOT", "TMPDIR", "TEMP", "TMP")
_FORBIDDEN = (
    "socket.", "subprocess.", "os.system", "os.exec", "os.fork", "os.posix_spawn", "os.spawn", "os.startfile",
    "os.remove", "os.rename", "os.rmdir", "os.mkdir", "os.truncate", "os.chmod", "os.chown", "os.link",
    "os.symlink", "shutil.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser.", "pty.",
)  # fmt: skip
_CLONE_NEWUSER, _CLONE_NEWNET = 0x10000000, 0x40000000


def child_environment() -> dict[str, str]:
    """The environment of a child: nothing of the parent's but where its programs and drafts lie."""
    environment = {k: v for k, v in os.environ.items() if k in _KEPT}
    environment |= {
        "PYTHONPATH": str(_PACKAGE.parent),
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONHASHSEED": "0",
        "OPENBLAS_NUM_THREADS": "1",
        "OMP_NUM_THREADS": "1",
    }
    return environment


def confine(*, memory_bytes: int, seconds: float) -> None:
    """Put this process behind the fence; called by the child before it sees a foreign byte.

    Args:
        memory_bytes: Address space it may use.
        seconds: Processor time it may use; the parent holds the time on the wall.
    """
    _without_network()
    _within_limits(memory_bytes, seconds)
    sys.addaudithook(_watch)


def _within_limits(memory_bytes: int, seconds: float) -> None:
    try:
        import resource  # only where the system has it
    except ImportError:
        return
    for what, most in (
        (resource.RLIMIT_AS, memory_bytes),
        (resource.RLIMIT_CPU, int(seconds) + 5),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_NOFILE, 128),
    ):
        _, hard = resource.getrlimit(what)
        soft = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(what, (soft, soft))


def _without_network() -> None:
    """A network space of its own with nothing in it, where the system lets a process ask for one."""
    if not sys.platform.startswith("linux"):
        return
    try:
        import ctypes

        unshare = ctypes.CDLL(None, use_errno=True).unshare
        if unshare(_CLONE_NEWNET) != 0:
            unshare(_CLONE_NEWUSER | _CLONE_NEWNET)
    except (OSError, AttributeError):
        return


def _watch(event: str, args: tuple[Any, ...]) -> None:
    if event.startswith(_FORBIDDEN):
        raise PermissionError(f"a reader of files may not do this: {event}")
    if event == "open" and len(args) > 1 and isinstance(args[1], str) and set(args[1]) & set("wax+"):
        raise PermissionError("a reader of files may not write any")
