"""Freeze statistics of the two records in data/climate, computed independently, for tests/climate_records.rs.

Dates are counted in days from 1 July of a season, with 29 February counted in every year.

Run:  pip install numpy==2.4.6 scipy==1.17.1 pandas==3.1.1 lmoments3==1.0.8
      python scripts/climate_statistics.py data/climate > data/climate/statistics.json
"""

import json
import sys
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import lmoments3
import numpy as np
import pandas as pd
import scipy
from lmoments3 import distr
from scipy import integrate, optimize, stats

FOLDER = Path(sys.argv[1])
KERNEL = {d: 1 - (abs(d) / 11) ** 2 for d in range(-10, 11)}


def load(name, column, fahrenheit):
    """Lows in tenths of a degree Celsius; halves are rounded away from zero."""
    table = pd.read_csv(FOLDER / name, parse_dates=["date"], dtype={column: str}).set_index("date")
    lows = table[column].dropna().map(Decimal)
    if fahrenheit:
        lows = lows.map(lambda low: (low - 32) * 5 / 9)
    return lows.map(lambda low: int((low * 10).to_integral_value(ROUND_HALF_UP)))


def grid(tenths):
    """Seasons by days from 1 July; NaN where missing; infinity for 29 February of common years."""
    leap = pd.DatetimeIndex([pd.Timestamp(2000, d.month, d.day) for d in tenths.index])
    slot = (leap.dayofyear.to_numpy() - 183) % 366
    season = tenths.index.year - (tenths.index.month < 7)
    table = pd.DataFrame({"season": season, "slot": slot, "low": tenths.to_numpy(float)})
    table = table.pivot(index="season", columns="slot", values="low").reindex(columns=range(366))
    february29 = (pd.Timestamp(2000, 2, 29).dayofyear - 183) % 366
    for year in table.index:
        if not pd.Timestamp(year + 1, 1, 1).is_leap_year:
            table.loc[year, february29] = np.inf
    return table


def chance(table, slot, limit):
    """Kernel-weighted share of lows at or below a limit around a day."""
    total = hit = 0.0
    for offset, weight in KERNEL.items():
        column = table[(slot + offset) % 366]
        column = column[np.isfinite(column)]
        total += weight * len(column)
        hit += weight * (column <= limit).sum()
    return hit / total


def all_chances(table, limit):
    return np.array([chance(table, slot, limit) for slot in range(366)])


def events(table, limit, q, last):
    """Judged seasons with the day of the event (NaN for none)."""
    found = {}
    for year, row in table.iterrows():
        lows = row.to_numpy()
        hits = np.flatnonzero(lows <= limit)
        if len(hits):
            day = hits[-1] if last else hits[0]
            unseen = range(day + 1, 366) if last else range(day)
        else:
            day, unseen = np.nan, range(366)
        hidden = 1 - np.prod([1 - q[slot] for slot in unseen if np.isnan(lows[slot])])
        if hidden <= 0.2:
            found[year] = day
    return pd.Series(found, dtype=float)


def mixed(days, level, late):
    """Quantile by Weibull's plotting position on the seasons with the event; level is a chance from one end."""
    have = days.dropna().to_numpy()
    share = len(have) / len(days)
    if level > share:
        return None
    inner = 1 - level / share if late else level / share
    return float(np.quantile(have, inner, method="weibull"))


def half_width(days, level):
    have = days.dropna().to_numpy()
    k, n = len(have), len(days)
    share = k / n
    spread = max(np.std(have, ddof=1), 1.0)
    z = stats.norm.ppf(np.clip(level / share, 1 / (k + 1), k / (k + 1)))
    error = np.sqrt(level * (1 - level) / n) * spread / (share * stats.norm.pdf(z))
    return float(stats.t.ppf(0.95, k - 1) * error)


def threshold(table, limit_c):
    limit = round(limit_c * 10)
    q = all_chances(table, limit)
    out = {"limit_c": limit_c}
    series = {}
    for name, last in (("first", False), ("last", True)):
        days = events(table, limit, q, last)
        series[name] = days
        levels = {}
        for level in (0.1, 0.5, 0.9):
            at = mixed(days, level, last)
            levels[str(level)] = None if at is None else {"at": at, "half": half_width(days, level)}
        out[name] = {"seasons": len(days), "with": int(days.count()), "levels": levels}
    counts = []
    for year, row in table.iterrows():
        lows = row.to_numpy()
        counted = int((lows <= limit).sum())
        hidden = float(q[np.isnan(lows)].sum())
        if hidden <= 0.05 * q.sum():
            counts.append(counted + hidden)
    out["nights"] = {
        "seasons": len(counts),
        "mean": float(np.mean(counts)),
        "low": float(np.quantile(counts, 0.1, method="weibull")),
        "high": float(np.quantile(counts, 0.9, method="weibull")),
    }
    lengths, open_ended = [], 0
    for year, last in series["last"].items():
        if year + 1 not in series["first"].index:
            continue
        first = series["first"][year + 1]
        if np.isnan(last) or np.isnan(first):
            open_ended += 1
            continue
        # 1 July 1999 + days runs through a leap February, as the days are counted.
        spring = pd.Timestamp(1999, 7, 1) + pd.Timedelta(days=last)
        spring = pd.Timestamp(year + (spring.month < 7), spring.month, spring.day)
        autumn = pd.Timestamp(1999, 7, 1) + pd.Timedelta(days=first)
        autumn = pd.Timestamp(year + 1 + (autumn.month < 7), autumn.month, autumn.day)
        lengths.append((autumn - spring).days)
    n = len(lengths) + open_ended
    share = len(lengths) / n
    quantile = lambda p: float(np.quantile(lengths, p / share, method="weibull")) if p <= share else None
    out["free"] = {"summers": n, "p10": quantile(0.9), "p50": quantile(0.5), "p90": quantile(0.1)}
    return out


def location_and_scale(c, l1, l2):
    """Of the extreme-value distribution with shape c and the first two L-moments, by numerical integration."""
    unit = stats.genextreme(c)
    mean = integrate.quad(unit.ppf, 0, 1)[0]
    second = integrate.quad(lambda f: unit.ppf(f) * (2 * f - 1), 0, 1)[0]
    scale = l2 / second
    return l1 - scale * mean, scale


def annual_minimum(table):
    minima = []
    for year, row in table.iterrows():
        lows = row.to_numpy()
        lowest = np.nanmin(lows)
        missing = np.flatnonzero(np.isnan(lows))
        hidden = 1 - np.prod([1 - chance(table, slot, lowest - 1) for slot in missing])
        if hidden <= 0.2:
            minima.append(lowest / 10)
    minima = np.array(minima)
    sample = -minima
    years = [2, 5, 10, 20, 50]
    gev, gumbel = distr.gev.lmom_fit(sample), distr.gum.lmom_fit(sample)
    l1, l2, t3 = lmoments3.lmom_ratios(sample, nmom=3)
    interval = stats.t.interval(0.9, len(minima) - 1, minima.mean(), stats.sem(minima))
    # A distribution that ends short of the largest value has its shape lowered until it ends there.
    c = gev["c"]
    if c > 0 and gev["loc"] + gev["scale"] / c < sample.max():
        with_end = lambda c: (c, *location_and_scale(c, l1, l2))
        gap = lambda c: (lambda c, loc, scale: loc + scale / c)(*with_end(c)) - sample.max()
        c, location, scale = with_end(optimize.brentq(gap, 0.01, c))
        gev = {"c": c, "loc": location, "scale": scale}
    return {
        "seasons": len(minima),
        "mean": float(minima.mean()),
        "interval": [float(end) for end in interval],
        "lowest": float(minima.min()),
        "l_moments": [float(l1), float(l2), float(t3)],
        "gev": {"c": float(gev["c"]), "loc": float(gev["loc"]), "scale": float(gev["scale"])},
        "gev_levels": [float(-stats.genextreme.ppf(1 - 1 / y, **gev)) for y in years],
        "gumbel_levels": [float(-stats.gumbel_r.ppf(1 - 1 / y, **gumbel)) for y in years],
        "years": years,
    }


def station(name, column, fahrenheit, limits, drop=None):
    tenths = load(name, column, fahrenheit)
    if drop:
        tenths = tenths.drop(pd.Timestamp(drop))
    table = grid(tenths)
    probes = []
    for slot in (0, 60, 91, 105, 120, 150, 184, 200, 243, 244, 280, 305, 330, 365):
        for limit_c in (8.0, 2.0, 0.0, -2.2, -10.0, -20.0):
            probes.append({"slot": slot, "limit_c": limit_c, "chance": chance(table, slot, round(limit_c * 10))})
    return {
        "nights": int(len(tenths)),
        "thresholds": [threshold(table, limit) for limit in limits],
        "annual_minimum": annual_minimum(table),
        "chances": probes,
    }


print(
    json.dumps(
        {
            "made_with": {
                "numpy": np.__version__,
                "scipy": scipy.__version__,
                "pandas": pd.__version__,
                "lmoments3": "1.0.8",
            },
            "champion": station(
                "champion-1982-2018.csv", "tmin_c", False, [0.0, -2.2, -4.4, -6.7, -12.0, -25.0, -28.0]
            ),
            "clemson": station(
                "clemson-1930-1955.csv", "tmin_f", True, [0.0, -2.2, -4.4, -6.7, -9.0, -11.0], "1936-07-18"
            ),
        },
        indent=1,
    )
)
