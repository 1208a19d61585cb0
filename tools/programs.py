"""Programs that ``./check`` needs beside Python: a browser, and Node.js for the page's types.

Where this is Debian and we may, they are installed; elsewhere one sentence says what is missing. Nothing here
is needed to use Bayrun.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import set_up

NEEDED = {"chromium": "chromium", "node": "nodejs", "npm": "npm"}
"""Program -> Debian's package that brings it."""


def ensure() -> list[str]:
    """Install what is missing where that is possible; return the programs that are missing still."""
    missing = [program for program in NEEDED if shutil.which(program) is None]
    if missing and shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        packages = sorted({NEEDED[program] for program in missing})
        set_up.say(f"Installing {', '.join(packages)} for the tests of the page ...")
        environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        for command in (
            ["apt-get", "update", "-qq"],
            ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages],
        ):
            subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, check=False)
        missing = [program for program in NEEDED if shutil.which(program) is None]
    return missing


def page_tools(checkout: Path) -> bool:
    """The page's own tools from its lock (types, axe), made anew only where the lock changed."""
    folder = checkout / "tools" / "web"
    lock = (folder / "package-lock.json").read_bytes()
    stamp = folder / "node_modules" / ".bayrun-lock"
    if stamp.is_file() and stamp.read_bytes() == lock:
        return True
    done = subprocess.run(["npm", "ci", "--ignore-scripts", "--silent"], cwd=folder, check=False)
    if done.returncode == 0:
        stamp.write_bytes(lock)
    return done.returncode == 0


def page_types(checkout: Path) -> bool:
    """Check the types of the page's modules; print what is wrong."""
    missing = [program for program in ensure() if program in ("node", "npm")]
    if missing:
        set_up.say(f"The page's types need {' and '.join(missing)}: install Node.js.")
        return os.environ.get("CI", "").lower() not in ("1", "true")
    if not page_tools(checkout):
        set_up.say("npm ci failed in tools/web: the page's types were not checked.")
        return False
    folder = checkout / "tools" / "web"
    return subprocess.call(["node", "node_modules/typescript/bin/tsc", "-p", "."], cwd=folder) == 0
