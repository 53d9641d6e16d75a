import { describe, expect, it } from "vitest";
import type { NightPoint, ZoneTonight } from "$contract";
import { bandOf, heatBlocks, knowsHeat, limitsOf, markOf, nearest, nightPart, pathOf, spread, zoneCourses } from "./chart";

const point = (hour: number, outside_c: number, zone_c: number[], heated_c: number[] = [], heat_w = 0): NightPoint => ({
  at: new Date(Date.UTC(2026, 10, 25, 12 + hour)).toISOString(),
  outside_c,
  zone_c,
  heated_c,
  heat_w,
});
const zone = (zone_id: string, limit_c: number | null): ZoneTonight => ({
  zone_id,
  name: zone_id,
  low_c: -2,
  low_10_c: -4,
  low_90_c: -0.5,
  hold_k: 5,
  low_slope: 0.9,
  limit: limit_c == null ? null : { limit_c, planting_id: "p", label: "Lemon", is_own: false },
  risk: null,
  heat_below_c: null,
  heated_low_c: null,
});

describe("the band of doubt", () => {
  const doubt = { low_c: -2, low_10_c: -4, low_90_c: -0.5 };

  it("is nothing at the known high of the afternoon and whole from the low on", () => {
    const band = bandOf([4, 6, 1, -4, -1], [8, 9, 3, -2, 2], doubt);
    expect(band[0]).toEqual({ below_c: 8, above_c: 8 });
    expect(band[1]).toEqual({ below_c: 9, above_c: 9 });
    expect(band[3]?.below_c).toBeCloseTo(-4);
    expect(band[3]?.above_c).toBeCloseTo(-0.5);
    expect((band[4]?.above_c ?? 0) - (band[4]?.below_c ?? 0)).toBeCloseTo(3.5);
  });

  it("grows with the fall outdoors and never shrinks when it pauses", () => {
    const band = bandOf([6, 1, 3, -4], [6, 3, 3, -2], doubt);
    const width = band.map((one) => one.above_c - one.below_c);
    expect(width[1]).toBeCloseTo(3.5 / 2);
    expect(width[2]).toBeCloseTo(3.5 / 2);
  });

  it("stays finite on a night without any fall", () => {
    for (const one of bandOf([3, 3, 3], [5, 5, 5], doubt)) expect(Number.isFinite(one.below_c)).toBe(true);
  });
});

describe("labels at the lines' ends", () => {
  it("keep their distance, their order and the room they have", () => {
    const placed = spread([50, 52, 51, 10], 15, 0, 100);
    const sorted = [...placed].sort((a, b) => a - b);
    for (let index = 1; index < sorted.length; index += 1) expect((sorted[index] ?? 0) - (sorted[index - 1] ?? 0)).toBeGreaterThanOrEqual(15);
    expect(placed[0]).toBeLessThan(placed[2] ?? 0);
    expect(placed[2]).toBeLessThan(placed[1] ?? 0);
    expect(placed[3]).toBe(10);
  });

  it("are pushed back from the lower edge", () => {
    expect(spread([98, 99, 100], 10, 0, 100)).toEqual([80, 90, 100]);
  });

  it("have short marks", () => {
    expect([0, 1, 25, 26].map(markOf)).toEqual(["A", "B", "Z", "A2"]);
  });
});

describe("the course of a night", () => {
  const course = [point(0, 4, [8, 9], [8, 9]), point(1, 0, [4, 5], [4.5, 5.5], 500), point(2, -4, [-2, -1], [2, 3], 2500), point(3, -1, [0, 1], [2, 3])];

  it("gives every zone its line without heat and with it", () => {
    const night = { zones: [zone("a", 0), zone("b", -5)], course };
    expect(zoneCourses(night, false).map((line) => line.temps_c)).toEqual([[8, 4, -2, 0], [9, 5, -1, 1]]);
    expect(zoneCourses(night, true)[1]?.temps_c).toEqual([9, 5.5, 3, 3]);
    expect(knowsHeat(course)).toBe(true);
    expect(knowsHeat(course.map((one) => ({ ...one, heated_c: [] })))).toBe(false);
    expect(knowsHeat([])).toBe(false);
  });

  it("shows when the heater runs, at most at its rating", () => {
    expect(heatBlocks(course, 2000)).toEqual([{ from: 1, to: 2, share: 0.25 }, { from: 2, to: 3, share: 1 }]);
  });

  it("is drawn around its coldest hour, not with the sun of the days beside it", () => {
    const day = Array.from({ length: 48 }, (_, half) => point(half / 2, half === 38 ? -9 : Math.abs(half - 38) / 4, [0]));
    const part = nightPart(day);
    expect(part.length).toBe(33);
    expect(part.at(-5)?.outside_c).toBe(-9);
    expect(nightPart(day.slice(30)).length).toBe(13);
  });

  it("names a limit that zones share once", () => {
    expect(limitsOf({ zones: [zone("a", 0), zone("b", null), zone("c", 0), zone("d", -3)] })).toEqual([
      { limit_c: 0, keys: ["a", "c"], marks: ["A", "C"] },
      { limit_c: -3, keys: ["d"], marks: ["D"] },
    ]);
  });

  it("is read at the nearest moment, and leaves a gap where nothing is known", () => {
    expect(nearest([0, 10, 20], 14)).toBe(1);
    expect(nearest([0, 10, 20], 999)).toBe(2);
    expect(pathOf([0, 1, 2, 3], [5, Number.NaN, 6, 7])).toBe("M0.0 5.0M2.0 6.0L3.0 7.0");
  });
});
