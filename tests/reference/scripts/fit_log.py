"""A temperature log of a known shelter and a fit of it, both by SciPy, for tests/fit_scipy.rs.

The shelter: air and one store whose water freezes over half a kelvin, in watts and joules, under invented weather;
integrated by Radau at tight tolerance from hour to hour. Forty days every ten minutes, 0.2 K of noise on the thermometer
inside; a cover from day 20 on takes two fifths of the loss and three fifths of the sun. The fit: least squares of the
whole course (output errors), the model integrated anew for every trial by an implicit scheme of second order.

Run:  pip install numpy==2.4.6 scipy==1.17.1
      python scripts/fit_log.py > data/fit_log.json
"""

import json
import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import least_squares
from scipy.special import expit

DAYS, COVER_DAY = 40, 20
LAT, LON = 47.7, 13.1
TRUTH = dict(still=70.0, wind=14.0, sky=0.25, exchange=130.0, ground=30.0, air=1.0e5, store=2.4e6, latent=3.6e7,
             air_m2=0.8, store_m2=1.4)
COVER = (0.6, 0.4)
HOURS = 24 * DAYS + 1
rng = np.random.default_rng(20260115)


def red(hours):
    f = np.exp(-1.0 / hours)
    x = np.empty(HOURS)
    x[0] = rng.standard_normal()
    for i in range(1, HOURS):
        x[i] = f * x[i - 1] + np.sqrt(1 - f * f) * rng.standard_normal()
    return x


# Hours count from 2025-12-01 11:00 UTC.
hour = np.arange(HOURS)
cloud = np.round(expit(1.6 * red(14.0)), 3)
wind = np.round(2.2 * np.exp(0.5 * red(10.0)), 2)
clock = 11 + hour + LON / 15
declination = -0.409 * np.cos(2 * np.pi * (335 + 10 + clock / 24) / 365)
height = np.sin(np.radians(LAT)) * np.sin(declination) + np.cos(np.radians(LAT)) * np.cos(declination) * np.cos(
    np.pi * (clock - 12) / 12)
clear = np.where(height > 0, 1098 * height * np.exp(-0.059 / np.maximum(height, 1e-3)), 0.0)
sun = np.round(clear * (1 - 0.75 * cloud**3.4), 1)
outside = np.round(-1.0 + 4.0 * red(60.0) + (4.5 - 3.0 * cloud) * np.cos(2 * np.pi * (clock - 14.5) / 24), 2)
dew = outside - 3.0
emissivity = (0.787 + 0.764 * np.log((dew + 273.15) / 273.15)) * (
    1 + 0.0224 * (10 * cloud) - 0.0035 * (10 * cloud) ** 2 + 0.00028 * (10 * cloud) ** 3)
sky = np.minimum(emissivity, 1.0) ** 0.25 * (outside + 273.15) - (outside + 273.15)
GROUND_C = 6.0

steps = np.arange(0, (HOURS - 1) * 6 + 1) / 6.0
W = {k: np.interp(steps, hour, v) for k, v in dict(outside=outside, sky=sky, wind=wind, sun=sun).items()}
covered = steps >= 24 * COVER_DAY


def temp_of(heat, c, latent):
    full = -(latent + 0.5 * c)
    if heat >= 0:
        return heat / c
    return heat / (latent / 0.5 + c) if heat > full else (heat + latent) / c


def course(p):
    """Air every ten minutes by Radau, hour by hour."""
    y, out = np.array([4.0, 4.0 * p["store"]]), [4.0]
    for h in range(HOURS - 1):
        loss, shade = COVER if h >= 24 * COVER_DAY else (1.0, 1.0)

        def rate(t, y):
            x = t / 3600.0
            at = lambda v: v[h] + (v[h + 1] - v[h]) * x
            body = temp_of(y[1], p["store"], p["latent"])
            through = loss * (p["still"] + p["wind"] * at(wind)) * (at(outside) + p["sky"] * at(sky) - y[0])
            over = p["exchange"] * (body - y[0])
            return [(through + over + p["air_m2"] * shade * at(sun)) / p["air"],
                    -over + p["ground"] * (GROUND_C - body) + p["store_m2"] * shade * at(sun)]

        s = solve_ivp(rate, (0, 3600), y, method="Radau", rtol=1e-8, atol=[1e-7, 1e-1], t_eval=np.arange(600, 3601, 600))
        y = s.y[:, -1]
        out += list(s.y[0])
    return np.array(out)


def quick(x):
    """Air every ten minutes for parameters per capacity of the store, trapezoid in time, Newton on the store."""
    g, c, s, b, d, lat, h0, w = np.exp(x[:8])
    kappa, step, shade_c, e0 = x[8], np.exp(x[9]), np.exp(x[10]), x[11]
    b = b / (1 + b)
    dt, a_c, e = 1.0 / 6.0, 4.0, e0
    loss = (h0 + w * W["wind"]) * np.where(covered, step, 1.0)
    light = s * W["sun"] / 1000 * np.where(covered, shade_c, 1.0)
    out, t = [a_c], temp_of(e, 1.0, lat)
    for i in range(1, len(steps)):
        h_m = 0.5 * (loss[i - 1] + loss[i])
        seen = 0.5 * (W["outside"][i - 1] + W["outside"][i] + kappa * (W["sky"][i - 1] + W["sky"][i]))
        lit = 0.5 * (light[i - 1] + light[i])
        # Air against a steady middle of the store: exact; the store by the air's mean.
        t_mid = t
        for _ in range(3):
            rest = (h_m * seen + g * t_mid + (1 - b) * lit) / (h_m + g)
            k = (h_m + g) / c * dt
            mean = rest + (a_c - rest) * -np.expm1(-k) / k
            e_new = e + dt * (g * (mean - t_mid) + d * (GROUND_C - t_mid) + b * lit)
            t_mid = 0.5 * (t + temp_of(e_new, 1.0, lat))
        a_c = rest + (a_c - rest) * np.exp(-k)
        e, t = e_new, temp_of(e_new, 1.0, lat)
        out.append(a_c)
    return np.array(out)


clean = course(TRUTH)
read = np.round(clean + 0.2 * rng.standard_normal(len(clean)), 2)
h = 3600 / TRUTH["store"]
true = np.array([*np.log([TRUTH["exchange"] * h, TRUTH["air"] / TRUTH["store"],
                          (TRUTH["air_m2"] + TRUTH["store_m2"]) * 1000 * h, TRUTH["store_m2"] / TRUTH["air_m2"],
                          TRUTH["ground"] * h, TRUTH["latent"] / TRUTH["store"], TRUTH["still"] * h,
                          TRUTH["wind"] * h]), TRUTH["sky"], *np.log(COVER), 4.0])
print("quick against Radau:", np.abs(quick(true) - clean).max(), file=sys.stderr)
start = true + np.array([0.3, 0.3, -0.3, 0.2, 0.3, -0.2, 0.3, -0.3, -0.05, 0.2, 0.3, 1.0])
fit = least_squares(lambda x: quick(x) - read, start, method="lm", xtol=1e-10)
residual = fit.fun
cov = np.linalg.inv(fit.jac.T @ fit.jac) * (residual @ residual) / (len(read) - len(start))
print("fit", np.c_[true, fit.x, np.sqrt(np.diag(cov))], file=sys.stderr)

mean_wind = 0.0  # the test takes the mean over its own dark hours
names = ["log_exchange", "log_air_share", "log_aperture", "log_store_over_air", "log_ground", "log_latent_k",
         "log_still", "log_wind", "sky", "log_cover_loss", "log_cover_sun", "start_k"]
json.dump({
    "made_with": {"numpy": np.__version__, "scipy": scipy.__version__},
    "truth": {"still_w_per_k": TRUTH["still"], "wind_w_per_k_per_m_per_s": TRUTH["wind"], "sky_share": TRUTH["sky"],
              "exchange_w_per_k": TRUTH["exchange"], "ground_w_per_k": TRUTH["ground"], "air_j_per_k": TRUTH["air"],
              "store_j_per_k": TRUTH["store"], "latent_j": TRUTH["latent"], "air_aperture_m2": TRUTH["air_m2"],
              "store_aperture_m2": TRUTH["store_m2"]},
    "ground_c": GROUND_C, "cover_day": COVER_DAY, "cover_loss": COVER[0], "cover_sun": COVER[1],
    "hours": [{"temp_c": float(t), "wind_m_per_s": float(v), "cloud": float(c), "sun_w_per_m2": float(s)}
              for t, v, c, s in zip(outside, wind, cloud, sun)],
    "clean_hourly_c": [round(float(v), 4) for v in clean[::6]],
    "read_c": [float(v) for v in read],
    "fit": {n: float(v) for n, v in zip(names, fit.x)},
    "error": {n: float(v) for n, v in zip(names, np.sqrt(np.diag(cov)))},
}, sys.stdout, separators=(",", ":"))
print()
