"""Concentrated stocks, computed by the reference with its database for brines.

Writes tables/iphreeqc_stocks.csv: 300 random mixtures of two to five of the salts for which
pitzer.dat has parameters, from half to well over saturation, at 0 to 40 °C, with the saturation
index of each solid that forms within days. Nothing is fitted to this table.

The seed is fixed: the same versions give the same table.
"""

import csv
import math
import random
from pathlib import Path

from iphreeqc_common import Reference, stamp

# What one mol of each salt brings, and about how much of it alone dissolves at 20 °C, mol/kg.
SALTS = {
    "KCl": ({"K": 1, "Cl": 1}, 4.6),
    "NaCl": ({"Na": 1, "Cl": 1}, 6.1),
    "K2SO4": ({"K": 2, "S(6)": 1}, 0.64),
    "Na2SO4": ({"Na": 2, "S(6)": 1}, 1.4),
    "MgSO4": ({"Mg": 1, "S(6)": 1}, 2.8),
    "MgCl2": ({"Mg": 1, "Cl": 2}, 5.7),
    "CaCl2": ({"Ca": 1, "Cl": 2}, 6.5),
}
IONS = ["Ca", "Mg", "K", "Na", "Cl", "S(6)"]
SOLIDS = {
    "halite": "Halite", "sylvite": "Sylvite", "arcanite": "Arcanite", "mirabilite": "Mirabilite",
    "thenardite": "Thenardite", "epsomite": "Epsomite", "hexahydrite": "Hexahydrite",
    "gypsum": "Gypsum", "syngenite": "Syngenite", "glaserite": "Glaserite",
    "schoenite": "Schoenite", "leonite": "Leonite", "bloedite": "Bloedite",
    "carnallite": "Carnallite", "bischofite": "Bischofite",
}


def stock(rng):
    """Shares of the salts' own solubilities that add up to 0.3 to 1.6."""
    names = rng.sample(list(SALTS), rng.randint(2, 5))
    if "CaCl2" in names and rng.random() < 0.7:  # calcium is mostly kept apart from sulfate
        names.remove("CaCl2")
    weights = [rng.random() for _ in names]
    strength = rng.uniform(0.3, 1.6)
    totals = {}
    for name, weight in zip(names, weights):
        ions, alone = SALTS[name]
        m = strength * weight / sum(weights) * alone
        if name == "CaCl2" and any("SO4" in n for n in names):
            m *= math.exp(rng.uniform(-7.0, -3.0))
        for ion, n in ions.items():
            totals[ion] = totals.get(ion, 0.0) + n * m
    return {k: float(f"{v:.5g}") for k, v in totals.items()}


def main():
    reference = Reference("pitzer.dat", added=False)
    columns = ", ".join(f'SI("{name}")' for name in SOLIDS.values()) + ', LA("H2O")'
    rng = random.Random(1984)
    path = Path(__file__).parent / "tables" / "iphreeqc_stocks.csv"
    with path.open("w", newline="") as file:
        file.write(f"# {stamp('pitzer.dat')}; seed 1984; totals in mol/kg of water\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["stock", "temp_c", "ca", "mg", "k", "na", "cl", "so4", *SOLIDS,
                      "log_water_activity"])
        made = 0
        while made < 300:
            totals, temp = stock(rng), round(rng.uniform(0.0, 40.0), 1)
            lines = ["SOLUTION 1", "    units mol/kgw", f"    temp {temp!r}", "    pH 7"]
            lines += [f"    {ion} {totals[ion]!r}" for ion in IONS if totals.get(ion)]
            try:
                values = reference.punch("\n".join(lines) + "\nEND\n", columns)[0]
            except RuntimeError:  # the reference did not converge: the next stock
                continue
            made += 1
            out.writerow([made, temp, *(totals.get(ion, 0.0) for ion in IONS),
                          *("" if v <= -99.0 else f"{v:.4f}" for v in values[:-1]),
                          f"{values[-1]:.6f}"])


if __name__ == "__main__":
    main()
