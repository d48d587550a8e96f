"""Fits what data/ions.csv and data/solution.csv hold for potassium chloride; prints the fit.

Four numbers: the ion sizes `onsager_a_angstrom` of K and Cl, the temperature constant
`diffusion_temp_k` of K, and `conductance_curvature_2`, which all ions share. They are fitted to
the KCl standards of 0.01 and 0.1 mol/kg at 0 to 40 °C (tables/handbook_conductivity.csv) so that
the largest misfit is small. Needs numpy and scipy; the water is that of crates/solution.
"""

import csv
import math
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

HERE = Path(__file__).parent
CUBIC, ETA_25 = 3.2e8, 0.88999


def rows(path):
    with path.open() as file:
        return list(csv.DictReader(x for x in file if not x.startswith("#")))


IONS = {r["species"]: r for r in rows(HERE / "../../data/ions.csv")}
LIMIT = {n: float(IONS[n]["conductance_25_s_cm2_mol"]) for n in ("K+", "Cl-")}
CL_TEMP = float(IONS["Cl-"]["diffusion_temp_k"])
VOLUME = sum(float(IONS[n]["volume_cm3_mol"]) for n in ("K+", "Cl-"))
POINTS = [
    (float(r["concentration"]), float(r["temp_c"]), float(r["ec_us_cm"]))
    for r in rows(HERE / "tables/handbook_conductivity.csv")
    if r["set"] == "kcl" and float(r["temp_c"]) <= 40
]


def water(t):
    """Density in kg/L, permittivity and viscosity in mPa.s (Kell; Bradley & Pitzer; Patek)."""
    k = t + 273.15
    density = (
        999.83952 + 16.945176 * t - 7.9870401e-3 * t**2 - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4 - 280.54253e-12 * t**5
    ) / (1 + 16.879850e-3 * t) / 1000
    c = -2.0525 + 3.1159e3 / (k - 182.89)
    b = -8.0325e3 + 4.2142e6 / k + 2.1417 * k
    eps = (3.4279e2 * math.exp(k * (-5.0866e-3 + 9.4690e-7 * k))
           + c * math.log((b + 1.01325) / (b + 1000)))
    x = math.log(k / 300)
    eta = (280.68 * math.exp(-1.9 * x) + 511.45 * math.exp(-7.7 * x)
           + 61.131 * math.exp(-19.6 * x) + 0.45903 * math.exp(-40 * x)) / 1000
    return k, density, eps, eta


def conductance(mol_kg, t, size_k, size_cl, temp_k, curvature):
    k, density, eps, eta = water(t)
    p = 1 / k - 1 / 298.15
    common = ETA_25 / eta * math.exp(p * p * (curvature + CUBIC * p))
    kappa = 50.2916 * math.sqrt(density / (eps * k))
    e2 = 1.602176634e-19**2 / (6 * math.pi)
    q = 0.5  # of a salt of one charge each
    b1 = (e2 / (2 * 8.85418781e-12 * eps * 1.380649e-23 * k) * q / (1 + math.sqrt(q))
          * kappa * 1e10)
    b2 = e2 * 6.02214076e23 / eta * kappa * 1e17
    root, total = math.sqrt(mol_kg), 0.0
    for limit, temp, size in ((LIMIT["K+"], temp_k, size_k), (LIMIT["Cl-"], CL_TEMP, size_cl)):
        ka = kappa * size * root
        free = limit * math.exp(temp * p) * common
        total += (free - b2 * root / (1 + ka)) * (1 - b1 * root / (1 + ka) ** 2)
    return total * mol_kg * 1e3 * density / (1 + mol_kg * density * VOLUME / 1000)


def errors(x, points):
    return np.array([100 * (conductance(m, t, *x[:3], x[3] * 1e5) / ec - 1) for m, t, ec in points])


def fitted(points):
    # The eighth power of the errors: nearly the smallest largest error.
    return least_squares(lambda x: (5 * errors(x, points)) ** 4, [3, 2.6, 300, 0.3],
                         x_scale=[1, 1, 100, 1]).x


def main():
    x = fitted(POINTS)
    print("K {:.2f}, Cl {:.2f}, K {:.0f} K, curvature {:.2f}e5 K2".format(*x))
    print(f"largest misfit {max(abs(errors(x, POINTS))):.3f} %")
    half = [p for p in POINTS if p[1] % 10 == 0]
    rest = [p for p in POINTS if p[1] % 10 != 0]
    print(f"fitted to whole tens of a degree: the others within "
          f"{max(abs(errors(fitted(half), rest))):.3f} %")


if __name__ == "__main__":
    main()
