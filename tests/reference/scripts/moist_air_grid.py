"""Saturation pressure and moist-air states from PsychroLib, for tests/air.rs.

Run:  pip install PsychroLib==2.5.0
      python scripts/moist_air_grid.py > data/moist_air_grid.json
"""

import json
import sys

import psychrolib as p

p.SetUnitSystem(p.SI)
PRESSURE = 101325.0


def main():
    saturation = [[t, p.GetSatVapPres(float(t))] for t in range(-40, 51)]
    states = []
    for t in (-25, -15, -10, -5, -2, 0, 1, 2, 5, 8, 12, 15, 20, 25, 30, 40):
        for rh in (0.2, 0.5, 0.8, 0.95, 1.0):
            w = p.GetHumRatioFromRelHum(t, rh, PRESSURE)
            states.append({
                "temp_c": t, "rh": rh, "vapour_pa": p.GetVapPresFromRelHum(t, rh),
                "dew_c": p.GetTDewPointFromRelHum(t, rh), "ratio": w,
                "deficit_pa": p.GetVaporPressureDeficit(t, w, PRESSURE),
                "enthalpy": p.GetMoistAirEnthalpy(t, w),
                "volume": p.GetMoistAirVolume(t, w, PRESSURE),
                "density": p.GetMoistAirDensity(t, w, PRESSURE)})
    json.dump({"made_with": {"PsychroLib": "2.5.0"}, "saturation": saturation, "states": states,
               "pressure_at_elevation": [[z, p.GetStandardAtmPressure(z)] for z in (-100, 0, 470, 1800, 3000)]},
              sys.stdout, indent=None)
    print()


main()
