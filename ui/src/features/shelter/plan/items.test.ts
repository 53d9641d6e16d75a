import { describe, expect, it } from "vitest";
import type { FloorPlan, Zone } from "$contract";
import { isSame, middleOf, zoneAt } from "./items";

const zones = [{ id: "floor" }, { id: "bench" }] as Zone[];
const floor_plan: FloorPlan = {
  length_m: 4,
  width_m: 3,
  north_deg: 0,
  zones: [
    { zone_id: "floor", outline: { x_m: 0, y_m: 0, length_m: 4, width_m: 2.5 }, is_drawn: true },
    { zone_id: "bench", outline: { x_m: 1, y_m: 0, length_m: 2, width_m: 0.6 }, is_drawn: true },
  ],
  heaters: [],
  coldest: { x_m: 0.2, y_m: 0.2 },
  findings: [],
};
const detail = { floor_plan, zones };

describe("what lies where", () => {
  it("a spot belongs to the smallest zone that holds it", () => {
    expect(zoneAt(detail, { x_m: 2, y_m: 0.3 })?.id).toBe("bench");
    expect(zoneAt(detail, { x_m: 2, y_m: 1.3 })?.id).toBe("floor");
    expect(zoneAt(detail, { x_m: 2, y_m: 2.8 })).toBeUndefined();
  });

  it("a new thing goes into the middle of its zone, else of the floor", () => {
    expect(middleOf(detail, "bench")).toEqual({ x_m: 2, y_m: 0.3 });
    expect(middleOf(detail, null)).toEqual({ x_m: 2, y_m: 1.5 });
  });

  it("a change is told from none", () => {
    const heater = { kind: "heater", id: "h", spot: { x_m: 1, y_m: 1 } } as const;
    expect(isSame(heater, { ...heater, spot: { x_m: 1, y_m: 1 } })).toBe(true);
    expect(isSame(heater, { ...heater, spot: { x_m: 1, y_m: 1.1 } })).toBe(false);
    expect(isSame(heater, { ...heater, kind: "sensor" })).toBe(false);
    const zone = { kind: "zone", id: "h", outline: { x_m: 0, y_m: 0, length_m: 1, width_m: 1 } } as const;
    expect(isSame(zone, zone)).toBe(true);
    expect(isSame(zone, { ...zone, outline: { ...zone.outline, width_m: 2 } })).toBe(false);
    expect(isSame(zone, heater)).toBe(false);
  });
});
