"""One job while it is made from its shell: the walls so far, and every assumption by name."""

from __future__ import annotations

from dataclasses import dataclass, field

from bayrun.files.shell import Shell
from bayrun.house import Assumption, Wall


@dataclass(slots=True)
class Making:
    """One job while it is made from its shell."""

    shell: Shell
    assumptions: list[Assumption] = field(default_factory=list)
    walls: dict[str, Wall] = field(default_factory=dict)
    ids: dict[str, str] = field(default_factory=dict)
    narrowed: list[str] = field(default_factory=list)
    lowered: list[str] = field(default_factory=list)

    def assume(self, says: str, where: str = "", why: str = "") -> None:
        """One more thing nobody measured."""
        self.assumptions.append(Assumption(f"F{len(self.assumptions) + 1}", says, where, why))
