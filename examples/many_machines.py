#!/usr/bin/env python3
"""How do I work more orders than one machine can?

Orders are independent of one another, so they are cut into parts, between orders; `rimwise stock` works each part wherever there
is room; `rimwise stock --merge` adds the totals up, to the digit those of one run. Who works what, and what happens when a machine
is lost, is left to a distributed scheduler: Dask (`pip install distributed`).

On this machine, with three workers:

    python3 many_machines.py orders.csv --out whole --workers 3

On many, which share the folders of the orders and of the results under the same paths, and have the same `rimwise`:

    dask scheduler                                      # on one of them
    dask worker tcp://HOST:8786 --nthreads 1            # on each
    python3 many_machines.py orders.csv --out whole --scheduler tcp://HOST:8786

Whoever reaches a scheduler can run anything on its workers: keep it in a closed network, or give it certificates.

A part is put in its place whole or not at all, and is worked once: a run that was broken off goes on where it was when it is
started again. What was half done when a worker was lost is taken away at the end.
"""

import argparse
import csv
import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from distributed import Client, LocalCluster, as_completed

# Exit codes of `rimwise stock`: all rows done; done, but for rows that were refused and are listed.
DONE, PARTLY = 0, 3
# Files that hold a line for some rows and are joined again, and the column that counts rows in them.
JOINED = {"lenses.csv": None, "refused.csv": "row", "cautions.csv": "row"}
# A worker begins here, beside the place where the part will stand.
BEGUN = ".begun-"


class Refused(Exception):
    """What cannot be worked, in words for whoever asked."""


@dataclass(frozen=True)
class Part:
    """Some orders, where they are written down, and where what comes of them will stand."""

    orders: Path
    out: Path
    # Rows of the whole before its own.
    before: int


class Kept:
    """Lines of a file, handed on and kept as they are until they are taken."""

    def __init__(self, lines: Iterator[str]):
        self.lines, self.kept = lines, []

    def __iter__(self):
        for line in self.lines:
            self.kept.append(line)
            yield line

    def take(self) -> str:
        taken, self.kept = "".join(self.kept), []
        return taken


def rows(orders: Path) -> Iterator[tuple[list[str], str]]:
    """The fields of each row, and its text to the byte; the first row is the header."""
    # What is no UTF-8 goes through as it is: the program refuses the row.
    with orders.open(encoding="utf-8", errors="surrogateescape", newline="") as file:
        kept = Kept(file)
        for fields in csv.reader(kept):
            yield fields, kept.take()
        if rest := kept.take():
            yield [], rest


def parts(orders: Path, least: int) -> Iterator[tuple[str, int, set[str]]]:
    """Texts with at least so many rows but the last, cut between orders; the rows before each; outline files that it names."""
    every = rows(orders)
    names, header = next(every, ([], ""))
    names = [name.strip().lstrip("\ufeff") for name in names]

    def field(fields: list[str], name: str) -> str:
        at = names.index(name) if name in names else len(fields)
        return fields[at].strip() if at < len(fields) else ""

    text, count, before, last, outlines = [header], 0, 0, "", set()
    for fields, line in every:
        order = field(fields, "order")
        # An order without a number is nobody's other eye.
        if count >= least and (order != last or not order):
            yield "".join(text), before, outlines
            text, before, count, outlines = [header], before + count, 0, set()
        text.append(line)
        if fields:
            count, last = count + 1, order
        if outline := field(fields, "outline"):
            outlines.add(outline)
    yield "".join(text), before, outlines


def mark(text: bytes, outlines: set[str], beside: Path, program: str, materials: Path | None) -> str:
    """Tells apart what would be worked otherwise: orders, outlines, materials, the program."""
    found = hashlib.sha256(program.encode())
    found.update(text)
    for path in [*(beside / name for name in sorted(outlines)), *(sorted(materials.glob("*.toml")) if materials else [])]:
        found.update(path.read_bytes() if path.is_file() else b"")
    return found.hexdigest()[:16]


def write(path: Path, text: bytes) -> None:
    """Puts a file in its place whole."""
    with tempfile.NamedTemporaryFile(dir=path.parent, prefix=BEGUN, delete=False) as file:
        file.write(text)
    os.replace(file.name, path)


def cut(asked: argparse.Namespace, work: Path) -> list[Part]:
    """Writes the parts down, each under a name that says what is in it."""
    program = subprocess.run([asked.rimwise, "--version"], capture_output=True, text=True, check=True).stdout
    found = []
    for i, (text, before, outlines) in enumerate(parts(asked.orders, asked.rows), 1):
        text = text.encode("utf-8", "surrogateescape")
        name = f"part-{i:05}-{mark(text, outlines, asked.orders.parent, program, asked.materials)}"
        part = Part(work / f"{name}.csv", work / name, before)
        if not part.orders.is_file():
            write(part.orders, text)
        found.append(part)
    return found


def work_part(part: Part, command: list[str], beside: Path, threads: int) -> Path:
    """Works a part, on whichever machine this runs; gives back where it stands."""
    if part.out.is_dir():
        return part.out
    begun = Path(tempfile.mkdtemp(prefix=f"{BEGUN}{part.out.name}-", dir=part.out.parent))
    # Outline files are looked for where the program is started.
    with part.orders.open("rb") as orders:
        done = subprocess.run(
            [*command, "stock", "-", "--out", begun / "part"],
            stdin=orders,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            cwd=beside,
            env={**os.environ, "RAYON_NUM_THREADS": str(threads)} if threads else None,
        )
    if done.returncode not in (DONE, PARTLY):
        shutil.rmtree(begun)
        raise Refused(f"{part.orders}: {done.stderr.decode(errors='replace').strip()}")
    try:
        os.rename(begun / "part", part.out)
    except OSError:
        # A worker that was given up has finished it all the same: the two are alike.
        if not part.out.is_dir():
            raise
    shutil.rmtree(begun)
    return part.out


def work_all(asked: argparse.Namespace, todo: list[Part], command: list[str]) -> None:
    """Has every part worked; a worker that is lost has its parts worked by another."""
    if asked.scheduler:
        cluster = None
        client = Client(asked.scheduler)
    else:
        room = tempfile.mkdtemp(prefix="dask-")
        cluster = LocalCluster(
            n_workers=asked.workers, threads_per_worker=1, dashboard_address=None, local_directory=room
        )
        client = Client(cluster)
    threads = 0 if asked.scheduler else max(1, (os.cpu_count() or 1) // asked.workers)
    try:
        # Parts have nothing to do with one another, and what a part comes to stands on the disk.
        futures = client.map(work_part, todo, command=command, beside=asked.orders.parent, threads=threads, pure=False)
        for done, future in enumerate(as_completed(futures), 1):
            future.result()
            print(f"{done} of {len(todo)} parts", file=sys.stderr)
    finally:
        client.close()
        if cluster:
            cluster.close()
            shutil.rmtree(room, ignore_errors=True)


def join(found: list[Part], work: Path) -> dict[str, int]:
    """The lines of all parts in one file of each kind, rows numbered as in the whole; gives back how many."""
    joined = dict.fromkeys(JOINED, 0)
    for name, counted in JOINED.items():
        with tempfile.NamedTemporaryFile("w", dir=work, prefix=BEGUN, delete=False, encoding="utf-8", newline="") as file:
            lines = csv.writer(file, lineterminator="\n")
            for i, part in enumerate(found):
                with (part.out / name).open(encoding="utf-8", newline="") as own:
                    every = csv.reader(own)
                    header = next(every)
                    if i == 0:
                        lines.writerow(header)
                    at = header.index(counted) if counted else None
                    for row in every:
                        if at is not None:
                            row[at] = str(int(row[at]) + part.before)
                        lines.writerow(row)
                        joined[name] += 1
        os.replace(file.name, work / name)
    return joined


def take_away_begun(work: Path) -> int:
    """Takes away what was begun and never done; gives back how many parts that were."""
    begun = list(work.glob(f"{BEGUN}*"))
    for path in begun:
        shutil.rmtree(path) if path.is_dir() else path.unlink()
    return sum(path.name.startswith(f"{BEGUN}part-") for path in begun)


def merge(command: list[str], found: list[Part], out: Path) -> int:
    """Adds the totals up, and says what they come to."""
    return subprocess.run([*command, "stock", "--merge", *(part.out for part in found), "--out", out]).returncode


def arguments() -> argparse.Namespace:
    """What is asked."""
    parser = argparse.ArgumentParser(
        description=__doc__.split("\n\n")[1], formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("orders", type=Path, metavar="ORDERS.csv", help="orders, a row a lens")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="the totals of all go into this folder")
    parser.add_argument("--work", type=Path, metavar="DIR", help="parts go into this one; OUT.parts if left out")
    parser.add_argument("--rows", type=int, default=50_000, metavar="N", help="rows of a part (default: %(default)s)")
    parser.add_argument("--workers", type=int, default=3, metavar="N", help="workers on this machine (default: %(default)s)")
    parser.add_argument("--scheduler", metavar="ADDRESS", help="of a running scheduler, in place of workers here")
    parser.add_argument("--rimwise", default="rimwise", metavar="PATH", help="the program (default: the one on the path)")
    parser.add_argument("--materials", type=Path, metavar="DIR", help="own materials, as rimwise takes them")
    asked = parser.parse_args()
    if asked.rows < 1 or asked.workers < 1:
        parser.error("--rows and --workers are at least 1")
    if not asked.orders.is_file():
        parser.error(f"{asked.orders}: there is no such file")
    program = shutil.which(asked.rimwise)
    if program is None:
        parser.error(f"{asked.rimwise}: there is no such program; say where it is with --rimwise")
    asked.rimwise = str(Path(program).resolve())
    asked.orders, asked.out = asked.orders.resolve(), asked.out.resolve()
    asked.work = (asked.work or Path(f"{asked.out}.parts")).resolve()
    asked.materials = asked.materials and asked.materials.resolve()
    return asked


def main() -> int:
    asked = arguments()
    command = [asked.rimwise] + (["--materials", str(asked.materials)] if asked.materials else [])
    asked.work.mkdir(parents=True, exist_ok=True)
    take_away_begun(asked.work)
    try:
        found = cut(asked, asked.work)
        todo = [part for part in found if not part.out.is_dir()]
        print(f"{len(found)} parts, {len(found) - len(todo)} of them worked before", file=sys.stderr)
        if todo:
            work_all(asked, todo, command)
    except Refused as fault:
        print(f"error: {fault}", file=sys.stderr)
        return 2
    lost = take_away_begun(asked.work)
    if lost:
        print(f"{lost} begun by workers that were lost, and worked again", file=sys.stderr)
    joined = join(found, asked.work)
    print(f"Joined in {asked.work}: {', '.join(JOINED)}", file=sys.stderr)
    merged = merge(command, found, asked.out)
    return PARTLY if merged == DONE and joined["refused.csv"] else merged


if __name__ == "__main__":
    sys.exit(main())
