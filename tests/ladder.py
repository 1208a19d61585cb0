"""Reads the sources for the laws of the house: the import ladder, touches of the machine, lengths compared.

Each checker takes a module's dotted name and its text and gives one line per breach, so that tests can feed
it planted faults as easily as real files.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

# Each package may import itself and what stands before it.
LADDER = (
    *("units", "geometry", "findings", "tables", "house", "audit", "wishes", "framing", "limits", "cables"),
    *(
        "wiring",
        "routing",
        "radio",
        "enclosure",
        "records",
        "rules",
        "takeoff",
        "siting",
        "drawings",
        "files",
    ),
    *("workers", "jobs", "store", "fleet", "web", "cli"),
)
# Narrower than the ladder: all that these may import beside themselves.
ONLY = {
    "audit": {
        "units",
        "geometry",
        "findings",
        "tables",
        "house",
    },  # the second opinion trusts nobody's arithmetic
    "web": {"units", "jobs", "store"},
}
# Never, though the ladder's order alone would let it.
NEVER = {("radio", "routing"), ("routing", "radio"), ("rules", "routing"), ("jobs", "store")}
MAY_IMPORT_AUDIT = {"audit", "jobs", "cli"}

# Packages that may touch disk, clock and network.
EDGES = {"files", "store", "fleet", "workers", "web", "cli"}
MACHINE_MODULES = {
    *(
        "os",
        "io",
        "time",
        "socket",
        "ssl",
        "urllib",
        "http",
        "subprocess",
        "shutil",
        "tempfile",
        "glob",
        "signal",
    ),
    *(
        "threading",
        "multiprocessing",
        "concurrent",
        "asyncio",
        "secrets",
        "requests",
        "httpx",
        "sqlite3",
        "locale",
    ),
}
MACHINE_CALLS = {"open", "input", "hash", "print"}
MACHINE_METHODS = {
    *("read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "rmdir", "unlink", "iterdir", "touch"),
    *("utcnow", "today", "uuid1", "uuid4"),
}
# Single files let off a single name, each with its reason.
LET_OFF: dict[tuple[str, str], str] = {}


def modules(source: Path) -> Iterator[tuple[str, str]]:
    """Every module under ``source`` (the folder of the package) as (dotted name, text)."""
    for path in sorted(source.rglob("*.py")):
        parts = [source.name, *path.relative_to(source).with_suffix("").parts]
        package = parts[-1] == "__init__"
        yield (
            ".".join(parts[:-1] if package else parts) + (".__init__" if package else ""),
            path.read_text("utf-8"),
        )


def package_of(module: str) -> str:
    """The rung a module belongs to: ``bayrun.units.tape`` is of ``units``; the root itself is ``""``."""
    parts = module.removesuffix(".__init__").split(".")
    return parts[1] if len(parts) > 1 and parts[1] != "__main__" else ""


def imported(module: str, text: str) -> Iterator[tuple[int, str]]:
    """Every import of a module wherever it stands, as (line, dotted name), relative ones made whole."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, name.name) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                base = ".".join([*module.split(".")[: -node.level], *([base] if base else [])])
            yield from ((node.lineno, f"{base}.{name.name}") for name in node.names)
        elif isinstance(node, ast.Call) and _called(node) in ("import_module", "__import__") and node.args:
            name = node.args[0]
            if isinstance(name, ast.Constant) and isinstance(name.value, str):
                yield node.lineno, name.value


def ladder_breaches(module: str, text: str) -> list[str]:
    """Imports that go up the ladder, or that are never allowed."""
    here, found = package_of(module), []
    if here and here not in LADDER:
        return [f"{module}: {here} is not on the ladder"]
    for line, name in imported(module, text):
        if not (name == "bayrun" or name.startswith("bayrun.")) or not here:
            continue
        there = name.split(".")[1] if "." in name else ""
        place = f"{module}:{line} imports {name}"
        if there == here or there == "__version__":
            continue
        if there not in LADDER:
            found.append(f"{place}: take it from the package that owns it")
        elif LADDER.index(there) > LADDER.index(here):
            found.append(f"{place}: {there} stands above {here}")
        elif here in ONLY and there not in ONLY[here]:
            found.append(f"{place}: {here} may import only {', '.join(sorted(ONLY[here]))}")
        elif (here, there) in NEVER or (there == "audit" and here not in MAY_IMPORT_AUDIT):
            found.append(f"{place}: {here} never imports {there}")
    return found


def machine_breaches(module: str, text: str) -> list[str]:
    """Touches of disk, clock, network or chance outside the packages that may."""
    here = package_of(module)
    if not here or here in EDGES:
        return []
    found = []
    for line, name in imported(module, text):
        if name.split(".")[0] in MACHINE_MODULES and (module, name.split(".")[0]) not in LET_OFF:
            found.append(f"{module}:{line} imports {name}")
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call):
            continue
        name = _called(node)
        if isinstance(node.func, ast.Name):
            bad = name in MACHINE_CALLS and not (name == "hash" and "def __hash__" in text)
        else:
            bad = name in MACHINE_METHODS and not (here == "tables" and name.startswith("read_"))
            bad = bad or ast.unparse(node.func).endswith(("datetime.now", "random.seed"))
            bad = bad or (ast.unparse(node.func).startswith("random.") and name != "Random")
            bad = bad or (name == "default_rng" and not node.args)
        if bad and (module, name) not in LET_OFF:
            found.append(f"{module}:{node.lineno} calls {ast.unparse(node.func)}")
    return found


def comparison_breaches(module: str, text: str) -> list[str]:
    """Comparisons by ==, !=, <= or >= of lengths outside geometry and limits."""
    if package_of(module) in ("geometry", "limits"):
        return []
    found = []
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Compare):
            continue
        sides = [node.left, *node.comparators]
        for left, operator, right in zip(sides, node.ops, sides[1:], strict=False):
            exact = isinstance(operator, ast.Eq | ast.NotEq | ast.LtE | ast.GtE)
            if exact and (_is_length(left) or _is_length(right)):
                found.append(f"{module}:{node.lineno} compares {ast.unparse(left)} with {ast.unparse(right)}")
    return found


def docstring_breaches(module: str, text: str) -> list[str]:
    """Public modules, classes, functions and methods without a docstring.

    A method of a class with bases may take its docstring from there, and one that carries out a protocol of
    the same module may take it from the protocol.
    """
    tree, kinds = ast.parse(text), ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef
    promised = {
        child.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
        and any(ast.unparse(base).startswith("Protocol") for base in node.bases)
        for child in node.body
        if isinstance(child, ast.FunctionDef) and ast.get_docstring(child)
    }
    found: list[str] = [] if ast.get_docstring(tree) else [f"{module} has no docstring"]

    def look(parent: ast.Module | ast.ClassDef, name: str) -> None:
        for child in parent.body:
            if not isinstance(child, kinds) or child.name.startswith("_") or _is_variant(child):
                continue
            told = ast.get_docstring(child) or (isinstance(parent, ast.ClassDef) and child.name in promised)
            if not told:
                found.append(f"{name}.{child.name} has no docstring")
            if isinstance(child, ast.ClassDef) and not child.bases:
                look(child, f"{name}.{child.name}")

    look(tree, module)
    return found


def _is_variant(node: ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """An overload or a setter: its docstring stands on the function it belongs to."""
    return any(ast.unparse(d).endswith(("overload", ".setter")) for d in node.decorator_list)


def _called(node: ast.Call) -> str:
    function = node.func
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _is_length(node: ast.expr) -> bool:
    """Whether an expression is a length: a name that ends in ``_in``, or sums and extremes of such."""
    match node:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name.endswith("_in")
        case ast.Call():
            if _called(node) in ("abs", "min", "max", "round", "sum", "float"):
                return any(_is_length(argument) for argument in node.args)
            return _called(node).endswith("_in")
        case ast.BinOp(left=left, op=ast.Add() | ast.Sub(), right=right):
            return _is_length(left) or _is_length(right)
        case ast.UnaryOp(operand=inner) | ast.Subscript(value=inner) | ast.NamedExpr(target=inner):
            return _is_length(inner)
        case _:
            return False
