"""Asks the program for lenses: its figures (`compare --json`) and what a CAD program would be handed (example `solid`).
"""

import json
import os
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

import lenses

ROOT = Path(__file__).resolve().parents[2]
BUILT = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "debug"


@dataclass
class Lens:
    """One lens: what was asked, what was answered."""

    job: dict
    eye: str
    ours: dict
    told: dict
    box: tuple

    @property
    def rx(self):
        return self.job["prescription"][self.eye]

    @property
    def frame(self):
        return self.job["frame"][0]

    @property
    def form(self):
        """What the outline was traced of; None where it is a built-in shape."""
        return self.job["aside"].get("form")

    @property
    def option(self):
        return self.job["lens"][0]


def output(*command):
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{command[0]}: {done.stderr}")
    return json.loads(done.stdout)


def ask(job):
    """Both lenses of a job; none where it cannot be made."""
    with tempfile.TemporaryDirectory() as folder:
        path = lenses.put(job, Path(folder))
        (fit,) = output(BUILT / "rimwise", "compare", path, "--json")["fits"]
        if "impossible" in fit:
            return []
        told = output(BUILT / "examples" / "solid", path)["lenses"]
    box = fit["eye_size_mm"], fit["depth_mm"]
    return [Lens(job, lens["eye"], fit[lens["eye"]], lens, box) for lens in told]


def at_least(count):
    """The first jobs that can be made, until there are so many lenses."""
    shelf = lenses.read_shelf(ROOT / "materials")
    found, refused = [], 0
    for job in lenses.jobs(shelf):
        pair = ask(job)
        found += pair
        refused += not pair
        if len(found) >= count:
            return found, refused, shelf
        if refused > count:
            raise RuntimeError(f"{refused} jobs cannot be made: these are not lenses that anybody would order")
