"""Schema versions of the job file: 1 is current; what else stands there is refused in words."""

from __future__ import annotations

from bayrun.files.codecs import Reading
from bayrun.files.yaml_text import Mapping, Scalar, said, scalar_kind

CURRENT_SCHEMA = 1


def check_version(root: Mapping, reading: Reading) -> bool:
    """Look at the ``schema`` key of a job file.

    Returns:
        True where this version can be read; otherwise the defect is noted and nothing else of the file
        should be judged, because its keys may mean something else.
    """
    node = root.get("schema")
    expected = f"“schema: {CURRENT_SCHEMA}”"
    if node is None:
        hint = "write it as the first line; it says how the rest is to be read"
        reading.refuse(root, "schema", expected, "no schema version", hint)
        return False
    if not isinstance(node, Scalar) or scalar_kind(node) != "integer" or len(node.text) > 9:
        reading.refuse(node, "schema", expected, said(node))
        return False
    version = int(node.text)
    if version == CURRENT_SCHEMA:
        return True
    if version > CURRENT_SCHEMA:
        hint = f"it was written by a newer Bayrun; this one reads schema {CURRENT_SCHEMA}: update Bayrun"
    else:
        hint = f"the oldest version there ever was is {CURRENT_SCHEMA}"
    reading.refuse(node, "schema", expected, f"schema {version}", hint)
    return False
