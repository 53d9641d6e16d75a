import { describe, expect, it } from "vitest";
import type { Units } from "$contract";
import { sidesOf, turned, windOf } from "./facing";
import { placeOf, viewOf } from "./places";
import { formatCoefficient, formatPower } from "./power";

const metric: Units = { temperature: "celsius", length: "metre", volume: "litre" };
const customary: Units = { temperature: "fahrenheit", length: "foot", volume: "us_gallon" };

describe("addresses", () => {
  it("lead to a view, and to the plan where none is named", () => {
    expect(viewOf("loss")).toBe("loss");
    expect(viewOf("attic")).toBe("plan");
    expect(viewOf(undefined)).toBe("plan");
    expect(placeOf("a b", "compare")).toBe("/shelter/a%20b/compare");
  });
});

describe("directions", () => {
  it("are named by the nearest wind, over the north too", () => {
    expect([0, 22, 23, 90, 200, 338, 360, -45].map(windOf)).toEqual(["north", "north", "north-east", "east", "south", "north", "north", "north-west"]);
    expect(turned(-90)).toBe(270);
  });

  it("of the sides follow the length", () => {
    expect(sidesOf(90)).toEqual({ ahead: 90, right: 180, behind: 270, left: 0 });
  });
});

describe("heat", () => {
  it("comes with BTU/h where growers buy by it (1 W is 3.412 BTU/h, NIST SP 811, appendix B)", () => {
    expect(formatPower(1500, metric)).toBe("1,500\u00a0W");
    expect(formatPower(1500, customary)).toBe("1,500\u00a0W (5,120\u00a0BTU/h)");
    expect(formatPower(29.31, customary)).toBe("29\u00a0W (100\u00a0BTU/h)");
  });

  it("per degree is 1.896 BTU/(h·°F) for a W/K (NIST SP 811, appendix B: 1 BTU/°F is 1899.101 J/K)", () => {
    expect(formatCoefficient(52.7, metric)).toBe("52.7\u00a0W/K");
    expect(formatCoefficient(52.753, customary)).toBe("100\u00a0BTU/(h·°F)");
  });
});
