"""Potassium phosphates between KH2PO4 and K2HPO4, computed by the reference: pH 4.7 to 9.3.

Writes tables/iphreeqc_phosphates.csv.
"""

import csv
from pathlib import Path

from iphreeqc_common import SOLUTES, Reference, solution, stamp


def main():
    reference = Reference()
    path = Path(__file__).parent / "tables" / "iphreeqc_phosphates.csv"
    with path.open("w", newline="") as file:
        file.write(f"# {stamp()}; totals in mmol/L\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["temp_c", *SOLUTES, "ph", "ec_us_cm"])
        for ratio in (1.0, 1.25, 1.5, 1.75, 2.0):
            for mmol in (0.5, 1.0, 2.0, 5.0, 10.0, 20.0):
                totals = {"p": mmol, "k": round(ratio * mmol, 6)}
                ph, ec = reference.punch(solution(totals), '-LA("H+"), SC')[0]
                out.writerow([25.0, *(totals.get(s, 0.0) for s in SOLUTES), f"{ph:.5f}", f"{ec:.3f}"])


if __name__ == "__main__":
    main()
