"""Write a job file: fresh and readable, or the changed fields of an old one with its comments kept."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Mapping
from typing import Any

from bayrun.files.codecs import Raw
from bayrun.files.upgrade import CURRENT_SCHEMA
from bayrun.files.wishtable import JOB
from bayrun.files.yaml_text import Scalar, scalar_kind
from bayrun.house import Job

WIDTH = 118
_FOLD_AT = 100
_SECTIONS = {
    "enclosures": "What is wished",
    "levels": "The building",
    "practice": "The firm's practice",
}
# Words that YAML 1.1 readers take for something else than text.
_OTHER_YAML = re.compile(
    r"^(?:yes|no|on|off|true|false|null|none|~|=|<<|[-+]?[\d_.,:]+(?:e[-+]?\d+)?|\d{4}-\d\d?-\d\d?.*)$", re.I
)


def plain_job(job: Job) -> dict[str, Any]:
    """The job as the plain data of its file, defaults left out."""
    data = JOB.write(job)
    assert isinstance(data, dict)
    return {"schema": Raw(str(CURRENT_SCHEMA)), **data}


def write_job(job: Job, *, head: str = "", remarks: Mapping[str, str] | None = None) -> str:
    """A fresh job file; reading it gives the same job.

    Args:
        job: Any job whose values a file may hold.
        head: Comment for the top of the file.
        remarks: Comments above keys, by path such as ``practice.cables``.
    Raises:
        ValueError: A length is not finite.
    """
    remarks = remarks or {}
    lines = [f"# {line}".rstrip() for line in head.splitlines()]
    if lines:
        lines.append("")
    for key, value in plain_job(job).items():
        if isinstance(value, list | dict) and value and lines and lines[-1] != "":
            lines.append("")
        if key in _SECTIONS and value:
            lines += [f"# {_SECTIONS[key]} {'-' * (70 - len(_SECTIONS[key]))}", ""]
        lines += pair_lines(key, value, 0, key, remarks)
    return "\n".join(lines) + "\n"


def pair_lines(key: str, value: Any, indent: int, path: str, remarks: Mapping[str, str]) -> list[str]:
    """``key: value`` in as many lines as it takes."""
    pad = " " * indent
    above = [f"{pad}# {line}".rstrip() for line in remarks.get(path, "").splitlines()]
    start = f"{pad}{scalar(key)}:"
    if isinstance(value, dict):
        short = flow(value)
        if indent and len(start) + 1 + len(short) <= WIDTH and f"{path}." not in "\n".join(remarks):
            return [*above, f"{start} {short}"]
        if not value:
            return [*above, f"{start} {{}}"]
        body = [
            line for k, v in value.items() for line in pair_lines(k, v, indent + 2, f"{path}.{k}", remarks)
        ]
        return [*above, start, *body]
    if isinstance(value, list):
        return above + list_lines(start, value, indent, path, remarks)
    if not isinstance(value, Raw) and len(value) > _FOLD_AT and re.fullmatch(r"[^\s]+(?: [^\s]+)*", value):
        wrapped = textwrap.wrap(value, WIDTH - indent - 2, break_long_words=False, break_on_hyphens=False)
        return [*above, f"{start} >-", *(f"{pad}  {line}" for line in wrapped)]
    return [*above, f"{start} {scalar(value)}"]


def list_lines(start: str, value: list[Any], indent: int, path: str, remarks: Mapping[str, str]) -> list[str]:
    """``key:`` and a list, in as many lines as it takes."""
    pad = " " * (indent + 2)
    records = any(isinstance(item, dict) for item in value)
    short = flow(value)
    if not value or (not records and len(start) + 1 + len(short) <= WIDTH):
        return [f"{start} {short}"]
    if not records:
        flows = [flow(item) for item in value]
        return (
            [start, *_filled(flows, pad)]
            if not isinstance(value[0], list)
            else [
                start,
                *(f"{pad}- {text}" for text in flows),
            ]
        )
    rows = [f"{pad}- {flow(item)}" for item in value]
    if all(len(row) <= WIDTH for row in rows):
        return [start, *rows]
    return [start, *(line for item in value for line in entry_lines(item, indent + 2, path, remarks))]


def entry_lines(item: dict[str, Any], indent: int, path: str, remarks: Mapping[str, str]) -> list[str]:
    """One record of a list as a block, its dash at an indent."""
    pairs = (pair_lines(k, v, indent + 2, f"{path}.{k}", remarks) for k, v in item.items())
    body = [line for lines in pairs for line in lines]
    body[0] = f"{' ' * indent}- {body[0].lstrip()}"
    return body


def _filled(items: list[str], pad: str) -> list[str]:
    """A long flow list over several lines."""
    lines, line = [], f"{pad}["
    for at, item in enumerate(items):
        piece = item + ("," if at + 1 < len(items) else "]")
        if len(line) + 1 + len(piece) > WIDTH and line.strip() != "[":
            lines.append(line)
            line = f"{pad} {piece}"
        else:
            line += piece if line.endswith("[") else f" {piece}"
    return [*lines, line]


def flow(value: Any) -> str:
    """A value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{scalar(k, True)}: {flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(item) for item in value) + "]"
    return scalar(value, True)


def scalar(text: str, in_flow: bool = False) -> str:
    """A text as YAML: bare where every reader takes it for text, else in double quotes."""
    if isinstance(text, Raw):
        return str(text)
    if _bare(text, in_flow):
        return text
    quoted = json.dumps(text, ensure_ascii=False)
    return re.sub("[\x7f-\x9f\u2028\u2029\ufeff]", lambda m: f"\\u{ord(m[0]):04x}", quoted)


def _bare(text: str, in_flow: bool) -> bool:
    if not text or text != text.strip() or not text.isprintable() or "\xa0" in text:
        return False
    if text[0] in "-?:,[]{}#&*!|>'\"%@`" or ": " in text or " #" in text or text.endswith(":"):
        return False
    if in_flow and re.search(r"[,\[\]{}]", text):
        return False
    if in_flow and re.search(r":(?=['\"]|$)", text):
        return False
    if text in ("---", "...") or text.startswith(("--- ", "... ")):
        return False
    return scalar_kind(Scalar(text, True, 1, 1)) == "text" and not _OTHER_YAML.match(text)


def rewrite(text: str, before: Job, after: Job) -> str:
    """The file's text with the fields that changed between two jobs; comments and the rest stay.

    Args:
        text: The file that ``before`` was read from.
        before, after: The job as read and as it shall be.
    Returns:
        Text that reads back as ``after``. Where the file's own shape does not allow the change in place,
        a fresh file under the old one's head comment.
    """
    from bayrun.files.jobfile import JobFileError, parse_job
    from bayrun.files.rewriting import CannotEdit, change_in_place

    if before == after:
        return text
    try:
        changed = change_in_place(text, plain_job(before), plain_job(after))
        if parse_job(changed) == after:
            return changed
    except (CannotEdit, JobFileError):
        pass
    head = re.match(r"(?:#[^\n]*\n)*", text)
    kept = "\n".join(line[1:].removeprefix(" ") for line in head[0].splitlines()) if head else ""
    return write_job(after, head=kept)
