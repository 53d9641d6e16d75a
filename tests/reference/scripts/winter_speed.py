"""Time of one winter of one zone's network: this program, SciPy solve_ivp, and exact stepping compiled by numba.

Eight nodes (air, pots that freeze and thaw, six layers of soil), 4368 hours; outdoors in straight lines between hourly
values, the conductance to outdoors different in every hour. `benches/network.rs` of the engine is the same network.
The truth is DOP853 at rtol 1e-10, restarted each hour. SciPy is timed over all methods and tolerances that come at
least as near to it as this program does (largest error of air and pots at full hours); the quickest counts.
Exact stepping takes one matrix exponential per hour and shorter ones where the pots change their branch.

Run:  pip install numpy==2.4.6 scipy==1.17.1 numba==0.68.1
      python scripts/winter_speed.py       (from tests/reference, with cargo on the path)

On 2026-11-25, two cores of an AMD EPYC in a virtual machine under other load, rustc 1.95 release build, CPython 3.11.7
(processor time; this program's is the quickest of 200 runs):

    this program             2.3 ms  error 6e-3 K
    numba, exact steps      27   ms  error 4e-7 K, 11.8 times
    SciPy                  860   ms  LSODA in one go, rtol 1e-5, error 2e-3 K, 374 times
                           480   ms  LSODA restarted each hour, rtol 3e-5, error just above ours, 204 times

The exponential is scaled by a norm that counts the row of the time, so that it is halved some eight times more than it
must be: exact stepping could be up to twice as quick, which the ratio of 11.8 does not yet allow for.
Where conductances never change, it needs two matrices for the whole winter and is the quicker way.
"""

import math
import re
import subprocess
import time

import numba
import numpy as np
import scipy
from scipy.integrate import solve_ivp

HOURS, N, AREA, SOIL = 4368, 8, 12.0, 1.2
LAYER = np.array([0.03, 0.06, 0.11, 0.18, 0.27, 0.40])
DEEP, DEEP_C = SOIL * AREA / 0.5, 7.0
THAWED, FROZEN, LATENT, RANGE = 1.5e6, 0.9e6, 1.5e7, 0.5
FREEZING = LATENT / RANGE + FROZEN
START = np.array([6.0, 6.0, 7.0, 7.0, 7.0, 7.0, 7.0, 7.0])
HEAT = np.array([2e5, THAWED, *(2.1e6 * AREA * LAYER)])

H = np.arange(HOURS + 1)
OUTSIDE = 1 - 6 * np.sin(np.pi * H / HOURS) + 6 * np.cos(2 * np.pi * (H - 15) / 24) + 3 * np.sin(H / 50)
OUT = 90 + 40 * np.sin(0.37 * H)

G = np.zeros((N, N))
for i, j, g in [(0, 1, 40.0), (0, 2, 60.0), (1, 2, 15.0)] + [
        (2 + k, 3 + k, SOIL * AREA * 2 / (LAYER[k] + LAYER[k + 1])) for k in range(5)]:
    G[i, j] += g
    G[j, i] += g
    G[i, i] -= g
    G[j, j] -= g
G[7, 7] -= DEEP


@numba.njit(cache=False)
def rate(t, y, hour, g, heat, out, outside):
    """Of the temperatures; the pots by the slope of their curve."""
    to = outside[hour] + t / 3600.0 * (outside[hour + 1] - outside[hour])
    d = g @ y
    d[0] += out[hour] * (to - y[0])
    d[7] += DEEP * DEEP_C
    d /= heat
    if y[1] < 0.0:
        d[1] *= THAWED / (FREEZING if y[1] > -RANGE else FROZEN)
    return d


def scipy_winter(**options):
    y, rows = START.copy(), np.empty((HOURS, 2))
    for hour in range(HOURS):
        y = solve_ivp(rate, (0.0, 3600.0), y, args=(hour, G, HEAT, OUT, OUTSIDE), **options).y[:, -1]
        rows[hour] = y[:2]
    return rows


def scipy_in_one(**options):
    def all_hours(t, y):
        hour = min(int(t / 3600.0), HOURS - 1)
        return rate(t - 3600.0 * hour, y, hour, G, HEAT, OUT, OUTSIDE)
    stamps = 3600.0 * np.arange(1, HOURS + 1)
    return solve_ivp(all_hours, (0.0, 3600.0 * HOURS), START, t_eval=stamps, **options).y[:2].T


@numba.njit(cache=False)
def propagate(y, seconds, from_s, hour, slope, g, heat, out, outside, terms, extra):
    """Exact over a stretch without a change of branch: exponential of the matrix with the sources' straight line."""
    a = np.zeros((N + 2, N + 2))
    a[:N, :N] = g
    a[0, 0] -= out[hour]
    change = (outside[hour + 1] - outside[hour]) / 3600.0
    a[0, N] = out[hour] * (outside[hour] + from_s * change)
    a[0, N + 1] = out[hour] * change
    a[7, N] = DEEP * DEEP_C
    for i in range(N):
        a[i] /= slope if i == 1 else heat[i]
    # The last two places hold 1 and the time.
    a[N + 1, N] = 1.0
    a *= seconds
    norm = np.abs(a).sum(axis=1).max()
    halvings = max(0, int(math.ceil(math.log2(max(norm, 1e-9)))) + extra)
    a /= 2.0 ** halvings
    power = np.eye(N + 2)
    e = np.eye(N + 2)
    for k in range(1, terms + 1):
        power = power @ a / k
        e += power
    for _ in range(halvings):
        e = e @ e
    z = np.zeros(N + 2)
    z[:N] = y
    z[N] = 1.0
    return (e @ z)[:N]


@numba.njit(cache=False)
def exact_winter(start, g, heat, out, outside, terms, extra):
    rows = np.empty((HOURS, 2))
    y = start.copy()
    branch = 0  # 0 thawed, 1 freezing, 2 frozen
    low = np.array([0.0, -RANGE, -np.inf])
    high = np.array([np.inf, 0.0, -RANGE])
    slopes = np.array([THAWED, FREEZING, FROZEN])
    for hour in range(HOURS):
        at, turns = 0.0, 0
        while at < 3600.0:
            left = 3600.0 - at
            new = propagate(y, left, at, hour, slopes[branch], g, heat, out, outside, terms, extra)
            if turns > 20 or low[branch] <= new[1] <= high[branch]:
                y, at = new, 3600.0
                break
            edge = low[branch] if new[1] < low[branch] else high[branch]
            a, b, fa, fb = 0.0, left, y[1] - edge, new[1] - edge
            for _ in range(40):
                m = b - fb * (b - a) / (fb - fa) if fb != fa else 0.5 * (a + b)
                new = propagate(y, m, at, hour, slopes[branch], g, heat, out, outside, terms, extra)
                f = new[1] - edge
                if abs(f) < 1e-9:
                    break
                if (f > 0) == (fb > 0):
                    b, fb, fa = m, f, fa / 2
                else:
                    a, fa, fb = m, f, fb / 2
            branch += 1 if edge == low[branch] else -1
            y, at, turns = new, at + m, turns + 1
        rows[hour] = y[:2]
    return rows


def timed(work, least=1):
    best, result = math.inf, None
    for _ in range(least):
        started = time.process_time()
        result = work()
        best = min(best, time.process_time() - started)
    return best, result


def ours():
    printed = subprocess.run(["cargo", "bench", "-q", "-p", "hibernacle-engine", "--bench", "network", "--", "--hours"],
                             check=True, capture_output=True, text=True).stdout.splitlines()
    rows = np.array([list(map(float, line.split()))[:2] for line in printed[:HOURS]])
    amount, unit = re.search(r": ([\d.]+)(ms|µs) \(bar", printed[-1]).groups()
    return float(amount) * {"ms": 1e-3, "µs": 1e-6}[unit], rows


def main():
    print(f"numpy {np.__version__}, scipy {scipy.__version__}, numba {numba.__version__}")
    truth = scipy_winter(method="DOP853", rtol=1e-10, atol=1e-10)

    def error(rows):
        return np.abs(rows - truth).max()

    our_s, our_rows = ours()
    bar = error(our_rows)
    print(f"this program        {our_s * 1e3:10.2f} ms  error {bar:.1e} K")
    exact_winter(START, G, HEAT, OUT, OUTSIDE, 8, 2)
    best = (math.inf, "")
    for terms, extra in [(8, 2), (4, 0), (2, -1)]:
        seconds, rows = timed(lambda: exact_winter(START, G, HEAT, OUT, OUTSIDE, terms, extra), 5)
        found = error(rows)
        print(f"  exact, {terms} terms, {extra} more halvings: {seconds * 1e3:.1f} ms, error {found:.1e} K", flush=True)
        if found <= bar:
            best = min(best, (seconds, f"{terms} terms, {extra} more halvings"))
    print(f"numba, exact steps  {best[0] * 1e3:10.2f} ms  {best[1]}  {best[0] / our_s:.1f} times")
    best = (math.inf, "")
    for name, run in [("hourly", scipy_winter), ("in one", scipy_in_one)]:
        for method in ["RK45", "LSODA"]:
            for rtol in [1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6, 3e-7]:
                seconds, rows = timed(lambda: run(method=method, rtol=rtol, atol=rtol))
                found = error(rows)
                print(f"  {method} {name} rtol {rtol:.0e}: {seconds:.2f} s, error {found:.1e} K", flush=True)
                if found <= bar:
                    best = min(best, (seconds, f"{method} {name} rtol {rtol:.0e}"))
                    break
    print(f"SciPy               {best[0] * 1e3:10.2f} ms  {best[1]}  {best[0] / our_s:.0f} times")


main()
