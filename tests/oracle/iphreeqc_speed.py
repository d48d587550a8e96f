"""Times one solution of the reference, called from Python with its output read back, in CPU time.

Prints medians. phreeqpython (PyPI), a wrapper made for Python, is timed where it is installed.
"""

import csv
import statistics
import time
from pathlib import Path

from iphreeqc_common import TOTALS, Reference, solution


def median(work, count, repeats=21):
    """The median CPU time of `work` for each of `count` solutions, in microseconds."""
    times = []
    for _ in range(repeats):
        start = time.process_time()
        work()
        times.append((time.process_time() - start) / count)
    return statistics.median(times) * 1e6


def wrapped(blends):
    """The same by phreeqpython."""
    try:
        import phreeqpython
    except ImportError:
        return
    engine = phreeqpython.PhreeqPython(database="phreeqc.dat")
    inputs = [
        {**{TOTALS[k]: v for k, v in b.items() if v > 0}, "pH": "7 charge", "units": "mmol/l"}
        for b in blends
    ]

    def work():
        for totals in inputs:
            found = engine.add_solution(totals)
            found.pH, found.sc
            found.forget()

    print(f"phreeqpython: {median(work, len(inputs)):.1f} us")


def main():
    path = Path(__file__).parent / "tables" / "iphreeqc_blends_holdout.csv"
    with path.open() as file:
        rows = [r for r in csv.DictReader(x for x in file if not x.startswith("#"))
                if r["temp_c"] == "25.0"]
    blends = [{k: float(r[k]) for k in TOTALS} for r in rows]
    inputs = [solution(b) for b in blends]
    reference = Reference()

    def one_by_one():
        for text in inputs:
            reference.punch(text, '-LA("H+"), SC')

    print(f"one call a solution: {median(one_by_one, len(inputs)):.1f} us")
    # The most favourable way: all solutions in one run, the header of the output set once.
    text = "".join(x.replace("SOLUTION 1\n", f"SOLUTION {i + 1}\n") for i, x in enumerate(inputs))
    at_once = median(lambda: reference.punch(text, '-LA("H+"), SC'), len(inputs))
    print(f"all in one run: {at_once:.1f} us a solution")
    wrapped(blends)


if __name__ == "__main__":
    main()
