"""Fits the ion sizes `onsager_a_angstrom` of data/ions.csv to single salts; prints them.

The sizes of K and Cl come from fit_kcl.py and are held. Measured conductances come first
(tables/handbook_conductivity.csv, the rows crc); the reference stands in for the salts of the list
without a published table, with 0.6 times the weight, and 1.5 for MgSO4, the one salt of two
charges on each side. Blends are not looked at. Needs numpy and scipy besides pyEQL;
the limiting conductances and temperature constants are read from data/ions.csv.
"""

import csv
import math
from pathlib import Path

from iphreeqc_blends import SALTS
from iphreeqc_common import Reference, solution
from scipy.optimize import least_squares

HERE = Path(__file__).parent
FITTED = ["Na+", "Ca+2", "Mg+2", "NH4+", "NO3-", "SO4-2"]
EXTRA = {"MgCl2": {"mg": 1, "cl": 2}, "NH4Cl": {"nh4": 1, "cl": 1}, "Na2SO4": {"na": 2, "so4": 1}}
STAND_IN = ["Ca(NO3)2", "MgSO4", "(NH4)2SO4", "K2SO4", "NH4NO3", "Mg(NO3)2"]
DEFAULT, SHIFT = 3.5, 0.126
# Water at 25 °C: density kg/L, permittivity, viscosity mPa.s, Debye parameter per angstrom.
RHO, EPS, ETA, KAPPA, T = 0.997047, 78.38, 0.8900, 0.32859, 298.15

with (HERE / "../../data/ions.csv").open() as file:
    IONS = {r["species"]: r for r in csv.DictReader(file) if r["conductance_25_s_cm2_mol"]}
CHARGE = {n: int(r["charge"]) for n, r in IONS.items()}
LIMIT = {n: float(r["conductance_25_s_cm2_mol"]) for n, r in IONS.items()}
SIZE = {n: float(r["onsager_a_angstrom"] or DEFAULT) for n, r in IONS.items()}
COLUMNS = ", ".join(f'MOL("{n}")' for n in IONS) + ', SC, MU, SOLN_VOL, TOT("water")'


def conductance(mol, strength, size):
    """In uS/cm per (kg of water in a litre); one charge to a sign, so no mixture rule."""
    plus = [n for n in mol if CHARGE[n] > 0 and mol[n] > 0]
    minus = [n for n in mol if CHARGE[n] < 0 and mol[n] > 0]

    def mean(names):
        moles = sum(mol[n] for n in names)
        return (sum(mol[n] * abs(CHARGE[n]) for n in names) / moles,
                sum(mol[n] * LIMIT[n] for n in names) / moles)

    (zp, fp), (zm, fm) = mean(plus), mean(minus)
    t = fp / (fp + fm)
    q = 1 / ((t / zp + (1 - t) / zm) * (zp + zm))
    e2 = 1.602176634e-19**2 / (6 * math.pi)
    b1 = (e2 / (2 * 8.8541878e-12 * EPS * 1.380649e-23 * T) * q / (1 + math.sqrt(q))
          * KAPPA * 1e10 * zp * zm)
    b2 = e2 * 6.02214076e23 / ETA * KAPPA * 1e17
    root, total = math.sqrt(strength), 0.0
    for n in plus + minus:
        z = abs(CHARGE[n])
        a = size[n] - (SHIFT * z * (zp - 1) if CHARGE[n] < 0 else 0.0)
        ka = KAPPA * a * root
        total += mol[n] * z * (LIMIT[n] - b2 * z * root / (1 + ka)) * (1 - b1 * root / (1 + ka)**2)
    return total * 1e3


def points():
    reference = Reference()

    def point(salt, mmol, weight, measured=None):
        parts = {k: n * mmol for k, n in {**SALTS, **EXTRA}[salt].items()}
        out = reference.punch(solution(parts, 25.0), COLUMNS)[0]
        ec, strength, volume, mass = out[len(IONS):]
        return salt, dict(zip(IONS, out)), strength, mass / volume, measured or ec, weight

    with (HERE / "tables/handbook_conductivity.csv").open() as file:
        for r in csv.DictReader(x for x in file if not x.startswith("#")):
            if r["set"] == "crc" and r["salt"] != "KHCO3":
                yield point(r["salt"], float(r["concentration"]) * 1000, 1, float(r["ec_us_cm"]))
    for salt in STAND_IN:
        for mmol in (0.5, 1, 5, 10, 20, 50):
            yield point(salt, mmol, 1.5 if salt == "MgSO4" else 0.6)


def main():
    data = list(points())

    def errors(x):
        size = {**SIZE, **dict(zip(FITTED, x))}
        return [w * 100 * (conductance(mol, i, size) * mass / ec - 1)
                for _, mol, i, mass, ec, w in data]

    fit = least_squares(errors, [SIZE[n] for n in FITTED], bounds=(0.3, 30.0))
    for name, value in zip(FITTED, fit.x):
        print(f"{name},{value:.2f}")


if __name__ == "__main__":
    main()
