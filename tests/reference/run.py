"""Holds the program to references that stand outside it, and prints how far it is from each.

`tests/run` calls this. `UPDATE=1 tests/.venv/bin/python tests/reference/run.py` writes results.md anew.
"""

import os
import statistics
import sys
import traceback
from collections import defaultdict
from concurrent.futures import ProcessPoolExecutor

import ask
import differences
import dispersion
import exact
import table

LENSES = 216
WITH_VOLUME_TO_THIRTY_DIGITS = 10
# A volume to thirty digits takes its time for each piece of the outline.
MOST_PIECES = 40


def gathered(lenses, shelf):
    """Differences by reference and quantity over all lenses, and how often each hard case was met."""
    every = max(1, len(lenses) // WITH_VOLUME_TO_THIRTY_DIGITS)
    rule = exact.gauss(exact.NODES)
    short = [len(lens.told["outline"].get("bezier", [])) <= MOST_PIECES for lens in lenses]
    asked = [(lens, shelf, rule if i % every == 0 and short[i] else None) for i, lens in enumerate(lenses)]
    away, met = defaultdict(list), defaultdict(int)
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        for lens, (found, kinds) in zip(lenses, pool.map(careful, asked)):
            for reference, figures in found.items():
                for name, value in figures.items():
                    away[reference, name].append((value, lens))
            for kind, is_met in kinds.items():
                met[kind] += is_met
    return away, met


def careful(asked):
    """A lens that a reference cannot work is shown whole."""
    try:
        return differences.of_lens(asked)
    except Exception:
        raise RuntimeError(f"{asked[0].job}, {asked[0].eye}:\n{traceback.format_exc()}") from None


def main():
    lenses, refused, shelf = ask.at_least(LENSES)
    away, met = gathered(lenses, shelf)
    rows = [
        table.Row(reference, name, len(all_), statistics.median(v for v, _ in all_), *max(all_, key=lambda pair: pair[0]))
        for (reference, name), all_ in away.items()
    ]
    rows.sort(key=lambda row: list(table.PLAIN).index(row.reference))
    indices = dispersion.compared(shelf)
    faults = table.faults(rows, met) + dispersion.faults(indices)
    print(table.exact(rows, met, refused))
    print(dispersion.table(indices))
    faults += table.keep(rows, met, refused, indices, update="UPDATE" in os.environ)
    for fault in faults:
        print(f"FAILED: {fault}", file=sys.stderr)
    print(f"references: {len(rows) + len(indices)} quantities over {len(lenses)} lenses, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
