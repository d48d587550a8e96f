#!/usr/bin/env python3
"""Writes sun_pvlib.csv: sun times and elevations by the SPA of pvlib, a general-purpose solar library.

Run in a virtual environment with the version named in the header of the table:
    python3 -m venv /tmp/venv && /tmp/venv/bin/pip install pvlib==0.13.1
    /tmp/venv/bin/python tests/oracle/sun_pvlib.py > tests/oracle/sun_pvlib.csv

Transit: pvlib.solarposition.sun_rise_set_transit_spa. Sunrise, sunset and civil dawn, dusk: the
instants at which pvlib's topocentric SPA elevation without refraction (get_solarposition, method
nrel_numpy) is -50' and -6 degrees, by bisection in the half days beside the transit. The rises and
sets of sun_rise_set_transit_spa itself serve as a cross-check only (the difference is printed):
east of Greenwich it moves events by a whole day without computing them anew. Places and dates are a fixed low-discrepancy walk over
latitudes -66..66, longitudes -180..180 and the years 2000-2050.
"""
import datetime as dt
import sys
import warnings

import numpy as np
import pandas as pd
import pvlib
from pvlib import solarposition

warnings.filterwarnings("ignore")
N = 600
PHI = (0.7548776662466927, 0.5698402909980532)  # plastic-number sequence in two dimensions


def elevation(t: pd.DatetimeIndex, lat, lon):
    return solarposition.get_solarposition(t, lat, lon, method="nrel_numpy", delta_t=None)["elevation"].to_numpy()


def crossing(start, hours, lat, lon, level):
    """The crossing of `level` in `hours` from `start`, or None; to 0.1 s."""
    a, b = start.timestamp(), start.timestamp() + hours * 3600
    f = lambda s: elevation(pd.DatetimeIndex([pd.Timestamp(s, unit="s", tz="UTC")]), lat, lon)[0] - level
    fa, fb = f(a), f(b)
    if fa * fb > 0:
        return None
    while b - a > 0.1:
        m = (a + b) / 2
        fm = f(m)
        if fa * fm <= 0:
            b = m
        else:
            a, fa = m, fm
    return (a + b) / 2


def text(t):
    if t is None or t is pd.NaT or (isinstance(t, float) and np.isnan(t)):
        return ""
    if isinstance(t, float):
        t = pd.Timestamp(t, unit="s", tz="UTC")
    return t.tz_convert("UTC").round("s").strftime("%Y-%m-%dT%H:%M:%SZ")


def main():
    out = sys.stdout
    out.write(f"# pvlib {pvlib.__version__}, numpy {np.__version__}; written by tests/oracle/sun_pvlib.py\n")
    out.write("latitude_deg,longitude_deg,transit,sunrise,sunset,civil_dawn,civil_dusk,elevation_at,elevation_deg\n")
    first = dt.date(2000, 1, 1)
    days = (dt.date(2050, 12, 30) - first).days
    worst = 0.0
    for i in range(N):
        lat = -66 + 12 * (i % 12)  # every 12 degrees, both ends
        lon = round(-180 + 360 * ((0.5 + i * PHI[0]) % 1.0), 2)
        date = first + dt.timedelta(days=int(days * ((0.5 + i * PHI[1]) % 1.0)))
        times = pd.DatetimeIndex([pd.Timestamp(date, tz="UTC")])
        row = solarposition.sun_rise_set_transit_spa(times, lat, lon, delta_t=None).iloc[0]
        transit = row["transit"]
        noon = transit.timestamp()
        lower_before = pd.Timestamp(noon - 43200, unit="s", tz="UTC")
        upper = pd.Timestamp(noon, unit="s", tz="UTC")
        level = -50 / 60
        rise = crossing(lower_before, 12, lat, lon, level)
        sset = crossing(upper, 12, lat, lon, level)
        for name, found in [("sunrise", rise), ("sunset", sset)]:
            own = row[name]
            if own is pd.NaT or found is None:
                continue
            # the function moves a rise or set to the day before or after without computing it
            # anew; on the day it was computed for it must agree with the elevations
            if own.date() == date and pd.Timestamp(found, unit="s").date() == date:
                off = abs(own.timestamp() - found)
                worst = max(worst, off)
        dawn = crossing(lower_before, 12, lat, lon, -6.0)
        dusk = crossing(upper, 12, lat, lon, -6.0)
        at = pd.Timestamp(noon - 43200 + 86400 * ((0.25 + i * 0.6180339887) % 1.0), unit="s", tz="UTC").round("s")
        e = elevation(pd.DatetimeIndex([at]), lat, lon)[0]
        out.write(",".join([f"{lat}", f"{lon}", text(transit), text(rise), text(sset), text(dawn), text(dusk), text(at), f"{e:.4f}"]) + "\n")
    # near midnight sun the function's single step is coarse: see the header of the script
    print(f"largest difference from sun_rise_set_transit_spa on its own day: {worst:.1f} s", file=sys.stderr)


main()
