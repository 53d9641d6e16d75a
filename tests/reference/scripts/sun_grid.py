"""Sun positions, rise and set, and irradiance from pvlib, for tests/sun.rs.

Run:  pip install numpy==2.4.6 scipy==1.17.1 pvlib==0.16.1
      python scripts/sun_grid.py > data/sun_grid.json
"""

import json
import sys

import numpy
import pandas
import pvlib
import scipy
from scipy.optimize import brentq

PLACES = [
    # latitude, longitude, elevation in m
    (47.7, 13.1, 470.0),
    (35.7, 139.7, 40.0),
    (-33.9, 18.4, 25.0),
    (44.5, -73.2, 60.0),
    (60.2, 24.9, 20.0),
    (-45.0, 170.5, 100.0),
]
DAYS = ["2026-01-15", "2026-03-20", "2026-06-21", "2026-10-03", "2026-12-21"]


def elevation(seconds, start, place):
    lat, lon, height = place
    at = pandas.DatetimeIndex([start + pandas.Timedelta(seconds=float(seconds))])
    table = pvlib.solarposition.spa_python(at, lat, lon, altitude=height, delta_t=69.2)
    return float(table["elevation"].iloc[0])


def crossing(start, place, from_s, to_s):
    root = brentq(lambda s: elevation(s, start, place) + 50.0 / 60.0, from_s, to_s, xtol=0.01)
    return (start + pandas.Timedelta(seconds=root)).isoformat()


def main():
    rows, days = [], []
    for place in PLACES:
        lat, lon, height = place
        for day in DAYS:
            noon = pandas.Timestamp(day, tz="UTC") + pandas.Timedelta(hours=12 - lon / 15)
            days.append({"place": place, "date": day, "rise": crossing(noon, place, -43200, 0),
                         "set": crossing(noon, place, 0, 43200)})
            times = pandas.DatetimeIndex([noon.floor("s") + pandas.Timedelta(hours=h) for h in (-5, -2.5, 0.25, 4)])
            table = pvlib.solarposition.spa_python(times, lat, lon, altitude=height, pressure=96000.0,
                                                   temperature=2.0, delta_t=69.2)
            for at, sun in table.iterrows():
                zenith = float(sun["apparent_zenith"])
                ghi = 0.6 * float(pvlib.clearsky.haurwitz(pandas.Series([zenith]))["ghi"].iloc[0])
                parts = pvlib.irradiance.erbs(ghi, zenith, at)
                dni, dhi = float(parts["dni"]), float(parts["dhi"])
                poa = pvlib.irradiance.get_total_irradiance(
                    30.0, 150.0, zenith, float(sun["azimuth"]), dni, ghi, dhi, albedo=0.2, model="isotropic")
                rows.append({"place": place, "at": at.isoformat(), "elevation": float(sun["apparent_elevation"]),
                             "azimuth": float(sun["azimuth"]), "ghi": ghi, "dni": dni, "dhi": dhi,
                             "tilted": float(poa["poa_global"])})
    clear = {str(z): float(pvlib.clearsky.haurwitz(pandas.Series([float(z)]))["ghi"].iloc[0])
             for z in (0, 30, 45, 60, 70, 75, 80, 85)}
    json.dump({"made_with": {"pvlib": pvlib.__version__, "numpy": numpy.__version__, "scipy": scipy.__version__},
               "positions": rows, "days": days, "haurwitz_by_zenith": clear}, sys.stdout, indent=1)
    print()


main()
