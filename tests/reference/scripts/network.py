"""Small thermal networks solved by SciPy at tight tolerance, for tests/network.rs.

Three nodes: air, pots, floor surface. Outdoors follows straight lines between hourly values. Case "thermostat": a
1500 W heater, on at 5.0 and off at 5.2 degC (every switch an event). Case "freezing": no heater, the pots' water freezes
over 0.5 K. Case "cold_spell": both, the heater too small for the worst hours.

Run:  pip install numpy==2.4.6 scipy==1.17.1
      python scripts/network.py > data/network.json
"""

import json
import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp

C_AIR, C_POTS, C_FLOOR = 2.0e5, 1.5e6, 4.0e6
OUT, AIR_POTS, AIR_FLOOR, POTS_FLOOR, FLOOR_DEEP = 90.0, 40.0, 60.0, 15.0, 12.0
DEEP_C = 7.0
LATENT, RANGE, FROZEN = 1.5e7, 0.5, 0.9e6


def outdoors(mean, swing, drop, hours):
    h = np.arange(hours + 1)
    return mean + swing * np.cos(2 * np.pi * (h - 15) / 24) - drop * h / hours


def heat_of(t, latent):
    if t >= 0 or latent == 0:
        return C_POTS * t
    if t > -RANGE:
        return (latent / RANGE + FROZEN) * t
    return FROZEN * t - latent


def temp_of(heat, latent):
    if heat >= 0 or latent == 0:
        return heat / C_POTS
    if heat > -(latent + FROZEN * RANGE):
        return heat / (latent / RANGE + FROZEN)
    return (heat + latent) / FROZEN


def run(outside, rating, set_c, band, latent, start=(6.0, 6.0, 7.0)):
    hours = len(outside) - 1
    stamps = 3600.0 * np.arange(hours + 1)

    def rate(t, y, watts):
        air, pots, floor = y[0], temp_of(y[1], latent), y[2]
        to = np.interp(t, stamps, outside)
        return [(OUT * (to - air) + AIR_POTS * (pots - air) + AIR_FLOOR * (floor - air) + watts) / C_AIR,
                AIR_POTS * (air - pots) + POTS_FLOOR * (floor - pots),
                (AIR_FLOOR * (air - floor) + POTS_FLOOR * (pots - floor) + FLOOR_DEEP * (DEEP_C - floor)) / C_FLOOR,
                air, watts]

    y = np.array([start[0], heat_of(start[1], latent), start[2], 0.0, 0.0])
    on, rows = False, []
    for hour in range(hours):
        t, end = stamps[hour], stamps[hour + 1]
        y[3] = 0.0
        while t < end:
            watts = rating if on else 0.0
            low = lambda _t, s, _w: s[0] - set_c
            high = lambda _t, s, _w: s[0] - set_c - band
            low.terminal, low.direction = True, -1
            high.terminal, high.direction = True, 1
            events = None if rating == 0 else ([high] if on else [low])
            sol = solve_ivp(rate, (t, end), y, args=(watts,), rtol=1e-9, atol=1e-9, method="DOP853",
                            events=events, max_step=300.0)
            t, y = sol.t[-1], sol.y[:, -1]
            if sol.status == 1:
                on = not on
        rows.append({"air": y[0], "air_mean": y[3] / 3600.0, "pots": temp_of(y[1], latent), "floor": y[2],
                     "heater_kwh": y[4] / 3.6e6})
    return {"outside": list(map(float, outside)), "rating_w": rating, "set_c": set_c, "band_k": band,
            "latent_j": latent, "start": list(start), "hours": rows}


def main():
    cases = {
        "thermostat": run(outdoors(-3.0, 6.0, 6.0, 96), 1500.0, 5.0, 0.2, 0.0),
        "free": run(outdoors(2.0, 6.0, 4.0, 96), 0.0, 0.0, 0.0, 0.0),
        "freezing": run(outdoors(-4.0, 6.0, 4.0, 96), 0.0, 0.0, 0.0, LATENT),
        "cold_spell": run(outdoors(-6.0, 7.0, 8.0, 96), 700.0, 1.0, 0.1, LATENT),
    }
    json.dump({"made_with": {"scipy": scipy.__version__, "numpy": np.__version__}, "cases": cases}, sys.stdout)
    print()


main()
