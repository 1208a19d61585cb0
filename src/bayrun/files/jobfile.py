"""Read a job file: YAML text to a Job, or every defect at once with its line and column."""

from __future__ import annotations

from pathlib import Path

from bayrun.files.codecs import Reading
from bayrun.files.defects import Defect, JobFileError
from bayrun.files.upgrade import check_version
from bayrun.files.wishtable import JOB
from bayrun.files.yaml_text import Mapping, compose, decode, said
from bayrun.house import Job

__all__ = ["Defect", "JobFileError", "parse_job", "read_job"]


def read_job(path: str | Path) -> Job:
    """Read a job file from disk.

    Args:
        path: The file; its name stands in every message.
    Raises:
        JobFileError: It cannot be opened, is not UTF-8 YAML, or is not a job; carries every defect.
    """
    name = str(path)
    try:
        data = Path(path).read_bytes()
    except FileNotFoundError:
        raise JobFileError((Defect(name, 1, 1, "the file", "a job file", "no such file"),)) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "a name that is no path"
        raise JobFileError((Defect(name, 1, 1, "the file", "a job file", str(reason).lower()),)) from None
    return parse_job(decode(data, name), name)


def parse_job(text: str, name: str = "job") -> Job:
    """Read a job from YAML text.

    Args:
        text: The whole file.
        name: Stands in every message where a file's name would.
    Raises:
        JobFileError: With every defect found.
    """
    root, defects = compose(text, name)
    reading = Reading(name, list(defects))
    job = None
    if not isinstance(root, Mapping):
        reading.refuse(root, "the file", "keys of a job, “schema: 1” first", said(root))
    elif check_version(root, reading):
        pairs = [pair for pair in root.pairs if pair[0].text != "schema"]
        body = Mapping(root.line, root.column, pairs=pairs)
        job = JOB.read(body, "", reading)
        reading.look_up()
    if reading.defects:
        raise JobFileError(tuple(reading.defects))
    assert isinstance(job, Job)
    return job
