"""Faults planted in plan.json: one function a fault, each names the kind the audit must find.

A mutation takes the plan (plain data, its own copy) and a seeded ``random.Random``; it changes the plan
in place and returns True, or False where this house has nothing to change that way.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

Plan = dict[str, Any]
Mutation = Callable[[Plan, random.Random], bool]
PLANTED: list[tuple[str, str, Mutation]] = []
"""(name, kind that must be found, mutation)."""


def planted(kind: str) -> Callable[[Mutation], Mutation]:
    """Enter a mutation in the list under the kind it must be found as."""

    def enter(function: Mutation) -> Mutation:
        PLANTED.append((function.__name__, kind, function))
        return function

    return enter


def pick(rng: random.Random, items: list[Any]) -> Any:
    return items[rng.randrange(len(items))] if items else None


def member_of(plan: Plan, member_id: str) -> dict[str, Any]:
    return next(m for m in plan["members"] if m["id"] == member_id)


def drilled(plan: Plan, axis: str = "") -> list[Any]:
    return [h for h in plan["holes"] if not h["open_passage"] and (not axis or h["axis"] == axis)]
