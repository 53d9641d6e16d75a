import { describe, expect, it } from "vitest";
import type { Units } from "$contract";
import { isService, standingOf } from "./forecast";
import { countingUnit, FUELS, priceKept, priceShown } from "./prices";

const metric: Units = { temperature: "celsius", length: "metre", volume: "litre" };
const customary: Units = { temperature: "fahrenheit", length: "foot", volume: "us_gallon" };

describe("prices of fuels", () => {
  it("are asked for in the unit in which each is billed", () => {
    expect(FUELS.map((fuel) => countingUnit(fuel, metric))).toEqual(["kwh", "cubic_metre", "litre", "litre"]);
    expect(FUELS.map((fuel) => countingUnit(fuel, customary))).toEqual(["kwh", "hundred_cubic_feet", "gallon", "gallon"]);
  });

  it("are kept per kWh, litre and cubic metre", () => {
    // A US gallon is 231 cubic inches of 25.4 mm, a foot is 304.8 mm (NIST Special Publication 811, appendix B).
    expect(priceKept(231 * 25.4 ** 3 / 1e6, "gallon")).toBeCloseTo(1, 12);
    expect(priceKept(100 * 0.3048 ** 3, "hundred_cubic_feet")).toBeCloseTo(1, 12);
    expect(priceKept(0.31, "kwh")).toBe(0.31);
    for (const unit of ["kwh", "litre", "gallon", "cubic_metre", "hundred_cubic_feet"] as const) expect(priceKept(priceShown(1.7, unit), unit)).toBeCloseTo(1.7, 12);
  });
});

describe("the standing of a forecast", () => {
  const night = { night_of: "2026-11-25", lead_days: 0, low_c: -3, low_at_utc: "2026-11-26T05:00:00Z", next_high_c: null, cloud_fraction: null, wind_m_per_s: null };

  it("tells fresh from kept from none", () => {
    expect(standingOf(undefined, true)).toBe("fetching");
    expect(standingOf(undefined, false)).toBe("unknown");
    expect(standingOf({ nights: [night], problem: null }, false)).toBe("fresh");
    expect(standingOf({ nights: [night], problem: "no answer" }, false)).toBe("kept");
    expect(standingOf({ nights: [], problem: "no answer" }, false)).toBe("none");
  });

  it("knows which sources send something away", () => {
    expect((["off", "file", "met_norway", "us_nws"] as const).filter(isService)).toEqual(["met_norway", "us_nws"]);
  });
});
