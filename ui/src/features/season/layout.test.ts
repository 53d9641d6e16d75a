import { describe, expect, it } from "vitest";
import type { Plan, Planting } from "$contract";
import { GAP, layoutOf, NARROW, thresholdsOf, WIDE } from "./layout";

const planting = (id: string, label: string): Planting => ({
  id,
  site_id: "s",
  plant_key: "p",
  label,
  count: 1,
  container: { kind: "lifted" },
  zone_id: null,
  own_limit_c: null,
  footprint_m2: null,
});

const plan: Plan = {
  season: { start_year: 2026, name: "2026–27", starts_on: "2026-07-01", ends_on: "2027-06-30" },
  chores: [],
  bands: [
    { kind: "first_autumn", threshold_c: -4.4, from: "2026-11-01", median: "2026-11-12", to: "2026-11-30" },
    { kind: "first_autumn", threshold_c: 0, from: "2026-10-10", median: "2026-10-22", to: "2026-11-04" },
    { kind: "last_spring", threshold_c: 0, from: "2027-04-10", median: "2027-04-24", to: "2027-05-12" },
  ],
  stages: [
    { planting_id: "a", stage: "dormant", from: "2026-11-01", to: "2027-02-28" },
    { planting_id: "b", stage: "dormant", from: "2026-11-01", to: "2027-02-28" },
    { planting_id: "c", stage: "dormant", from: "2026-12-01", to: "2027-02-28" },
  ],
  problems: [],
};

describe("the layout of the picture", () => {
  const lanes = [{ key: "x", name: "X", chores: [] }];
  const layout = layoutOf(plan, lanes, [planting("a", "Dahlia"), planting("b", "Canna"), planting("c", "Fig"), planting("d", "Bay")], WIDE);

  it("has one row per threshold, the mildest on top", () => {
    expect(thresholdsOf(plan.bands)).toEqual([0, -4.4]);
    expect(layout.frost.map((row) => [row.threshold_c, row.bands.length, row.y])).toEqual([
      [0, 2, WIDE.axis],
      [-4.4, 1, WIDE.axis + WIDE.frost],
    ]);
  });

  it("draws plantings with the same stages once, and leaves out those without", () => {
    expect(layout.stages.map((row) => row.names)).toEqual([["Dahlia", "Canna"], ["Fig"]]);
  });

  it("stacks its parts without overlap and ends below the last", () => {
    const lane = WIDE.axis + 2 * WIDE.frost + GAP;
    const stage = lane + WIDE.lane + GAP;
    expect(layout.lanes[0]?.y).toBe(lane);
    expect(layout.stages[0]?.y).toBe(stage);
    expect(layout.height).toBe(stage + 2 * WIDE.stage + GAP);
  });

  it("is taller where names stand above the rows", () => {
    const narrow = layoutOf(plan, lanes, [planting("a", "Dahlia")], NARROW);
    expect(narrow.frost[1]?.y).toBe(NARROW.axis + NARROW.frost);
    expect(NARROW.frost - NARROW.name).toBeGreaterThanOrEqual(20);
  });
});
