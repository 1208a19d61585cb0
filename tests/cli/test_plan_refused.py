"""``bayrun plan`` refused: each message's text, exit code 2, no traceback, nothing written or lost."""

from __future__ import annotations

import errno
import os
import re
import signal
from pathlib import Path

import pytest

from bayrun.cli import out_folder
from bayrun.workers import typst_worker
from bayrun.workers.typst_worker import TypesettingError
from cli.packs import Done, bayrun, in_new_process, small_job, tree

PLACE = re.compile(r"^(?P<file>.+):(?P<line>\d+):(?P<column>\d+): ")


def refused(done: Done) -> list[str]:
    """The lines of a refusal, after what every refusal must be."""
    assert done.code == 2, done
    assert done.out == ""
    assert "Traceback" not in done.err
    assert "{" not in done.err  # no template left unfilled
    return done.err.splitlines()


@pytest.mark.parametrize("verb", ["plan", "check"])
@pytest.mark.parametrize(
    ("data", "at", "says"),
    [
        (b"", "1:1", "expected a job, got an empty file; “bayrun new” writes a starter file"),
        (b"\xff\xfea", "1:1", "expected UTF-8 text, got byte 0xff; save the file as plain text in UTF-8"),
        (b"schema: 1\nid: \xe9\n", "2:5", "expected UTF-8 text, got byte 0xe9"),
        (b"- a\n- b\n", "1:1", "expected keys of a job, “schema: 1” first, got a list"),
        (b"schema: 7\n", "1:9", "expected"),
        (b"schema: 1\nfoo: bar\n", "2:1", "expected a key of a job, got the unknown key “foo”"),
        (b"schema: 1\nid: [1,\n", "2:8", "expected"),
        (b"\x00\x01\x02", "1:1", "expected"),
    ],
)
def test_a_file_that_is_no_job(verb: str, data: bytes, at: str, says: str, tmp_path: Path) -> None:
    job = tmp_path / "j.yaml"
    job.write_bytes(data)
    lines = refused(bayrun(verb, job, "--json"))
    places = [PLACE.match(line) for line in lines[:-1]]
    assert all(places)
    assert any(line.startswith(f"{job}:{at}: ") and says in line for line in lines), lines
    count = len(lines) - 1
    word = "defect" if count == 1 else "defects"
    assert lines[-1] == f"bayrun {verb}: {job} has {count} {word}; nothing was written."
    assert sorted(p.name for p in tmp_path.iterdir()) == ["j.yaml"]


def test_all_defects_at_once_with_line_and_column(tmp_path: Path) -> None:
    wrong = {
        "14-1/4 furlongs": "a length such as",
        "Livng": "“Living”",
        "wal ": "“wall”",
        "baering": "“bearing”",
    }
    job = small_job(
        tmp_path,
        ('width: 14-1/4"', "width: 14-1/4 furlongs"),
        ("room: Living\n    level: 1\n    mount: wall", "room: Livng\n    level: 1\n    mount: wall"),
        ("room: Office\n    level: 1\n    mount: wall", "room: Office\n    level: 1\n    mount: wal # no"),
        ("bearing: true", "baering: true"),
    )
    text = job.read_text().splitlines()
    lines = refused(bayrun("plan", job))
    assert lines[-1] == f"bayrun plan: {job} has 4 defects; nothing was written."
    assert len(lines) == 5
    for word, expected in wrong.items():
        row = next(i for i, line in enumerate(text, 1) if word in line)
        column = text[row - 1].index(word) + 1
        (told,) = [line for line in lines if line.startswith(f"{job}:{row}:{column}: ")]
        assert "expected " in told
        assert f"got the unknown key “{word}”" in told or f"got “{word.strip()}”" in told
        assert expected in told  # what it should be, or the near miss


@pytest.mark.parametrize("verb", ["plan", "check"])
def test_a_job_that_is_not_there_or_a_folder(verb: str, tmp_path: Path) -> None:
    gone, folder = tmp_path / "no such.yaml", tmp_path
    (told,) = refused(bayrun(verb, gone))
    assert told == f"bayrun {verb}: {gone} is not there. “bayrun new '{gone}'” writes a starter job file."
    (told,) = refused(bayrun(verb, folder))
    assert told == f"bayrun {verb}: {folder} is a folder: expected a job file (YAML)."
    (told,) = refused(bayrun(verb, "."))
    assert told == f"bayrun {verb}: . is a folder: expected a job file (YAML)."
    below_file = small_job(tmp_path) / "x.yaml"
    (told,) = refused(bayrun(verb, below_file))
    assert told == f"bayrun {verb}: {below_file} cannot be read: not a directory"


def test_the_out_folder_must_be_free(tmp_path: Path) -> None:
    job, out = small_job(tmp_path), tmp_path / "out"
    out.write_text("mine")
    (told,) = refused(bayrun("plan", job, "--out", out))
    assert told == f"bayrun plan: {out} is a file: expected a folder for the pack."
    assert out.read_text() == "mine"
    out.unlink()
    out.mkdir()
    (out / "thesis.txt").write_text("mine")
    (told,) = refused(bayrun("plan", job, "--out", out))
    assert told == (
        f"bayrun plan: {out} holds other things and was left as it is: name an empty or new folder."
    )
    assert tree(out) == {"thesis.txt": b"mine"}
    far = tmp_path / "no" / "such"
    (told,) = refused(bayrun("plan", job, "--out", far))
    assert told == f"bayrun plan: the folder {tmp_path / 'no'} is not there."


def test_what_a_person_put_into_a_pack_is_never_removed(tmp_path: Path) -> None:
    job, out = small_job(tmp_path), tmp_path / "out"
    assert bayrun("plan", job, "--out", out).code == 0
    (out / "drawings" / "photo.jpg").write_bytes(b"jpg")
    (out / "lists" / "old").mkdir()
    (out / "notes.txt").write_text("mine")
    before = tree(out)
    (told,) = refused(bayrun("plan", job, "--out", out))
    assert told == (
        f"bayrun plan: {out} holds a pack and other things (drawings/photo.jpg, lists/old, notes.txt), "
        "which would be lost: move them away, or name another folder. Nothing was written."
    )
    assert tree(out) == before


def test_a_changed_job_file_in_a_pack_is_never_removed(tmp_path: Path) -> None:
    job, out = small_job(tmp_path), tmp_path / "out"
    assert bayrun("plan", job, "--out", out).code == 0
    inside = out / "job.yaml"
    inside.write_text(inside.read_text() + "# an evening's work\n")
    later = (out / "plan.json").stat().st_mtime + 60
    os.utime(inside, (later, later))
    before = tree(out)
    (told,) = refused(bayrun("plan", job, "--out", out))
    assert told == (
        f"bayrun plan: {inside} was changed after its pack was made and would be lost: plan that file "
        f"(bayrun plan {inside}), or name another folder. Nothing was written."
    )
    assert tree(out) == before
    assert bayrun("plan", inside).code == 0
    assert inside.read_text().endswith("# an evening's work\n")


def older_pack(folder: Path) -> tuple[Path, Path, dict[str, bytes]]:
    """A job that changed since its pack was made, the pack, and the pack's bytes."""
    job, out = small_job(folder), folder / "out"
    assert bayrun("plan", job, "--out", out).code == 0
    job.write_text(job.read_text().replace('height: 62"', 'height: 60"'))
    return job, out, tree(out)


@pytest.mark.parametrize("older", [True, False])
def test_typesetting_that_fails_leaves_everything_as_it_was(
    older: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, out, before = older_pack(tmp_path) if older else (small_job(tmp_path), tmp_path / "out", {})

    def fail(template: str, files: object) -> bytes:
        raise TypesettingError("typesetting gave warnings: a letter is missing")

    monkeypatch.setattr(typst_worker, "typeset", fail)
    lines = refused(bayrun("plan", job, "--out", out))
    assert lines[-1] == (
        "bayrun plan: the sheets could not be set: typesetting gave warnings: a letter is missing. "
        "Nothing was written."
    )
    assert out.exists() is older
    assert (tree(out) if older else {}) == before
    assert sorted(p.name for p in tmp_path.iterdir()) == (["job.yaml", "out"] if older else ["job.yaml"])


@pytest.mark.parametrize("file", [0, 1, 9, 15])
@pytest.mark.parametrize("older", [True, False])
def test_a_full_disk_leaves_everything_as_it_was(
    file: int, older: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    if older:
        out_folder.install(out, PACK, "plan")
    before = tree(out) if older else {}
    write, left = Path.write_bytes, [file]

    def fill(path: Path, data: bytes) -> int:
        left[0] -= 1
        if left[0] < 0:
            write(path, data[: len(data) // 2])
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return write(path, data)

    monkeypatch.setattr(Path, "write_bytes", fill)
    new = {f"lists/{i}.csv": b"new" for i in range(16)} | dict.fromkeys(PACK, b"new")
    with pytest.raises(SystemExit, match="2"):
        out_folder.install(out, new, "plan")
    assert (tree(out) if older else {}) == before
    assert sorted(p.name for p in tmp_path.iterdir()) == (["out"] if older else [])


def test_a_full_disk_is_told_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job, out, before = older_pack(tmp_path)

    def full(path: Path, data: bytes) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_bytes", full)
    lines = refused(bayrun("plan", job, "--out", out))
    assert lines[-1] == (f"bayrun plan: {out} cannot be written: no space left on device. It is as it was.")
    assert tree(out) == before


PACK = {"plan.json": b"old", "pack.pdf": b"old", "job.yaml": b"old", "lists/a.csv": b"old"}
NEW = {"plan.json": b"new", "pack.pdf": b"new", "job.yaml": b"new", "drawings/b.svg": b"new"}
KILL = f"""
NEW = {NEW!r}
import os, signal, sys
from pathlib import Path
from bayrun.cli import out_folder
count = [int(sys.argv[2])]
def wrap(what):
    def call(self, *more):
        count[0] -= 1
        if count[0] == -1:
            os.kill(os.getpid(), getattr(signal, sys.argv[3]))
        return what(self, *more)
    return call
Path.write_bytes, Path.replace = wrap(Path.write_bytes), wrap(Path.replace)
if sys.argv[4] == "inside":
    os.chdir(sys.argv[1])
out_folder.install(Path(sys.argv[1]), NEW, "plan")
sys.exit(0)
"""


@pytest.mark.parametrize("where", ["outside", "inside"])
@pytest.mark.parametrize(("name", "exits"), [("SIGKILL", -9), ("SIGTERM", 143)])
def test_killed_at_any_moment_the_next_run_finds_one_whole_pack(
    name: str, exits: int, where: str, tmp_path: Path
) -> None:
    # Moments: 4 files written, then 2 renames of the folder; where someone stands in it, 4 entries go out,
    # one rename says so, 4 come in.
    for moment in range(6 if where == "outside" else 13):
        out = tmp_path / f"{name}{moment}"
        out_folder.install(out, PACK, "plan")
        done = in_new_process(out, str(moment), name, where, code=KILL)
        assert done.code == exits, (moment, done)
        if name == "SIGTERM":
            assert tree(out) == PACK, moment  # put back before it ended
        out_folder.look(out, tmp_path / "job.yaml", b"old", "plan")
        new_on_its_way = name == "SIGKILL" and where == "inside" and moment > 8
        assert tree(out) == (NEW if new_on_its_way else PACK), moment
        assert sorted(p.name for p in tmp_path.glob(".*")) == []
    out_folder.install(out, NEW, "plan")
    assert tree(out) == NEW


def test_killed_while_the_sheets_are_set_nothing_is_left(tmp_path: Path) -> None:
    job, out = small_job(tmp_path), tmp_path / "out"
    code = """
import os, signal
from bayrun.workers import typst_worker
typst_worker.typeset = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
"""
    done = in_new_process("plan", job, "--out", out, code=code)
    assert done.code == -signal.SIGKILL
    assert sorted(p.name for p in tmp_path.iterdir()) == ["job.yaml"]


def test_two_leftovers_of_living_programs_are_let_be(tmp_path: Path) -> None:
    out = tmp_path / "out"
    mine = tmp_path / f".out.{os.getpid()}.part"
    mine.mkdir()
    out_folder.look(out, tmp_path / "job.yaml", b"", "plan")
    assert mine.is_dir()


def test_a_pack_in_the_folder_where_one_stands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job, here = small_job(tmp_path), tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    assert bayrun("plan", job, "--out", ".").code == 0
    assert bayrun("plan", "job.yaml").code == 0
    assert Path.cwd() == here
    assert Path("pack.pdf").is_file()
    assert not list(here.glob(".*"))


def test_a_link_to_a_folder_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "link"
    real.mkdir()
    link.symlink_to(real)
    for data in (PACK, NEW):
        out_folder.install(link, data, "plan")
        assert link.is_symlink()
        assert tree(real) == data


def test_ctrl_c_is_neither_fine_nor_a_stop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(template: str, files: object) -> bytes:
        raise KeyboardInterrupt

    monkeypatch.setattr(typst_worker, "typeset", stop)
    done = bayrun("plan", small_job(tmp_path), "--out", tmp_path / "out")
    assert done.code == 130
    assert done.err.splitlines()[-1] == "bayrun: stopped; what was there before is as it was."
    assert not (tmp_path / "out").exists()


def test_a_fault_of_our_own_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_(template: str, files: object) -> bytes:
        return {}["no such key"]  # type: ignore[no-any-return]

    monkeypatch.setattr(typst_worker, "typeset", break_)
    done = bayrun("plan", small_job(tmp_path), "--out", tmp_path / "out")
    assert done.code == 3
    assert "Traceback" not in done.err
    told = done.err.splitlines()[-1]
    assert told.startswith("bayrun: a fault of Bayrun's own, not of your file: KeyError: 'no such key' (")
    assert told.endswith("Please report it, with the job file; BAYRUN_DEBUG=1 shows more.")
    monkeypatch.setenv("BAYRUN_DEBUG", "1")
    assert bayrun("plan", small_job(tmp_path), "--out", tmp_path / "out").code not in (0, 2, 3)
