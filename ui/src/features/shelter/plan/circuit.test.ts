import { describe, expect, it } from "vitest";
import type { Units } from "$contract";
import { circuitOf, gauges, gaugeWord, usualCord } from "./circuit";

const metric: Units = { temperature: "celsius", length: "metre", volume: "litre" };

describe("conductors", () => {
  it("are named as each market names them", () => {
    expect(gaugeWord("awg14")).toBe("14 AWG");
    expect(gaugeWord("mm0_75")).toBe("0.75 mm²");
    expect(gaugeWord("mm1_0")).toBe("1 mm²");
    expect(gaugeWord("mm2_5")).toBe("2.5 mm²");
  });

  it("are all offered, those of the reader's market first", () => {
    expect(gauges(metric)[0]).toBe("mm0_75");
    expect(gauges({ ...metric, length: "foot" })[0]).toBe("awg18");
    expect(new Set(gauges(metric)).size).toBe(9);
  });
});

describe("a circuit that is typed", () => {
  const typed = { volts: 230, breaker_a: 16, other_load_w: null, has_residual_current_device: true, cord: null };

  it("has no other load where none is entered", () => {
    expect(circuitOf(typed)).toEqual({ ...typed, other_load_w: 0 });
  });

  it("is none while a figure is missing", () => {
    expect(circuitOf({ ...typed, breaker_a: null })).toBeNull();
    expect(circuitOf({ ...typed, cord: { ...usualCord(metric), length_m: null } })).toBeNull();
    expect(circuitOf({ ...typed, cord: usualCord(metric) })?.cord?.length_m).toBe(10);
  });
});
