import { describe, expect, it } from "vitest";
import type { Units } from "$contract";
import { formatCoordinates, parseCoordinate, parsePair } from "./coordinates";
import { fieldText, formatFigure, formatNumber, fromShown, guessUnits, parseNumber, toShown } from "./index";

const metric: Units = { temperature: "celsius", length: "metre", volume: "litre" };
const customary: Units = { temperature: "fahrenheit", length: "foot", volume: "us_gallon" };

describe("conversion", () => {
  it("meets the fixed points of the Fahrenheit scale", () => {
    expect(toShown(0, "temperature", customary)).toBe(32);
    expect(toShown(-40, "temperature", customary)).toBe(-40);
    expect(toShown(100, "temperature", customary)).toBe(212);
  });

  it("moves differences without the offset", () => {
    expect(toShown(5, "difference", customary)).toBe(9);
  });

  it("uses the exact foot and US gallon (NIST Handbook 44, appendix C)", () => {
    expect(fromShown(1, "length", customary)).toBeCloseTo(0.3048, 12);
    expect(fromShown(1, "volume", customary)).toBeCloseTo(3.785411784, 12);
    expect(fromShown(1, "area", customary)).toBeCloseTo(0.09290304, 12);
  });

  it("keeps what is not quite never or always apart from never and always", () => {
    const shown = [0, 0.0002, 0.004, 0.26, 0.9993, 0.99996, 1].map((share) => formatFigure(share, "percent", metric, "en-GB"));
    expect(shown).toEqual(["0%", "0.1%", "0.4%", "26%", "99.9%", "99.9%", "100%"]);
  });

  it("shows wind as forecasts give it: a mile per hour is 0.44704 m/s (NIST Special Publication 811, appendix B)", () => {
    expect(fromShown(1, "speed", customary)).toBeCloseTo(0.44704, 12);
    expect(fromShown(3.6, "speed", metric)).toBeCloseTo(1, 12);
    expect(formatFigure(5, "speed", metric, "en-GB")).toBe("18\u00a0km/h");
  });

  it("comes back to where it started", () => {
    for (const quantity of ["temperature", "difference", "length", "area", "volume"] as const) {
      for (const value of [-40, -2.2, 0, 3.1, 470]) {
        expect(fromShown(toShown(value, quantity, customary), quantity, customary)).toBeCloseTo(value, 9);
      }
    }
  });
});

describe("figures", () => {
  it("carry a minus sign and never a signed zero", () => {
    expect(formatFigure(-2.2, "temperature", metric, "en-GB")).toBe("−2.2\u00a0°C");
    expect(formatNumber(-0.04, 1, "en-GB")).toBe("0");
    expect(formatNumber(-0.4, 1, "en-GB")).toBe("−0.4");
  });

  it("show the thresholds of freeze statistics as round Fahrenheit", () => {
    expect(formatFigure(-2.2, "temperature", customary, "en-US")).toBe("28\u00a0°F");
    expect(formatFigure(-4.4, "temperature", customary, "en-US")).toBe("24\u00a0°F");
  });

  it("take the separators of the reader", () => {
    expect(formatNumber(1234.5, 1, "en-GB")).toBe("1,234.5");
    expect(formatNumber(1234.5, 1, "de-DE")).toBe("1.234,5");
    expect(fieldText(-12.5, "temperature", metric, "de-AT")).toBe("−12,5");
  });

  it("have the decimals that their size deserves", () => {
    expect(formatFigure(0.25, "area", metric, "en-GB")).toBe("0.25\u00a0m²");
    expect(formatFigure(12.34, "volume", metric, "en-GB")).toBe("12.3\u00a0L");
    expect(formatFigure(470.4, "length", metric, "en-GB")).toBe("470\u00a0m");
  });
});

describe("typed numbers", () => {
  it("may have a comma, a point, a hyphen or a minus", () => {
    expect(parseNumber("−2,5")).toBe(-2.5);
    expect(parseNumber(" -2.5 ")).toBe(-2.5);
    expect(parseNumber("10")).toBe(10);
    expect(parseNumber(".5")).toBe(0.5);
  });

  it("are refused when they could mean two things or nothing", () => {
    for (const text of ["", "ten", "1,234.5", "1.2.3", "5 °C", "--3"]) expect(parseNumber(text)).toBeNull();
  });
});

describe("coordinates", () => {
  it("are shown with their half of the globe, never with a sign", () => {
    expect(formatCoordinates({ latitude_deg: 47.7, longitude_deg: 13.1 })).toBe("47.7° north, 13.1° east");
    expect(formatCoordinates({ latitude_deg: -36.25, longitude_deg: -71.5 })).toBe("36.25° south, 71.5° west");
  });

  it("are read as maps and people write them", () => {
    expect(parseCoordinate("47.7")).toBe(47.7);
    expect(parseCoordinate("47,7 N")).toBe(47.7);
    expect(parseCoordinate("33° 27′ 36″ S")).toBeCloseTo(-33.46, 6);
    expect(parseCoordinate("70.6 W")).toBe(-70.6);
    expect(parseCoordinate("-13.1")).toBe(-13.1);
  });

  it("split from a pair, with decimal commas too", () => {
    expect(parsePair("47.7, 13.1")).toEqual({ latitude: 47.7, longitude: 13.1 });
    expect(parsePair("47.7,13.1")).toEqual({ latitude: 47.7, longitude: 13.1 });
    expect(parsePair("47,7; 13,1")).toEqual({ latitude: 47.7, longitude: 13.1 });
    expect(parsePair("33.5 S 70.6 W")).toEqual({ latitude: -33.5, longitude: -70.6 });
  });

  it("are refused outside the globe or with odd minutes", () => {
    expect(parsePair("97.7, 13.1")).toBeNull();
    expect(parsePair("47.7")).toBeNull();
    expect(parseCoordinate("47° 75′ N")).toBeNull();
    expect(parseCoordinate("north")).toBeNull();
  });
});

describe("the first guess of units", () => {
  it("follows the region", () => {
    expect(guessUnits("US")).toEqual({ units: customary, currency: "USD" });
    expect(guessUnits("AT")).toEqual({ units: metric, currency: "EUR" });
    expect(guessUnits("GB").currency).toBe("GBP");
    expect(guessUnits(undefined).units).toEqual(metric);
  });
});
