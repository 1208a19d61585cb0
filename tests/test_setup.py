"""Set-up mends itself: stamps, interruptions, two at once, read-only checkouts; no network used."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import time
from pathlib import Path
from types import ModuleType

import pytest

import set_up
import words
from conftest import ROOT
from set_up import BEGUN, STAMP, Place, SetupError, Steps, checkout_place, ensure, state


class FakeSteps(Steps):
    """A real, bare environment; packages are only counted."""

    done: list[str]
    stop_at = ""

    def make(self) -> None:
        command = [sys.executable, "-m", "venv", "--without-pip", str(self.place.venv)]
        subprocess.run(command, check=True)
        self.note("make")

    def install(self, level: str) -> None:
        self.note(f"install {level}")

    def compile(self) -> None:
        self.note("compile")

    def warm(self) -> None:
        self.note("warm")

    def note(self, step: str) -> None:
        type(self).done.append(step)
        if step == self.stop_at:
            raise KeyboardInterrupt


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    root = tmp_path / "checkout"
    (root / "requirements").mkdir(parents=True)
    (root / "src" / "bayrun").mkdir(parents=True)
    (root / "src" / "bayrun" / "__init__.py").write_text("")
    main = "import os, sys\nprint(sys.argv[1:], os.getcwd())\n"
    (root / "src" / "bayrun" / "__main__.py").write_text(main)
    for level in set_up.LEVELS:
        (root / "requirements" / f"{level}.txt").write_text(f"{level}==1 \\\n    --hash=sha256:00\n")
    return root


@pytest.fixture
def steps() -> type[FakeSteps]:
    class Fresh(FakeSteps):
        done: list[str] = []  # noqa: RUF012

    return Fresh


WHOLE = ["make", "install runtime", "compile", "warm"]


def test_second_run_does_nothing(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    assert place == checkout_place(checkout)
    assert steps.done == WHOLE
    ensure(checkout, steps=steps)
    assert steps.done == WHOLE


def test_module_runs_from_the_sources_with_its_arguments(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    command = [str(place.python), "-P", "-m", "bayrun", "plan", "a job.yaml"]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=checkout.parent)
    assert done.stdout == f"['plan', 'a job.yaml'] {checkout.parent}\n"


def test_sources_in_a_folder_with_other_letters(
    checkout: Path, steps: type[FakeSteps], tmp_path: Path
) -> None:
    moved = checkout.rename(tmp_path / "maison d'été ½")
    place = ensure(moved, steps=steps)
    subprocess.run([str(place.python), "-P", "-m", "bayrun"], check=True, capture_output=True)


@pytest.mark.parametrize("step", WHOLE)
def test_interruption_at_any_step_is_mended(checkout: Path, steps: type[FakeSteps], step: str) -> None:
    steps.stop_at = step
    with pytest.raises(KeyboardInterrupt):
        ensure(checkout, steps=steps)
    place = checkout_place(checkout)
    assert not (place.venv / STAMP).exists()
    assert state(checkout, place, "runtime") == "rebuild"
    (place.venv / "half-written").write_text("")
    steps.stop_at, steps.done = "", []
    ensure(checkout, steps=steps)
    assert steps.done == WHOLE
    assert not (place.venv / "half-written").exists()
    assert state(checkout, place, "runtime") == "ready"


def test_killed_before_the_first_mark_is_new(checkout: Path, steps: type[FakeSteps]) -> None:
    (checkout / ".venv").mkdir()
    ensure(checkout, steps=steps)
    assert steps.done == WHOLE


def test_changed_lock_updates_in_place(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    (place.venv / "kept").write_text("")
    (checkout / "requirements" / "runtime.txt").write_text("other==2 --hash=sha256:00\n")
    assert state(checkout, place, "runtime") == "update"
    steps.done = []
    ensure(checkout, steps=steps)
    assert steps.done == WHOLE[1:]
    assert (place.venv / "kept").exists()


def test_line_ends_of_a_lock_do_not_matter(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    lock = checkout / "requirements" / "runtime.txt"
    lock.write_bytes(lock.read_bytes().replace(b"\n", b"\r\n"))
    assert state(checkout, place, "runtime") == "ready"


def test_interrupted_update_is_made_anew(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    (checkout / "requirements" / "runtime.txt").write_text("other==2 --hash=sha256:00\n")
    steps.stop_at = "install runtime"
    with pytest.raises(KeyboardInterrupt):
        ensure(checkout, steps=steps)
    assert state(checkout, place, "runtime") == "rebuild"


def test_dev_serves_runtime_but_not_the_other_way(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    assert state(checkout, place, "dev") == "update"
    ensure(checkout, "dev", steps=steps)
    assert steps.done == [*WHOLE, "install dev", "compile", "warm"]
    assert state(checkout, place, "runtime") == "ready"
    assert state(checkout, place, "dev") == "ready"


def test_moved_checkout_and_lost_python_are_made_anew(
    checkout: Path, steps: type[FakeSteps], tmp_path: Path
) -> None:
    ensure(checkout, steps=steps)
    moved = checkout.rename(tmp_path / "moved")
    place = checkout_place(moved)
    assert state(moved, place, "runtime") == "rebuild"
    ensure(moved, steps=steps)
    assert state(moved, place, "runtime") == "ready"
    place.python.unlink()
    assert state(moved, place, "runtime") == "rebuild"


def test_python_changed_under_the_environment_is_made_anew(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    stamp = json.loads((place.venv / STAMP).read_text())
    stamp["python"] = stamp["python"] + ".older"
    (place.venv / STAMP).write_text(json.dumps(stamp))
    assert state(checkout, place, "runtime") == "rebuild"


@pytest.mark.parametrize("content", ["", "{", "[]", '{"format": 99}'])
def test_broken_stamp_is_made_anew(checkout: Path, steps: type[FakeSteps], content: str) -> None:
    place = ensure(checkout, steps=steps)
    (place.venv / STAMP).write_text(content)
    assert state(checkout, place, "runtime") == "rebuild"


def test_folder_of_another_maker_is_left_alone(checkout: Path, steps: type[FakeSteps]) -> None:
    (checkout / ".venv").mkdir()
    (checkout / ".venv" / "mine").write_text("")
    with pytest.raises(SetupError, match=r"\.venv was not made by this program: move it away, then run this"):
        ensure(checkout, steps=steps)
    assert (checkout / ".venv" / "mine").exists()
    assert steps.done == []


def test_read_only_checkout_uses_the_cache(
    checkout: Path, steps: type[FakeSteps], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (checkout / ".venv-lock").mkdir()  # cannot be opened for writing, whoever asks
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    place = ensure(checkout, steps=steps)
    assert place.venv.is_relative_to(tmp_path / "cache" / "bayrun")
    assert not (checkout / ".venv").exists()
    assert place.environment() == {"PYTHONPYCACHEPREFIX": str(place.venv.parent / "bytecode")}
    ensure(checkout, steps=steps)
    assert steps.done == WHOLE


def test_no_folder_at_all_is_told(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(set_up, "_cache_folders", lambda: iter([Path("/dev/null/bayrun")]))
    with pytest.raises(SetupError, match="can be written to: set XDG_CACHE_HOME"):
        set_up.cache_place(checkout)


@pytest.mark.parametrize("planted", [None, ModuleType("ensurepip")], ids=["missing", "empty"])
def test_missing_venv_names_the_package(
    checkout: Path, monkeypatch: pytest.MonkeyPatch, planted: ModuleType | None
) -> None:
    monkeypatch.setitem(sys.modules, "ensurepip", planted)  # type: ignore[arg-type]
    with pytest.raises(
        SetupError, match=r"^Python's venv .* missing: install the package python3\.\d+-venv "
    ):
        Steps(checkout, checkout_place(checkout), 0).make()


def test_missing_lock_is_told(checkout: Path) -> None:
    (checkout / "requirements" / "runtime.txt").unlink()
    with pytest.raises(SetupError, match=r"runtime\.txt cannot be read .*: is the checkout complete"):
        set_up.lock_hash(checkout, "runtime")


@pytest.mark.parametrize(
    ("output", "told"),
    [
        ("THESE PACKAGES DO NOT MATCH THE HASHES", "differs from the one that was locked"),
        ("Failed to establish a new connection\nNo matching distribution found", "needs the network, once"),
        ("ERROR: No matching distribution found for numba==0.68.1", "was not found for Python 3."),
        ("OSError: [Errno 28] No space left on device", "The disk is full"),
    ],
)
def test_failed_installation_is_explained(output: str, told: str) -> None:
    assert told in set_up._explain_pip(output)


def test_failed_step_shows_its_last_lines(checkout: Path, capfd: pytest.CaptureFixture[str]) -> None:
    place = checkout_place(checkout)
    place.venv.mkdir()
    with place.lock.open("a") as lock:
        work = Steps(checkout, place, lock.fileno())
        command = [sys.executable, "-c", "print('no such thing'); raise SystemExit(3)"]
        with pytest.raises(SetupError, match=r"Installing failed\. \n.*:\n    no such thing"):
            work.run(command, "Installing")
        assert work.run(command, "Warming", must_succeed=False) is False
    out, err = capfd.readouterr()
    assert out == ""
    assert "Installing ..." in err


def test_settings_of_a_person_do_not_reach_the_installer(
    checkout: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = checkout_place(checkout)
    place.venv.mkdir()
    for name in ("PYTHONPATH", "PIP_TARGET", "PIP_USER"):
        monkeypatch.setenv(name, "planted")
    program = "import os; print({k: v for k, v in os.environ.items() if v == 'planted'})"
    with place.lock.open("a") as lock:
        Steps(checkout, place, lock.fileno()).run([sys.executable, "-c", program], "Looking")
    assert (place.venv / set_up.LOG).read_text() == "{}\n"


_HOLDER = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
import set_up
with set_up.held(Path(sys.argv[2])):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_second_set_up_waits_and_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lock, told = tmp_path / "lock", []
    command = [sys.executable, "-c", _HOLDER, str(ROOT / "tools"), str(lock)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdin is not None
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        waits = []

        def sleep(seconds: float) -> None:
            waits.append(seconds)
            holder.kill()  # even a holder that is killed lets go
            holder.wait()

        monkeypatch.setattr(time, "sleep", sleep)
        with set_up.held(lock, told.append):
            assert len(waits) == 1
    assert told == ["Another set-up of this checkout is running: waiting for it to end (Ctrl-C stops this)."]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no inherited lock")
def test_installer_left_behind_still_holds_the_lock(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    with set_up.held(lock) as descriptor:
        left = subprocess.Popen(
            [sys.executable, "-c", "import sys; sys.stdin.read()"],
            stdin=subprocess.PIPE,
            pass_fds=(descriptor,),
        )
    with lock.open("a+") as handle:
        assert not set_up._try_lock(handle)
        left.communicate()
        assert set_up._try_lock(handle)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no inherited lock")
def test_every_step_gets_the_lock(checkout: Path) -> None:
    place = checkout_place(checkout)
    place.venv.mkdir()
    with set_up.held(place.lock) as descriptor:
        program = "import os, sys; os.fstat(int(sys.argv[1]))"
        Steps(checkout, place, descriptor).run([sys.executable, "-c", program, str(descriptor)], "Looking")


def test_waiting_set_up_finds_the_work_done(
    checkout: Path, steps: type[FakeSteps], monkeypatch: pytest.MonkeyPatch
) -> None:
    states = iter(["new", "new", "ready"])
    monkeypatch.setattr(set_up, "state", lambda *_: next(states))
    ensure(checkout, steps=steps)
    assert steps.done == []


def test_launcher_is_plain_old_python() -> None:
    # An old Python must be able to read the script to say that it is too old: no f-strings, no annotations.
    for name in ("bayrun", "check"):
        text = (ROOT / name).read_text("utf-8")
        assert not re.search(r"""\bf["']|->|:=|\bmatch\b""", text)
        assert os.access(ROOT / name, os.X_OK)


def test_locks_pin_every_package_by_hash() -> None:
    for level in set_up.LEVELS:
        text = (ROOT / "requirements" / f"{level}.txt").read_text("utf-8")
        pins = re.findall(r"^[A-Za-z0-9][\w.-]*==[^\n]*(?:\n +[^\n]*)*", text, re.MULTILINE)
        assert len(pins) > 10
        assert [pin.split()[0] for pin in pins if "--hash=sha256:" not in pin] == []
        assert "://" not in text
    runtime, dev = (set(re.findall(r"^\S+==[^\\]*", (ROOT / "requirements" / f"{x}.txt").read_text(), re.M))
                    for x in set_up.LEVELS)  # fmt: skip
    assert runtime <= dev


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("see https://py" + "pi.org/simple", "a package registry's host"),
        ("https://files.python" + "hosted.org/x", "a package registry's host"),
        ("https://registry.np" + "mjs.org/x", "a package registry's host"),
        ('path = "/wo' + 'rk/main/x"', "a path of one machine"),
        ("/ro" + "ot/.cache", "a path of one machine"),
        ("as in the trans" + "cript", "talk that is not about the project"),
    ],
)
def test_planted_word_is_found(text: str, kind: str) -> None:
    assert [found[:2] for found in words.scan_text("fine\n" + text)] == [(2, kind)]


def test_honest_words_pass() -> None:
    text = (
        "frame/"
        "work/x, ./"
        "work/plan, ~/"
        "root/x, a video doorbell, random seed 7, src/"
        "root/x, https://example.org/"
    )
    assert words.scan_text(text) == []


def test_place_on_windows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(set_up, "WINDOWS", True)
    place = Place(Path("v"), Path("l"))
    assert place.python.parts[-2:] == ("Scripts", "python.exe")


def test_begun_mark_says_who_made_it(checkout: Path, steps: type[FakeSteps]) -> None:
    place = ensure(checkout, steps=steps)
    assert "./bayrun" in (place.venv / BEGUN).read_text()
