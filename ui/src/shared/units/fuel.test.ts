import { describe, expect, it } from "vitest";
import type { Units } from "$contract";
import { countingUnit, FUELS, fuelText, priceKept, priceShown } from "./fuel";

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

describe("an amount of fuel", () => {
  it("is told in the unit of its price", () => {
    expect(fuelText({ fuel: "propane", units: 3.785411784 }, customary, "propane")).toBe("1\u00a0US gal of propane");
    expect(fuelText({ fuel: "propane", units: 1.44 }, metric, "propane")).toBe("1.4\u00a0L of propane");
    expect(fuelText({ fuel: "natural_gas", units: 2.8316846592 }, customary, "gas")).toBe("1 × 100\u00a0ft³ of gas");
    expect(fuelText({ fuel: "electricity", units: 4 }, metric, "electricity")).toBe("4\u00a0kWh of electricity");
  });
});
