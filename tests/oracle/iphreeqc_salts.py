"""Single salts and KCl standards, computed by the reference; and the fixed-pH and open cases.

Writes tables/iphreeqc_salts.csv, tables/iphreeqc_kcl.csv and tables/iphreeqc_conditions.csv.
"""

import csv
import random
from pathlib import Path

from iphreeqc_blends import SALTS, feed, si, water
from iphreeqc_common import SOLUTES, Reference, solution, stamp

LIST = ["KNO3", "Ca(NO3)2", "NH4NO3", "KH2PO4", "NH4H2PO4", "(NH4)2SO4", "MgSO4", "K2SO4",
        "KCl", "CaCl2", "NaCl"]
MOLAR = (0.0005, 0.001, 0.005, 0.01, 0.02, 0.05)


def open_table(name, header):
    path = Path(__file__).parent / "tables" / name
    file = path.open("w", newline="")
    file.write(f"# {stamp()}; totals in mmol/L unless the header says mol/kg\n")
    out = csv.writer(file, lineterminator="\n")
    out.writerow(header)
    return file, out


def main():
    reference = Reference()
    file, out = open_table("iphreeqc_salts.csv", ["salt", "mol_l", "temp_c", *SOLUTES, "ph", "ec_us_cm"])
    with file:
        for salt in LIST:
            for c in MOLAR:
                totals = {k: float(f"{n * c * 1000:.6g}") for k, n in SALTS[salt].items()}
                for temp in (5.0, 15.0, 25.0, 35.0):
                    ph, ec = reference.punch(solution(totals, temp), '-LA("H+"), SC')[0]
                    out.writerow([salt, c, temp, *(totals.get(s, 0.0) for s in SOLUTES),
                                  f"{ph:.5f}", f"{ec:.3f}"])
    file, out = open_table("iphreeqc_kcl.csv", ["mol_kg", "temp_c", "ec_us_cm"])
    with file:
        for m in (0.001, 0.01, 0.1):
            for temp in (5.0, 15.0, 20.0, 25.0, 30.0, 35.0):
                text = solution({"k": m * 1000, "cl": m * 1000}, temp, units="mmol/kgw")
                out.writerow([m, temp, f"{reference.punch(text, 'SC')[0][0]:.3f}"])
    rng = random.Random(586)
    header = ["case", "temp_c", "given_ph", "open_atm", *SOLUTES, "ph", "ec_us_cm", "dic_mmol_kg",
              "imbalance_percent", "si_calcite"]
    file, out = open_table("iphreeqc_conditions.csv", header)
    with file:
        for case in range(1, 41):
            totals = water(rng)
            feed(rng, totals)
            totals = {k: float(f"{v:.5g}") for k, v in totals.items()}
            temp = rng.choice([10.0, 20.0, 25.0, 30.0])
            given, atm = "", ""
            if case % 2:
                given = round(rng.uniform(4.5, 8.5), 2)
                text = solution(totals, temp, given)
            else:
                atm = 4.2e-4
                text = solution(totals, temp, log_co2=LOG_AIR)
            columns = ('-LA("H+"), SC, TOT("C(4)") * 1000, PERCENT_ERROR, SI("Calcite")')
            v = reference.punch(text, columns)[-1]
            out.writerow([case, temp, given, atm, *(totals.get(s, 0.0) for s in SOLUTES),
                          f"{v[0]:.5f}", f"{v[1]:.3f}", f"{v[2]:.6g}", f"{v[3]:.4f}", si(v[4])])


LOG_AIR = -3.3767507096  # log10 of 4.2e-4 atm

if __name__ == "__main__":
    main()
