import { describe, expect, it } from "vitest";
import type { PathLoss, Units } from "$contract";
import { rowsOf } from "./rows";

const metric: Units = { temperature: "celsius", length: "metre", volume: "litre" };
const roof = (tilt_deg: number, azimuth_deg: number, bare_w: number, covered_w: number | null): PathLoss => ({
  path: { kind: "envelope", part: "roof", facing: { tilt_deg, azimuth_deg } },
  size: 2,
  bare_w_per_k: bare_w / 20,
  bare_w,
  covered_w_per_k: covered_w === null ? null : covered_w / 20,
  covered_w,
});
const air: PathLoss = { path: { kind: "air" }, size: 25, bare_w_per_k: 12, bare_w: 240, covered_w_per_k: 6, covered_w: 120 };

describe("rows of a loss", () => {
  it("take the facets of an arch that face one way together", () => {
    const rows = rowsOf([roof(75, 90, 60, 30), roof(45, 90, 50, 25), roof(15, 90, 40, 20), roof(75, 270, 70, 35), air], metric);
    expect(rows.map((row) => row.label)).toEqual(["Air that leaks in and out", "Roof facing east", "Roof facing west"]);
    expect(rows[1]).toMatchObject({ bareW: 150, coveredW: 75, size: "6\u00a0m²" });
    expect(rows[1]?.bareWPerK).toBeCloseTo(7.5, 9);
  });

  it("name no direction for what lies flat", () => {
    expect(rowsOf([roof(0, 0, 10, null)], metric)[0]).toMatchObject({ label: "Roof", coveredW: null, coveredWPerK: null });
  });

  it("keep a gain as a gain, after all losses", () => {
    const wall: PathLoss = { ...air, path: { kind: "envelope", part: "house_wall", facing: { tilt_deg: 90, azimuth_deg: 0 } }, bare_w: -80 };
    const rows = rowsOf([wall, air], metric);
    expect(rows.at(-1)).toMatchObject({ label: "Wall to the house facing north", bareW: -80 });
  });

  it("give sizes in the reader's unit", () => {
    const customary: Units = { temperature: "fahrenheit", length: "foot", volume: "us_gallon" };
    expect(rowsOf([air], customary)[0]?.size).toBe("883\u00a0ft³");
  });
});
