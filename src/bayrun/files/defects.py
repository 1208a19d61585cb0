"""What is wrong with a job file: every defect with its place, what was expected and what was got."""

from __future__ import annotations

from dataclasses import dataclass

MOST_TOLD = 200
"""A file with more defects than this is told these first; the rest would only be noise."""


@dataclass(frozen=True, slots=True)
class Defect:
    """One thing wrong with a file.

    Args:
        file: Name of the file as the person gave it.
        line, column: Where, counted from 1.
        where: The place in words: ``wall A-W03 › spacing``.
        expected, got: What should stand there, and what does.
        suggestion: What was probably meant, or how to mend it; may be empty.
    """

    file: str
    line: int
    column: int
    where: str
    expected: str
    got: str
    suggestion: str = ""

    def __str__(self) -> str:
        text = (
            f"{self.file}:{self.line}:{self.column}: {self.where}: expected {self.expected}, got {self.got}"
        )
        text = f"{text}; {self.suggestion}" if self.suggestion else text
        return "".join(c if c.isprintable() else " " for c in text)


class JobFileError(ValueError):
    """A job file that cannot be used; carries every defect, and prints one line for each."""

    def __init__(self, defects: tuple[Defect, ...]) -> None:
        ordered = sorted(set(defects), key=lambda d: (d.line, d.column, d.where, d.expected, d.got))
        self.defects = tuple(ordered[:MOST_TOLD])
        self.untold = len(ordered) - len(self.defects)
        super().__init__(str(self))

    def __str__(self) -> str:
        lines = [str(defect) for defect in self.defects]
        if self.untold:
            first = self.defects[0]
            lines.append(f"{first.file}: and {self.untold} more; mend these first")
        return "\n".join(lines)
