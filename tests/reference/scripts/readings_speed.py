"""A million rows of a log, read by pandas and by the engine in one run on one thread each.

The engine does more in its time: it finds delimiter, columns, units and order of dates, turns local time into UTC,
flags doubtful readings. pandas is told layout and date format, or guesses the format from the first row.

Found (one core of a busy two-core machine, best of five):
  ISO 8601                    pandas 0.058 s, engine 0.185 s (0.143 s when run again): pandas is 2.4 to 3.2 times as fast
  day first, decimal comma    pandas 1.761 s, engine 0.140 s: the engine is 12.6 times as fast
  month first, 12 hours       pandas 1.908 s, engine 0.155 s: the engine is 12.3 times as fast
pandas 3.1 turns ISO stamps into instants inside its parser; that its stamps and sums are right was checked. So "five
times as fast as pandas" holds for the last two and does not hold for ISO 8601.

Run:  pip install pandas==3.1.1 numpy==2.4.6
      python scripts/readings_speed.py        (from tests/reference; builds the engine's benchmark in release mode)
"""

import os
import subprocess
import sys
import tempfile
import time

import numpy as np
import pandas as pd

ROWS = 1_000_000
RUNS = 5


def table():
    phase = np.arange(ROWS) / 1440 * 2 * np.pi
    stamps = pd.Series(pd.date_range("2023-11-14 22:13:20", periods=ROWS, freq="min"))
    return stamps, 4 * np.sin(phase) + 2, 7 * np.sin(phase) - 3


def write(path, layout, sep, decimal):
    stamps, bench, yard = table()
    frame = pd.DataFrame({"time": stamps.dt.strftime(layout), "bench temp C": bench.round(2), "yard temp C": yard.round(1)})
    frame.to_csv(path, index=False, sep=sep, decimal=decimal)


def pandas_best(path, **how):
    best = float("inf")
    for _ in range(RUNS):
        start = time.perf_counter()
        frame = pd.read_csv(path, parse_dates=["time"], **how)
        best = min(best, time.perf_counter() - start)
        assert len(frame) == ROWS and frame["time"].dtype.kind == "M", frame.dtypes
    return best


def engine_best(path):
    command = ["cargo", "bench", "--quiet", "-p", "hibernacle-engine", "--bench", "readings"]
    printed = subprocess.run(command, env={**os.environ, "HIBERNACLE_LOG": path}, capture_output=True, text=True, check=True)
    seconds, readings = printed.stdout.split()[-2:]
    assert int(readings) > 1_990_000, readings
    return float(seconds)


def main():
    print("pandas", pd.__version__, "numpy", np.__version__, "python", sys.version.split()[0])
    dialects = [
        ("ISO 8601", "%Y-%m-%d %H:%M:%S", ",", ".", {}),
        ("day first, decimal comma", "%d.%m.%Y %H:%M", ";", ",", {"sep": ";", "decimal": ",", "date_format": "%d.%m.%Y %H:%M"}),
        ("month first, 12 hours", "%m/%d/%Y %I:%M:%S %p", ",", ".", {"date_format": "%m/%d/%Y %I:%M:%S %p"}),
    ]
    for name, layout, sep, decimal, how in dialects:
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "log.csv")
            write(path, layout, sep, decimal)
            theirs, ours = pandas_best(path, **how), engine_best(path)
            print(f"{name}: pandas {theirs:.3f} s, engine {ours:.3f} s, {theirs / ours:.1f} times as fast")


if __name__ == "__main__":
    main()
