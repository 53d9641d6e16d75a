import { describe, expect, it } from "vitest";
import { isService, standingOf } from "./forecast";

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
