"""Bring the page's libraries into the package: ``python3 tools/vendor.py``.

Takes the packages named in tools/web/package.json from the npm registry, walks the modules the page uses and
copies just those under src/bayrun/web/static/vendor/, each library with its licence. Bare imports become
relative ones: the page's content security policy allows no inline script, and an import map is one. Beside
every entry stands a one-line ``.d.ts`` that points the type checker at the library's own types.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import programs

ROOT = Path(__file__).resolve().parent.parent
WEB = ROOT / "tools" / "web"
VENDOR = ROOT / "src" / "bayrun" / "web" / "static" / "vendor"

OL = (
    "Feature",
    "Map",
    "View",
    "control/ScaleLine",
    "extent",
    "geom/Circle",
    "geom/LineString",
    "geom/MultiLineString",
    "geom/Point",
    "geom/Polygon",
    "interaction/Draw",
    "interaction/DragPan",
    "interaction/Modify",
    "interaction/Pointer",
    "interaction/Select",
    "interaction/Snap",
    "interaction/defaults",
    "layer/Image",
    "layer/Vector",
    "proj/Projection",
    "source/ImageStatic",
    "source/Vector",
    "style/Circle",
    "style/Fill",
    "style/Icon",
    "style/RegularShape",
    "style/Stroke",
    "style/Style",
    "style/Text",
)

ENTRIES = {
    **{f"ol/{name}.js": f"ol/{name}.js" for name in OL},
    "ol/ol.css": "ol/ol.css",
    "preact": "preact/dist/preact.module.js",
    "preact/hooks": "preact/hooks/dist/hooks.module.js",
    "htm": "htm/dist/htm.module.js",
    "three": "three/build/three.module.js",
    "three/addons/controls/OrbitControls.js": "three/examples/jsm/controls/OrbitControls.js",
}
"""What the page imports: the library's own name for it, and its file under node_modules."""

BARE = {
    "preact": "preact/dist/preact.module.js",
    "three": "three/build/three.module.js",
    "rbush": "rbush/index.js",
    "quickselect": "quickselect/index.js",
    "earcut": "earcut/src/earcut.js",
    "pbf": "pbf/index.js",
}
"""Where a bare import of one library by another is found."""

_IMPORT = re.compile(r"""((?:^|[;}\s])(?:import|export)\s*(?:[\w$*{][^'"()]*?from\s*)?)(["'])([^"'\n]+)\2""")
_COMMENT = re.compile(r"/\*.*?\*/", re.S)


def _imports(text: str) -> Iterator[str]:
    for match in _IMPORT.finditer(_COMMENT.sub("", text)):
        yield match.group(3)


def _found(wanted: str, importer: str) -> str:
    """The file under node_modules that an import in ``importer`` means."""
    if wanted.startswith("."):
        return os.path.normpath(os.path.join(os.path.dirname(importer), wanted))
    if wanted in BARE:
        return BARE[wanted]
    if (WEB / "node_modules" / wanted).is_file():
        return wanted
    raise SystemExit(f"{importer} imports {wanted!r}: say in BARE which file that is")


def _closure(modules: Path) -> list[str]:
    todo, seen = sorted(ENTRIES.values()), set[str]()
    while todo:
        path = todo.pop()
        if path in seen:
            continue
        seen.add(path)
        if path.endswith(".js"):
            todo += [_found(w, path) for w in _imports((modules / path).read_text(encoding="utf-8"))]
    return sorted(seen)


def _rewritten(text: str, path: str) -> str:
    def relative(match: re.Match[str]) -> str:
        wanted = match.group(3)
        if wanted.startswith("."):
            return match.group(0)
        target = os.path.relpath(_found(wanted, path), os.path.dirname(path))
        target = target if target.startswith(".") else f"./{target}"
        return f"{match.group(1)}{match.group(2)}{target}{match.group(2)}"

    parts = re.split(r"(/\*.*?\*/)", text, flags=re.S)  # comments stand at odd places
    text = "".join(part if i % 2 else _IMPORT.sub(relative, part) for i, part in enumerate(parts))
    return re.sub(r"\n//# sourceMappingURL=\S+\s*$", "\n", text)


def main() -> int:
    """Make the vendored tree anew."""
    if not programs.page_tools(ROOT):
        return 1
    modules = WEB / "node_modules"
    shutil.rmtree(VENDOR, ignore_errors=True)
    for path in _closure(modules):
        out = VENDOR / path
        out.parent.mkdir(parents=True, exist_ok=True)
        text = (modules / path).read_text(encoding="utf-8")
        out.write_text(_rewritten(text, path) if path.endswith(".js") else text, encoding="utf-8")
    for name, path in ENTRIES.items():
        if path.endswith(".js"):
            types = f'export * from "{name}";\n'
            whole = re.search(r"export\s+default|as default", (modules / path).read_text(encoding="utf-8"))
            types += f'export {{ default }} from "{name}";\n' if whole else ""
            (VENDOR / path).with_suffix(".d.ts").write_text(types, encoding="utf-8")
    for package in sorted({p.split("/")[0] for p in _closure(modules)}):
        licence = next(p for p in sorted((modules / package).iterdir()) if p.name.upper().startswith("LICEN"))
        shutil.copyfile(licence, VENDOR / package / "LICENSE")
    size = sum(p.stat().st_size for p in VENDOR.rglob("*") if p.is_file())
    print(f"{len(list(VENDOR.rglob('*.js')))} modules, {size / 1e6:.1f} MB", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
