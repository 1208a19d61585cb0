"""What the page may send, checked before anything is done with it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=120)]
Person = Annotated[str, StringConstraints(strip_whitespace=True, max_length=80)]
Words = Annotated[str, StringConstraints(strip_whitespace=True, max_length=400)]
Inches = Annotated[float, Field(allow_inf_nan=False, ge=-1e6, le=1e6)]
Argument = Annotated[str, StringConstraints(max_length=400)] | Inches
Version = Annotated[int, Field(ge=0, le=2**31 - 1)]


class _Shape(BaseModel):
    model_config = ConfigDict(extra="forbid")


class NewJob(_Shape):
    """A job from a demo house, a starter or a job file."""

    start: Literal["demo a", "demo b", "demo c", "starter", "empty", "file"]
    name: Person = ""
    text: Annotated[str, StringConstraints(max_length=8_000_000)] = ""


class Edit(_Shape):
    """One edit, made on the version the page saw."""

    version: Version
    verb: Annotated[str, StringConstraints(min_length=1, max_length=60)]
    arguments: Annotated[list[Argument], Field(max_length=20)]
    by: Person = ""
    reason: Words = ""


class ApplyFix(_Shape):
    """One of a finding's own fixes, by the finding's id and the place of the fix in its list."""

    version: Version
    finding: Annotated[str, StringConstraints(min_length=1, max_length=600)]
    fix: Annotated[int, Field(ge=0, le=50)]
    by: Person = ""
    reason: Words = ""


class Seen(_Shape):
    """A step back or forward, from the version the page saw."""

    version: Version


class Replace(_Shape):
    """The whole job file, as a person wrote it."""

    version: Version
    text: Annotated[str, StringConstraints(max_length=8_000_000)]
    by: Person = ""


class Save(_Shape):
    """A name for the job as it stands."""

    name: Name
    by: Person = ""


class Restore(_Shape):
    """Back to a named save."""

    version: Version
    number: Version
    by: Person = ""


class Length(_Shape):
    """A length as a person types it."""

    text: Annotated[str, StringConstraints(max_length=60)]
