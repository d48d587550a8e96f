"""Saturation of tap waters with calcite, computed by the reference.

Writes tables/iphreeqc_waters.csv: 200 tap waters with the saturation index of calcite, and the
calcite that comes down (or dissolves, negative) until the closed water is in equilibrium with it.
The seed is fixed: the same versions give the same table.
"""

import csv
import random
from pathlib import Path

from iphreeqc_acids import END_POINT, TOTALS, Acids, block
from iphreeqc_blends import water
from iphreeqc_common import stamp


def main():
    reference = Acids("phreeqc.dat")
    rng = random.Random(2330)
    path = Path(__file__).parent / "tables" / "iphreeqc_waters.csv"
    with path.open("w", newline="") as file:
        file.write(f"# {stamp()}; seed 2330; totals in mmol/kg of water, alkalinity in meq/kg to pH"
                   f" {END_POINT}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["water", "temp_c", *TOTALS, "ph", "alkalinity_meq", "si_calcite",
                      "calcite_mmol"])
        made = 0
        while made < 200:
            totals = {k: float(f"{v:.5g}") for k, v in water(rng).items()}
            if totals.get("ca", 0.0) < 0.02:
                continue
            temp = round(rng.uniform(4.0, 32.0), 1)
            start = block(totals, temp)
            ph, si = reference.last(start, '-LA("H+"), SI("Calcite")')
            if not 6.3 <= ph <= 9.0:
                continue
            alkalinity = 1000.0 * reference.dose(start, END_POINT, "HCl")
            if alkalinity < 0.2:
                continue
            left = reference.last(
                start + "EQUILIBRIUM_PHASES 1\n    Calcite 0 1\n", 'EQUI("Calcite")')[0]
            made += 1
            out.writerow([made, temp, *(totals.get(s, 0.0) for s in TOTALS), f"{ph:.5f}",
                          f"{alkalinity:.5f}", f"{si:.5f}", f"{1000.0 * (left - 1.0):.6f}"])


if __name__ == "__main__":
    main()
