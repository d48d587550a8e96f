"""Feed-like blends in tap-water backgrounds, computed by the reference.

Writes tables/iphreeqc_blends_fit.csv (the only ones a fit may look at) and
tables/iphreeqc_blends_holdout.csv (the ones the checks use). The seeds are fixed: the same
versions give the same tables.
"""

import csv
import math
import random
from pathlib import Path

from iphreeqc_common import SOLUTES, Reference, solution, stamp

# What one mmol of each salt brings, in mmol.
SALTS = {
    "KNO3": {"k": 1, "no3": 1},
    "Ca(NO3)2": {"ca": 1, "no3": 2},
    "NH4NO3": {"nh4": 1, "no3": 1},
    "Mg(NO3)2": {"mg": 1, "no3": 2},
    "KH2PO4": {"k": 1, "p": 1},
    "NH4H2PO4": {"nh4": 1, "p": 1},
    "(NH4)2SO4": {"nh4": 2, "so4": 1},
    "MgSO4": {"mg": 1, "so4": 1},
    "K2SO4": {"k": 2, "so4": 1},
    "KCl": {"k": 1, "cl": 1},
    "CaCl2": {"ca": 1, "cl": 2},
    "NaCl": {"na": 1, "cl": 1},
    "H3PO4": {"p": 1},
    "HNO3": {"no3": 1},
    "urea": {"urea": 1},
}
WATER = {
    "Ca(HCO3)2": {"ca": 1, "dic": 2},
    "Mg(HCO3)2": {"mg": 1, "dic": 2},
    "NaHCO3": {"na": 1, "dic": 1},
    "NaCl": {"na": 1, "cl": 1},
    "CaSO4": {"ca": 1, "so4": 1},
    "MgSO4": {"mg": 1, "so4": 1},
    "KNO3": {"k": 1, "no3": 1},
    "CO2": {"dic": 1},
}
COLUMNS = (
    '-LA("H+"), SC, MU, SI("Calcite"), SI("Gypsum"), SI("Brushite"), '
    'SI("Hydroxyapatite"), SI("Struvite"), OSMOTIC'
)
HEADER = ["ph", "ec_us_cm", "ionic_strength_mol_kg", "si_calcite", "si_gypsum", "si_brushite",
          "si_hydroxyapatite", "si_struvite"]


def add(totals, recipe, mmol):
    for key, n in recipe.items():
        totals[key] = totals.get(key, 0.0) + n * mmol


def water(rng):
    """From rain to very hard: shares of the usual carriers, log-uniform in strength."""
    totals = {}
    strength = math.exp(rng.uniform(math.log(0.02), math.log(4.0)))
    weights = {name: rng.random() ** 2 for name in WATER if name not in ("KNO3", "CO2")}
    for name, weight in weights.items():
        add(totals, WATER[name], strength * weight / sum(weights.values()))
    add(totals, WATER["KNO3"], 0.1 * strength * rng.random())
    add(totals, WATER["CO2"], totals["dic"] * rng.uniform(0.01, 0.25))
    return totals


def feed(rng, totals):
    """One to six carriers in a random proportion, and at times some acid and some urea."""
    names = rng.sample([n for n in SALTS if n not in ("H3PO4", "HNO3", "urea", "NaCl")],
                       rng.randint(1, 6))
    strength = math.exp(rng.uniform(math.log(0.2), math.log(22.0)))
    weights = [rng.random() for _ in names]
    for name, weight in zip(names, weights):
        add(totals, SALTS[name], strength * weight / sum(weights))
    alkalinity = totals["dic"]
    draw = rng.random()
    if draw < 0.15:
        add(totals, SALTS["HNO3"], 0.6 * alkalinity * rng.random())
    elif draw < 0.3:
        add(totals, SALTS["H3PO4"], 0.6 * alkalinity * rng.random())
    if rng.random() < 0.2:
        add(totals, SALTS["urea"], 5.0 * rng.random())


def rows(reference, seed, count):
    rng = random.Random(seed)
    made = 0
    while made < count:
        totals = water(rng)
        if rng.random() > 0.06:
            feed(rng, totals)
        totals = {k: float(f"{v:.5g}") for k, v in totals.items()}
        at_25 = reference.punch(solution(totals, 25.0), COLUMNS)[0]
        if not 50.0 <= at_25[1] <= 4000.0 or not 3.5 <= at_25[0] <= 9.5:
            continue
        made += 1
        for temp in (5.0, 15.0, 25.0, 35.0):
            out = reference.punch(solution(totals, temp), COLUMNS)[0]
            yield made, temp, totals, out


def si(value):
    return "" if value <= -99.0 else f"{value:.4f}"


def main():
    reference = Reference()
    for name, seed, count in (("fit", 20240522, 60), ("holdout", 19910401, 130)):
        path = Path(__file__).parent / "tables" / f"iphreeqc_blends_{name}.csv"
        with path.open("w", newline="") as file:
            file.write(f"# {stamp()}; seed {seed}; totals in mmol/L\n")
            out = csv.writer(file, lineterminator="\n")
            out.writerow(["blend", "temp_c", *SOLUTES, *HEADER])
            for blend, temp, totals, v in rows(reference, seed, count):
                out.writerow(
                    [blend, temp, *(totals.get(s, 0.0) for s in SOLUTES), f"{v[0]:.5f}",
                     f"{v[1]:.3f}", f"{v[2]:.7f}", *(si(x) for x in v[3:8])]
                )


if __name__ == "__main__":
    main()
