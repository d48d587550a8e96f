"""Times one solution of the reference, called from Python with its output read back, in CPU time."""

import csv
import time
from pathlib import Path

from iphreeqc_common import TOTALS, Reference, solution


def main():
    path = Path(__file__).parent / "tables" / "iphreeqc_blends_holdout.csv"
    with path.open() as file:
        rows = [r for r in csv.DictReader(x for x in file if not x.startswith("#"))
                if r["temp_c"] == "25.0"]
    inputs = [solution({k: float(r[k]) for k in TOTALS}) for r in rows]
    reference = Reference()
    best = float("inf")
    for _ in range(5):
        start = time.process_time()
        for text in inputs:
            reference.punch(text, '-LA("H+"), SC')
        best = min(best, (time.process_time() - start) / len(inputs))
    print(f"one call a solution: {best * 1e6:.1f} us")
    # The most favourable way: all solutions in one run, the header of the output set once.
    text = "".join(x.replace("SOLUTION 1\n", f"SOLUTION {i + 1}\n") for i, x in enumerate(inputs))
    best = float("inf")
    for _ in range(5):
        start = time.process_time()
        reference.punch(text, '-LA("H+"), SC')
        best = min(best, (time.process_time() - start) / len(inputs))
    print(f"all in one run: {best * 1e6:.1f} us a solution")


if __name__ == "__main__":
    main()
