import { describe, expect, it } from "vitest";
import { dayArc } from "./dayArc";

const rise = new Date("2026-11-25T06:27:00Z");
const set = new Date("2026-11-25T15:21:00Z");

describe("the arc of a day", () => {
  it("lies at the clock times of the place", () => {
    const arc = dayArc(rise, set, null, "Europe/Vienna");
    expect(arc.rise).toBeCloseTo(((7 + 27 / 60) / 24) * 240, 5);
    expect(arc.set).toBeCloseTo(((16 + 21 / 60) / 24) * 240, 5);
    expect(arc.sun).toBeNull();
  });

  it("has the sun on the drawn curve, highest at midday, none at night", () => {
    const noon = new Date((rise.getTime() + set.getTime()) / 2);
    const middle = dayArc(rise, set, noon, "Europe/Vienna").sun;
    const early = dayArc(rise, set, new Date("2026-11-25T07:00:00Z"), "Europe/Vienna").sun;
    expect(middle && early && middle.y < early.y).toBe(true);
    expect(dayArc(rise, set, new Date("2026-11-25T20:00:00Z"), "Europe/Vienna").sun).toBeNull();
  });

  it("stays on the strip when the sun sets after midnight", () => {
    const late = dayArc(new Date("2026-06-10T01:30:00Z"), new Date("2026-06-10T23:10:00Z"), null, "Europe/Vienna");
    expect(late.set).toBeLessThanOrEqual(240);
  });
});
