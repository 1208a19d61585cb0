"""Reading of house files in a child process: foreign bytes meet their parsers behind a fence.

The child gets the name of one file, reads and mends it, and sends back the shell as plain data. Whatever a
parser does with a damaged or hostile file (grow, loop, break down), the parent goes on and says so.
"""

from __future__ import annotations

import base64
import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path
from typing import Any

from bayrun.files.house_file import ReadOptions
from bayrun.files.pdf_in import Underlay
from bayrun.files.shell import ImportRefused, Shell
from bayrun.workers.confine import child_environment, confine

MEMORY_BYTES = 2_500_000_000
"""Address space, of which a geometry kernel maps several hundred megabytes before it begins."""
SECONDS = 90.0
"""A house of 5 MB takes some seconds; this is for the largest one on the slowest machine."""
MOST_ANSWER_BYTES = 80_000_000
Told = Callable[[str], None]


def read_in_worker(
    path: Path,
    options: ReadOptions | None = None,
    *,
    seconds: float = SECONDS,
    memory_bytes: int = MEMORY_BYTES,
    told: Told | None = None,
) -> Shell:
    """Read and mend a house file of any kind in a child process.

    Args:
        path: The file.
        options: What the person said about it.
        seconds: Time on the wall after which the child is ended.
        memory_bytes: Address space of the child.
        told: Called with each step in words.
    Returns:
        The healed shell.
    Raises:
        ImportRefused: The file cannot be read as a house, or went past a limit; the message says which.
    """
    answer = ask(
        {"verb": "house", "path": str(path.absolute()), "options": asdict(options or ReadOptions())},
        path.name,
        seconds=seconds,
        memory_bytes=memory_bytes,
        told=told,
    )
    from bayrun.files.shell_json import from_plain, too_much

    try:
        shell = from_plain(Shell, answer)
    except (ValueError, TypeError, RecursionError):
        raise ImportRefused(_broke(path.name)) from None
    if over := too_much(shell):
        raise ImportRefused(
            f"{path.name}: expected one house, got {over}; export the one dwelling and its own walls"
        )
    return shell


def underlay_in_worker(path: Path, options: ReadOptions | None = None, told: Told | None = None) -> Underlay:
    """A page of a PDF, or a picture, to trace over; made in a child process.

    Raises:
        ImportRefused: It cannot be read, or went past a limit; the message says which.
    """
    question = {
        "verb": "underlay", "path": str(path.absolute()), "options": asdict(options or ReadOptions())
    }  # fmt: skip
    answer = ask(question, path.name, told=told)
    try:
        wide, high = (float(v) for v in answer["size_px"])
        png = base64.b64decode(answer["png"], validate=True)
        per_px, page, words = float(answer["inches_per_px"]), int(answer["page"]), str(answer["told"])
    except (ValueError, TypeError, KeyError):
        raise ImportRefused(_broke(path.name)) from None
    return Underlay(png, (wide, high), page, per_px, words)


def ask(
    question: dict[str, Any],
    name: str,
    *,
    seconds: float = SECONDS,
    memory_bytes: int = MEMORY_BYTES,
    told: Told | None = None,
) -> Any:
    """Put one question to a child of its own and give back its answer as plain data.

    Raises:
        ImportRefused: What the child refused, or which limit it went past.
    """
    question = {**question, "memory_bytes": memory_bytes, "seconds": seconds}
    child = subprocess.Popen(
        [sys.executable, "-P", "-m", "bayrun.workers.house_worker"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=child_environment(),
    )
    assert child.stdin is not None
    assert child.stdout is not None
    late = threading.Event()

    def end() -> None:
        late.set()
        child.kill()

    clock = threading.Timer(seconds, end)
    clock.daemon = True
    clock.start()
    answer: dict[str, Any] = {}
    try:
        try:
            child.stdin.write(json.dumps(question).encode() + b"\n")
            child.stdin.close()
        except OSError:
            pass  # it ended before it could read: told below
        read = 0
        while line := child.stdout.readline(MOST_ANSWER_BYTES):
            read += len(line)
            if read > MOST_ANSWER_BYTES:
                child.kill()
                raise ImportRefused(
                    f"{name}: expected one house, got far more than a house holds; export the house alone"
                )
            try:
                said = json.loads(line)
            except ValueError:
                continue
            if "step" in said and told is not None:
                told(str(said["step"]))
            answer = said
    finally:
        clock.cancel()
        child.kill() if child.poll() is None and late.is_set() else None
        child.stdout.close()
        child.wait()
    if "answer" in answer:
        return answer["answer"]
    if "refused" in answer:
        raise ImportRefused(str(answer["refused"]))
    if late.is_set() or child.returncode == -24:  # SIGXCPU
        raise ImportRefused(
            f"{name}: reading took longer than {seconds:g} seconds and was stopped; export the house alone, "
            "without site, furniture and fittings"
        )
    raise ImportRefused(_broke(name, memory_bytes))


def _broke(name: str, memory_bytes: int = MEMORY_BYTES) -> str:
    return (
        f"{name}: expected a house file that can be read, got one that its reader broke down on: it is "
        f"damaged inside, or needs more than {memory_bytes / 1e9:g} GB of memory; export it again, the house "
        "alone"
    )


def _child() -> None:
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a parser prints is not an answer
    question = json.loads(sys.stdin.buffer.readline())
    verb, path = question["verb"], Path(question["path"])

    def say(answer: dict[str, Any]) -> None:
        answers.write(json.dumps(answer).encode() + b"\n")
        answers.flush()

    confine(memory_bytes=question["memory_bytes"], seconds=question["seconds"])
    try:
        say({"answer": _ANSWERS[verb](path, question["options"], lambda words: say({"step": words}))})
    except ImportRefused as refused:
        say({"refused": str(refused)})
    except MemoryError:
        most = f"{question['memory_bytes'] / 1e9:g} GB"
        words = f"{path.name}: reading it needs more than {most} of memory; export the house alone"
        say({"refused": f"{words}, without site, furniture and fittings"})
    except RecursionError:
        say({"refused": f"{path.name}: expected a house, got data nested without end; export it again"})
    except Exception as error:
        # What nobody foresaw in a foreign file is still the file's: one sentence, and its kind for us.
        words = f"{path.name}: expected a house that holds together, got data that contradict themselves"
        say({"refused": f"{words} ({type(error).__name__}); export it again"})
    answers.close()
    os._exit(0)  # native libraries take their time to leave, and some break down doing it


def _house(path: Path, options: dict[str, Any], told: Told) -> Any:
    from bayrun.files.heal import heal_shell
    from bayrun.files.house_file import ReadOptions, read_house
    from bayrun.files.shell_json import to_plain, too_much

    shell = read_house(path, ReadOptions(**options), told)
    if over := too_much(shell):
        raise ImportRefused(
            f"{path.name}: expected one house, got {over}; export the one dwelling and its own walls"
        )
    told("mending what the drawing leaves open")
    return to_plain(heal_shell(shell))


def _underlay(path: Path, options: dict[str, Any], told: Told) -> Any:
    from bayrun.files.house_file import ReadOptions, kind_of_file
    from bayrun.files.pdf_in import read_underlay

    said = ReadOptions(**options)
    kind = kind_of_file(path)
    if kind not in ("pdf", "picture"):
        raise ImportRefused(f"{path.name}: expected a PDF or a picture to trace over, got {kind}")
    told("drawing the page")
    made = read_underlay(path, kind, said.page, said.scale)
    return {**asdict(made), "png": base64.b64encode(made.png).decode("ascii")}


_ANSWERS: dict[str, Callable[[Path, dict[str, Any], Told], Any]] = {"house": _house, "underlay": _underlay}


if __name__ == "__main__":
    _child()
