"""Acids against alkalinity, computed by the reference with databases that hold citrate.

Writes tables/iphreeqc_acids.csv (phreeqc.dat with the citrate species of minteq.v4.dat added) and
tables/iphreeqc_acids_minteq.csv (minteq.v4.dat as it is, whose constants are independent of ours):
220 tap waters each, with four acids and two targets. The seeds are fixed: the same versions give
the same tables.

Totals and doses are in mmol per kg of water. The water is closed while the acid is added. Every
amount is found by the reference itself, which adds the acid until the pH is reached (a phase whose
only part is H+).

Alkalinity is what a titration with a strong acid to pH 4.5 uses (Standard Methods 2320 B, end point
for waters that hold phosphate). The dose that leaves `target_alkalinity_meq` follows from one run:
first that much strong acid, then the acid itself to pH 4.5. It is the same state as adding the
acid first and titrating afterwards.
"""

import csv
import math
import random
import re
from importlib import resources
from pathlib import Path

from iphreeqc_blends import si, water
from iphreeqc_common import Reference, stamp

TOTALS = {"ca": "Ca", "mg": "Mg", "k": "K", "na": "Na", "no3": "N(5)", "so4": "S(6)", "cl": "Cl",
          "dic": "C(4)"}
ACIDS = {"nitric": "HNO3", "sulfuric": "H2SO4", "phosphoric": "H3PO4", "citric": "H3Citrate"}
END_POINT = 4.5
AIR = math.log10(4.2e-4)
FIX = "PHASES\nFix_H+\n    H+ = H+\n    log_k 0\n"


def block(totals, temp):
    lines = ["SOLUTION 1", "    units mmol/kgw", f"    temp {temp!r}", "    pH 7 charge", "    pe 12"]
    lines += [f"    {name} {totals[key]!r}" for key, name in TOTALS.items() if totals.get(key)]
    return "\n".join(lines) + "\n"


def react(formula, mol):
    return f"REACTION 1\n    {formula} 1\n    {mol!r} moles\n"


def until(ph, formula):
    return f"EQUILIBRIUM_PHASES 1\n    Fix_H+ {-ph!r} {formula} 10\n    -force_equality true\n"


def citrate():
    """The citrate species of minteq.v4.dat that tap water can form, as an input block."""
    path = resources.files("pyEQL.phreeqc.database") / "minteq.v4.dat"
    lines = path.read_bytes().decode("latin-1").splitlines()
    out = ["SOLUTION_MASTER_SPECIES", "Citrate Citrate-3 2 189.102 189.102", "SOLUTION_SPECIES",
           "Citrate-3 = Citrate-3", "    log_k 0"]
    wanted = re.compile(r"^([23] )?(H\+|Ca\+2|Mg\+2|Na\+|K\+) .*Citrate-3.* = ")
    for i, line in enumerate(lines):
        if wanted.match(line):
            out += [line, *(x for x in lines[i + 1:i + 3] if "log_k" in x or "delta_h" in x)]
    return "\n".join(out) + "\n"


class Acids(Reference):
    """The reference with a database that holds citrate."""

    def __init__(self, database):
        super().__init__(database)
        self._ext.run_string(FIX + (citrate() if database == "phreeqc.dat" else ""))

    def last(self, text, columns):
        return self.punch(text + "END\n", columns)[-1]

    def dose(self, start, ph, formula):
        """mol of `formula` per kg of water that bring `start` to `ph`."""
        return 10.0 - self.last(start + until(ph, formula), 'EQUI("Fix_H+")')[0]


def row(reference, rng, start, ph, alkalinity, name, formula):
    """The columns from `acid` on for one acid."""
    to_ph = round(rng.uniform(5.0, ph - 0.4), 2)
    left = round(rng.uniform(0.1, 0.8) * alkalinity, 3)
    by_ph = reference.dose(start, to_ph, formula)
    titrated = start + react("HCl", left / 1000.0)
    by_alkalinity = reference.dose(titrated, END_POINT, formula)
    treated = start + react(formula, by_alkalinity)
    after = reference.last(treated, '-LA("H+")')[0]
    rest = reference.last(treated + f"EQUILIBRIUM_PHASES 1\n    CO2(g) {AIR!r} 10\n",
                          '-LA("H+"), SI("Brushite"), SI("Gypsum")')
    return [name, to_ph, f"{1000.0 * by_ph:.6f}", left, f"{1000.0 * by_alkalinity:.6f}",
            f"{after:.5f}", f"{rest[0]:.5f}", si(rest[1]), si(rest[2])]


def write(database, seed, name):
    reference = Acids(database)
    rng = random.Random(seed)
    path = Path(__file__).parent / "tables" / name
    header = ["water", "temp_c", *TOTALS, "ph_before", "alkalinity_meq", "acid", "target_ph",
              "dose_to_ph_mmol", "target_alkalinity_meq", "dose_to_alkalinity_mmol", "ph_after",
              "open_ph", "open_si_brushite", "open_si_gypsum"]
    with path.open("w", newline="") as file:
        added = " and the citrate species of minteq.v4.dat" if database == "phreeqc.dat" else ""
        file.write(f"# {stamp(database)}{added}; seed {seed}; totals and doses in mmol/kg of water,"
                   f" alkalinity in meq/kg to pH {END_POINT}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        made = 0
        while made < 220:
            totals = {k: float(f"{v:.5g}") for k, v in water(rng).items()}
            temp = round(rng.uniform(4.0, 32.0), 1)
            start = block(totals, temp)
            ph = reference.last(start, '-LA("H+")')[0]
            if not 6.6 <= ph <= 8.6:
                continue
            alkalinity = 1000.0 * reference.dose(start, END_POINT, "HCl")
            if alkalinity < 0.6:
                continue
            try:
                rows = [row(reference, rng, start, ph, alkalinity, *acid) for acid in ACIDS.items()]
            except RuntimeError:  # the reference did not converge: the next water
                continue
            made += 1
            for r in rows:
                out.writerow([made, temp, *(totals.get(s, 0.0) for s in TOTALS), f"{ph:.5f}",
                              f"{alkalinity:.5f}", *r])


def main():
    write("phreeqc.dat", 2320, "iphreeqc_acids.csv")
    write("minteq.v4.dat", 4500, "iphreeqc_acids_minteq.csv")


if __name__ == "__main__":
    main()
