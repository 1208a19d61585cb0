"""Plant small faults in limits/ and rules/, one at a time, and count how many the tests catch.

``python tools/mutate.py --sample 60 --minutes 5`` copies the sources and tests to a folder of its own, never
touches the checkout, and prints the share caught with every survivor's place. A fault that changes nothing a
test could see (an equivalent one) counts as a survivor: the share is a floor.
"""

from __future__ import annotations

import argparse
import ast
import copy
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

PACKAGES = ("limits", "rules")
TESTS = ("tests/limits", "tests/rules")
LEFT_OUT = ("rules/examples.py", "rules/__init__.py", "limits/__init__.py")
"""Files without a decision: the worked examples themselves, and lists of names."""
FLIPPED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
TOUCHES = {"below": "at_most", "at_most": "below", "at_least": "below", "near": "below"}
"""Lengths are compared by functions: the limit moved to the other side, or the sense turned."""
TIMEOUT_S = 120


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault that can be planted: in which file and line, what is changed, and which node it is."""

    file: str
    line: int
    what: str
    node: int
    choice: int


def faults_of(file: str, source: str) -> Iterator[Fault]:
    """Every fault that can be planted in one file's text."""
    for index, (node, choices) in enumerate(_places(ast.parse(source))):
        for choice, what in enumerate(choices):
            yield Fault(file, getattr(node, "lineno", 0), what, index, choice)


def planted(source: str, fault: Fault) -> str:
    """The file's text with the fault in it."""
    tree = ast.parse(source)
    node, choices = list(_places(tree))[fault.node]
    _plant(tree, node, choices[fault.choice])
    return ast.unparse(ast.fix_missing_locations(tree))


def _places(tree: ast.Module) -> Iterator[tuple[ast.AST, list[str]]]:
    """Nodes that can carry a fault, with the faults each can carry, in one fixed order."""
    quiet = _quiet(tree)
    for node in ast.walk(tree):
        if id(node) in quiet:
            continue
        choices = _choices(node)
        if choices:
            yield node, choices


def _quiet(tree: ast.Module) -> set[int]:
    """Ids of nodes that no verdict hangs on: annotations, f-strings' words, decorators."""
    found: set[int] = set()
    for node in ast.walk(tree):
        parts: list[ast.AST | None] = []
        if isinstance(node, ast.JoinedStr):
            parts = [node]
        elif isinstance(node, ast.AnnAssign | ast.arg):
            parts = [node.annotation]
        elif isinstance(node, ast.FunctionDef):
            parts = [node.returns, *node.decorator_list]
        elif isinstance(node, ast.ClassDef):
            parts = list(node.decorator_list)
        for part in parts:
            if part is not None:
                found |= {id(inner) for inner in ast.walk(part)}
    return found


def _choices(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Compare) and type(node.ops[0]) in FLIPPED:
        return [f"{type(node.ops[0]).__name__} turned to {FLIPPED[type(node.ops[0])].__name__}"]
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in TOUCHES:
        return [f"{node.func.id} turned to {TOUCHES[node.func.id]}", f"not {node.func.id}"]
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and node.value is not True:
        return [] if node.value is False else [f"{node.value} plus 1", f"{node.value} less 1"]
    if isinstance(node, ast.BoolOp):
        turned = "or" if isinstance(node.op, ast.And) else "and"
        return [f"turned to {turned}", *(f"condition {i + 1} removed" for i in range(len(node.values)))]
    if isinstance(node, ast.If | ast.IfExp):
        return ["condition always true", "condition always false"]
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub):
        return ["plus and minus turned"]
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div):
        return ["times and by turned"]
    return []


def _plant(tree: ast.Module, node: ast.AST, what: str) -> None:
    if isinstance(node, ast.Compare):
        node.ops[0] = FLIPPED[type(node.ops[0])]()
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        if what.startswith("not "):
            _swap(tree, node, ast.UnaryOp(ast.Not(), copy.deepcopy(node)))
        else:
            node.func.id = TOUCHES[node.func.id]
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        node.value += 1 if what.endswith("plus 1") else -1
    elif isinstance(node, ast.BoolOp):
        if what.startswith("condition"):
            at = int(what.split()[1]) - 1
            left = [value for i, value in enumerate(node.values) if i != at]
            node.values = left
            if len(left) == 1:
                _swap(tree, node, left[0])
        else:
            node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
    elif isinstance(node, ast.If | ast.IfExp):
        node.test = ast.Constant(what.endswith("true"))
    elif isinstance(node, ast.BinOp):
        turned = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
        node.op = turned[type(node.op)]()


def _swap(tree: ast.Module, old: ast.AST, new: ast.AST) -> None:
    """Put one node in another's place, wherever its parent holds it."""
    for parent in ast.walk(tree):
        for name, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, name, new)
                return
            if isinstance(value, list) and any(item is old for item in value):
                setattr(parent, name, [new if item is old else item for item in value])
                return


def all_faults(source: Path, packages: Sequence[str]) -> list[Fault]:
    """Every fault of some packages under ``source`` (the folder of ``bayrun``), in file order."""
    found: list[Fault] = []
    for package in packages:
        for path in sorted((source / package).rglob("*.py")):
            name = path.relative_to(source).as_posix()
            if name not in LEFT_OUT:
                found += faults_of(name, path.read_text(encoding="utf-8"))
    return found


def caught(copy_: Path, tests: Sequence[str]) -> bool:
    """True where the tests fail, or never end, on the copy."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "--no-header", "-p", "no:benchmark", *tests]
    env = dict(os.environ, PYTHONDONTWRITEBYTECODE="1")
    try:
        done = subprocess.run(
            [*command, "-o", "addopts=-p no:cacheprovider"],
            cwd=copy_, env=env, capture_output=True, timeout=TIMEOUT_S, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return True
    return done.returncode != 0


def main(words: Sequence[str] | None = None) -> int:
    """Run a sample; exit 1 where less than ``--at-least`` per cent is caught."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0] if __doc__ else "")
    parser.add_argument("--sample", type=int, default=60, help="faults to plant; 0 plants every one")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=5.0, help="stop after so long")
    parser.add_argument("--at-least", type=float, default=0.0, help="per cent that must be caught")
    parser.add_argument("--only", default="", help="files whose name holds this")
    asked = parser.parse_args(words)
    os.nice(10)
    here = Path(__file__).resolve().parent.parent
    faults = [f for f in all_faults(here / "src" / "bayrun", PACKAGES) if asked.only in f.file]
    total = len(faults)
    if asked.sample and asked.sample < total:
        faults = random.Random(asked.seed).sample(faults, asked.sample)
    end = time.monotonic() + 60 * asked.minutes
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        for name in ("src", "tests", "tools", "docs", "examples"):
            shutil.copytree(here / name, work / name, ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy(here / "pyproject.toml", work)
        if caught(work, TESTS):
            print("the tests fail without any fault planted; nothing was measured")
            return 2
        tried, living = 0, []
        for fault in faults:
            if time.monotonic() > end:
                break
            path = work / "src" / "bayrun" / fault.file
            whole = path.read_text(encoding="utf-8")
            path.write_text(planted(whole, fault), encoding="utf-8")
            tried += 1
            if not caught(work, TESTS):
                living.append(fault)
                print(f"lives: {fault.file}:{fault.line}: {fault.what}", flush=True)
            path.write_text(whole, encoding="utf-8")
    share = 100 * (tried - len(living)) / max(1, tried)
    print(f"{tried} of {total} faults planted, {tried - len(living)} caught: {share:.1f} %")
    return 1 if share < asked.at_least else 0


if __name__ == "__main__":
    sys.exit(main())
