"""Make the hashed locks anew: ``python3 tools/lock.py [--upgrade]``.

Reads pyproject.toml and writes requirements/runtime.txt (what using Bayrun needs, models by IFC among it) and
requirements/dev.txt (the same, and what ``./check`` needs). One lock serves every platform and every Python
from 3.11 on. No index address is written into them. Needs the network; the locking tool goes into a scratch
folder.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LOCKS = {
    "requirements/runtime.txt": ("--extra", "ifc"),
    "requirements/dev.txt": ("--extra", "ifc", "--extra", "dev", "-c", "requirements/runtime.txt"),
}


def main() -> int:
    """Make both locks; return 1 when an address slipped into one."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        programs = Path(folder) / ("Scripts" if sys.platform == "win32" else "bin")
        subprocess.run([str(programs / "python"), "-m", "pip", "install", "--quiet", "uv"], check=True)
        command = [
            str(programs / "uv"),
            "pip",
            "compile",
            "pyproject.toml",
            "--universal",
            "--generate-hashes",
        ]
        command += ["--only-binary", ":all:", "--no-emit-index-url", "--no-emit-find-links", "--no-header"]
        for path, extras in LOCKS.items():
            subprocess.run([*command, "--quiet", *extras, *sys.argv[1:], "-o", path], cwd=ROOT, check=True)
    told = [path for path in LOCKS if "://" in (ROOT / path).read_text(encoding="utf-8")]
    for path in told:
        print(f"{path} holds an address: it must not be committed.", file=sys.stderr)
    return 1 if told else 0


if __name__ == "__main__":
    sys.exit(main())
