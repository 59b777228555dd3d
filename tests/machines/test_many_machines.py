"""Is what many workers make of orders what one run makes of them, to the digit; also when a worker is killed midway?

The recipe is `examples/many_machines.py`, over Dask with three workers on this machine.
"""

import csv
import os
import subprocess
import sys
import time
from pathlib import Path

import psutil
import pytest

ROOT = Path(__file__).parents[2]
PROGRAM = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "debug/rimwise"
SCRIPT = ROOT / "examples/many_machines.py"
# Rows of the whole, and of a part.
LENSES, ROWS = 6_000, 500
# A trace that some of the orders name, beside them.
OUTLINE = ROOT / "demo-jobs/betony.csv"
# What one run and many must have alike: of all, and line by line.
TOTALS = ["totals.json", "blanks.csv", "index.html"]
LINES = ["lenses.csv", "refused.csv", "cautions.csv"]
PATIENCE_S = 90


def bad(rows: list[list[str]]) -> None:
    """Makes some rows wrong, far apart; one names an outline, one has a line's end within quotation marks."""
    column = {name: at for at, name in enumerate(rows[0])}
    rows[0].append("outline")
    for row in rows[1:]:
        row.append("")
    for at in range(700, len(rows), 900):
        rows[at][column["sphere"]] = "-4,25"
    for row in rows[1:2000:7]:
        row[-1] = OUTLINE.name
        for name in ("shape", "depth_mm", "eye_size_mm"):
            row[column[name]] = ""
    for at in range(100, len(rows), 450):
        rows[at][column["pd_mm"]] = "23.5"
    rows[1234][column["rim"]] = "wood\nor not"


@pytest.fixture(scope="module")
def orders(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Orders, and beside them what one run makes of them."""
    room = tmp_path_factory.mktemp("orders")
    path = room / "orders.csv"
    subprocess.run([PROGRAM, "new-orders", path, "--lenses", str(LENSES), "--seed", "11"], check=True)
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    bad(rows)
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
        # As spreadsheets leave them: nothing, and fields with nothing in them.
        file.write("\r\n" + "," * (len(rows[0]) - 1) + "\r\n")
    (room / OUTLINE.name).write_bytes(OUTLINE.read_bytes())
    done = subprocess.run([PROGRAM, "stock", path, "--out", room / "one"], capture_output=True, text=True)
    assert done.returncode == 3, done.stderr
    return path


def asked(orders: Path, out: Path, *more: str) -> list:
    """How the recipe is started."""
    return [sys.executable, SCRIPT, orders, "--out", out, "--rows", str(ROWS), "--rimwise", PROGRAM, *more]


def is_alike(orders: Path, out: Path) -> None:
    """Holds what many made to what one made."""
    one, parts = orders.parent / "one", Path(f"{out}.parts")
    for name in TOTALS:
        assert (out / name).read_bytes() == (one / name).read_bytes(), name
    for name in LINES:
        assert (parts / name).read_bytes() == (one / name).read_bytes(), name


def worked(out: Path) -> list[Path]:
    """The parts that stand in their places."""
    return [path for path in Path(f"{out}.parts").glob("part-*") if path.is_dir()]


def is_held(process: psutil.Process) -> bool:
    """Stops a process where it is, if it has not ended."""
    process.suspend()
    for _ in range(100):
        if process.status() == psutil.STATUS_STOPPED:
            return True
        time.sleep(0.002)
    return False


def caught_at_work(script: psutil.Process) -> tuple[psutil.Process, psutil.Process, Path]:
    """The program halfway through a part, held there; the worker that started it; and the part it was begun for."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until and script.is_running():
        for process in script.children(recursive=True):
            try:
                if process.name() != "rimwise" or "-" not in process.cmdline():
                    continue
                begun, worker = Path(process.cmdline()[-1]), process.parent()
                if is_held(process) and not begun.exists():
                    return process, worker, begun
                process.resume()
            except psutil.NoSuchProcess:
                continue
        time.sleep(0.002)
    raise AssertionError("no worker was met at its work")


def test_many_workers_make_what_one_run_makes(orders: Path) -> None:
    out = orders.parent / "many"
    done = subprocess.run(asked(orders, out), capture_output=True, text=True, timeout=PATIENCE_S)
    # Some rows were refused, as in one run.
    assert done.returncode == 3, done.stderr
    parts = worked(out)
    assert len(parts) >= LENSES // (ROWS + 1), parts
    is_alike(orders, out)
    # Once more: nothing is left to do, and it comes to the same.
    totals = {part: (part / "totals.json").stat().st_mtime_ns for part in parts}
    again = subprocess.run(asked(orders, out), capture_output=True, text=True, timeout=PATIENCE_S)
    assert again.returncode == 3 and f"{len(parts)} of them worked before" in again.stderr, again.stderr
    assert {part: (part / "totals.json").stat().st_mtime_ns for part in parts} == totals
    is_alike(orders, out)


def test_a_worker_that_is_killed_midway_does_not_show(orders: Path) -> None:
    out = orders.parent / "killed"
    script = subprocess.Popen(asked(orders, out), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        at_work, worker, begun = caught_at_work(psutil.Process(script.pid))
        # As where a machine is lost: the worker, and the program that it had started.
        worker.kill()
        at_work.kill()
        half = begun.parent.name.removeprefix(".begun-").rsplit("-", 1)[0]
        said = script.communicate(timeout=PATIENCE_S)[1]
    finally:
        script.kill()
        script.communicate()
    assert script.returncode == 3, said
    assert "1 begun by workers that were lost, and worked again" in said, said
    assert half in [part.name for part in worked(out)], f"{half} was not worked again"
    assert not list(Path(f"{out}.parts").glob(".*")), "something half done was left"
    is_alike(orders, out)


def test_what_cannot_be_worked_is_said(orders: Path, tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.csv"
    wrong.write_text("order,eye,spere\nA1,right,-1.00\n")
    done = subprocess.run(asked(wrong, tmp_path / "out"), capture_output=True, text=True, timeout=PATIENCE_S)
    assert done.returncode == 2 and "did you mean `sphere`?" in done.stderr, done.stderr
    assert done.stderr.splitlines()[-1].startswith("error: ") and not (tmp_path / "out").exists()
    nowhere = subprocess.run(asked(tmp_path / "no.csv", tmp_path / "out"), capture_output=True, text=True)
    assert nowhere.returncode == 2 and "there is no such file" in nowhere.stderr, nowhere.stderr
