"""Writes psychrolib_air.csv: psychrometrics by PsychroLib (SI), a general-purpose open library.

Run in an environment with PsychroLib 2.5.0:  python psychrolib_air.py > psychrolib_air.csv
Rows with a wet bulb or dew point below 0.01 degC are left out: PsychroLib takes ice there, guardcell
supercooled water.
"""

import sys
from importlib.metadata import version

import psychrolib as p

p.SetUnitSystem(p.SI)
out = sys.stdout
out.write(f"# PsychroLib {version('PsychroLib')}, SI units\n")
out.write(
    "temp_c,rh_percent,pressure_pa,saturation_pa,vapour_pa,dew_point_c,wet_bulb_c,"
    "vpd_pa,humidity_ratio,density_kg_m3\n"
)
for pressure in (101325.0, 80000.0):
    for t in (0.5, 2.0, 5.0, 10.0, 15.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 35.0, 40.0, 45.0, 50.0):
        for rh in (5.0, 10.0, 20.0, 35.0, 50.0, 65.0, 80.0, 90.0, 95.0, 99.0, 100.0):
            ratio = p.GetHumRatioFromRelHum(t, rh / 100, pressure)
            wet_bulb = p.GetTWetBulbFromRelHum(t, rh / 100, pressure)
            dew_point = p.GetTDewPointFromRelHum(t, rh / 100)
            if wet_bulb < 0.02 or dew_point < 0.02:
                continue
            out.write(
                f"{t},{rh},{pressure},{p.GetSatVapPres(t):.6f},"
                f"{p.GetVapPresFromRelHum(t, rh / 100):.6f},{dew_point:.6f},{wet_bulb:.6f},"
                f"{p.GetVaporPressureDeficit(t, ratio, pressure):.6f},{ratio:.9f},"
                f"{p.GetMoistAirDensity(t, ratio, pressure):.8f}\n"
            )
