"""Reference evapotranspiration of short grass from refet and pyet, for tests/water.rs.

Run:  pip install numpy==2.4.6 pandas==2.3.3 refet==0.5.0 pyet==1.5.0
      python scripts/evaporation_grid.py > data/evaporation_grid.json

Net radiation, vapour pressures and wind at 2 m are taken from refet itself, so that the test compares the combination
equation and its temperature terms, not the radiation model. Where pyet differs by more than 0.002 mm/d from refet, the
script stops: two libraries that share no code must agree before either is a reference.
"""

import json
import sys

import numpy
import pandas
import pyet
import refet

DAYS = [  # day of year, solar radiation in MJ/m2
    (15, 3.0), (80, 11.0), (187, 22.0)]
TEMPS = [(-1.0, 6.0), (2.0, 8.0), (5.0, 5.0), (8.0, 20.0), (12.3, 21.5), (18.0, 34.0)]
HUMIDITY = [0.4, 0.7, 0.95]
WIND = [0.5, 2.078, 4.0]
ELEVATION = [0.0, 470.0, 1500.0]
LATITUDE = 47.7


def saturation(temp):
    return 0.6108 * numpy.exp(17.27 * temp / (temp + 237.3))


def main():
    rows = []
    for elevation in ELEVATION:
        for day, radiation in DAYS:
            for low, high in TEMPS:
                for humidity in HUMIDITY:
                    for wind in WIND:
                        mean = (low + high) / 2
                        vapour = humidity * float(saturation(mean))
                        run = refet.Daily(tmin=low, tmax=high, ea=vapour, rs=radiation, uz=wind, zw=2.0,
                                          elev=elevation, lat=LATITUDE, doy=day, method="asce",
                                          input_units={"lat": "deg"})
                        total = float(run.eto()[0])
                        net = float(run.rn[0])
                        index = pandas.DatetimeIndex([pandas.Timestamp("2025-01-01") + pandas.Timedelta(days=day - 1)])
                        series = lambda value: pandas.Series([float(value)], index=index)
                        other = float(pyet.pm_fao56(series(mean), series(wind), rn=series(net), g=0,
                                                    tmax=series(high), tmin=series(low), ea=series(vapour),
                                                    elevation=elevation, lat=numpy.radians(LATITUDE), clip_zero=False).iloc[0])
                        if abs(other - total) > 0.002:
                            sys.exit(f"libraries disagree: {total} {other} at {low}..{high} {humidity} {wind} {elevation}")
                        rows.append([elevation, low, high, humidity, wind, round(net, 6), round(total, 6)])
    json.dump({"made_with": {"refet": "0.5.0", "pyet": "1.5.0", "numpy": numpy.__version__},
               "columns": ["elevation_m", "min_c", "max_c", "relative_humidity", "wind_m_per_s",
                           "net_radiation_mj_per_m2", "et0_mm"],
               "rows": rows}, sys.stdout)
    print()


main()
