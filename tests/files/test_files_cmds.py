"""``bayrun new`` and ``bayrun schema`` as a person types them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from bayrun.cli.main import main
from bayrun.files import job_schema, read_job
from bayrun.house.check import check_job


def test_new_writes_a_job_that_contradicts_nothing(tmp_path: Path) -> None:
    path = tmp_path / "hill house.yaml"
    done = CliRunner().invoke(main, ["new", str(path), "--name", "Hill: 3", "--date", "2026-11-25"])
    assert (done.exit_code, done.stdout) == (0, "")
    assert "Next: bayrun plan " in done.stderr
    assert str(path) in done.stderr
    job = read_job(path)
    assert (job.id, job.name, job.revision.date) == ("hill-house", "Hill: 3", "2026-11-25")
    assert check_job(job) == ()
    assert [p.name for p in tmp_path.iterdir()] == ["hill house.yaml"]


def test_new_leaves_a_file_alone_unless_forced(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text("mine", encoding="utf-8")
    done = CliRunner().invoke(main, ["new", str(path)])
    assert done.exit_code == 2
    assert (
        done.stderr
        == f"bayrun new: {path} is already there and was left as it is. Say --force to write over it.\n"
    )
    assert path.read_text(encoding="utf-8") == "mine"
    assert CliRunner().invoke(main, ["new", str(path), "--force"]).exit_code == 0
    assert read_job(path).name == "A new job"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["job.yaml", "--date", "2026-02-30"], "date: expected a date such as 2026-11-25, got “2026-02-30”"),
        (["missing/job.yaml"], "bayrun new: "),
    ],
)
def test_new_refuses_in_words(
    arguments: list[str], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(main, ["new", *arguments])
    assert done.exit_code == 2
    assert says in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_schema_prints_json_alone() -> None:
    done = CliRunner().invoke(main, ["schema"])
    assert (done.exit_code, done.stderr) == (0, "")
    assert json.loads(done.stdout) == job_schema()
