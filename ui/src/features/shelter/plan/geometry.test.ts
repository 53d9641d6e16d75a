import { describe, expect, it } from "vitest";
import type { Outline, Units } from "$contract";
import { areaAfter, beyondOf, doorsOf, linesOf, moved, nameLines, resized, scaleBar, scaleFor, spotWithin, stepOf, toLine } from "./geometry";

const floor = { length_m: 4.2, width_m: 3 };
const corner: Outline = { x_m: 3, y_m: 1, length_m: 1.2, width_m: 1 };
const metric: Units = { temperature: "celsius", length: "metre", volume: "litre" };
const customary: Units = { temperature: "fahrenheit", length: "foot", volume: "us_gallon" };

describe("the scale", () => {
  it("is the same along and across, and fits both ways", () => {
    const wide = scaleFor(floor, 700, 900);
    expect(wide.px * floor.length_m).toBeCloseTo(700 - 68, 9);
    const low = scaleFor(floor, 2000, 300);
    expect(low.px * floor.width_m).toBeCloseTo(300, 9);
    expect(low.left).toBeCloseTo((2000 - low.px * 4.2) / 2, 9);
  });

  it("has a bar that is round in the reader's unit", () => {
    expect(scaleBar(floor, metric)).toEqual({ metres: 1, count: 1 });
    const feet = scaleBar(floor, customary);
    expect(feet.count).toBe(2);
    expect(feet.metres).toBeCloseTo(0.6096, 9);
    expect(scaleBar({ length_m: 0.6, width_m: 0.5 }, metric).count).toBe(0.2);
  });

  it("moves by a decimetre or by three inches", () => {
    expect(stepOf(metric)).toBe(0.1);
    expect(stepOf(customary)).toBeCloseTo(0.0762, 9);
  });
});

describe("zones on the floor", () => {
  it("keep their size at the walls when moved", () => {
    expect(moved(corner, 5, 5, floor)).toEqual({ ...corner, x_m: 3, y_m: 2 });
    expect(moved(corner, -9, -0.3, floor)).toEqual({ ...corner, x_m: 0, y_m: 0.7 });
  });

  it("keep the opposite corner when one is pulled", () => {
    const grown = resized(corner, { far: false, right: false }, -1, -2, floor);
    expect(grown).toEqual({ x_m: 2, y_m: 0, length_m: 2.2, width_m: 2 });
    const walled = resized(corner, { far: true, right: true }, 4, 4, floor);
    expect(walled).toEqual({ x_m: 3, y_m: 1, length_m: 1.2, width_m: 2 });
  });

  it("never turn inside out", () => {
    const least = resized(corner, { far: true, right: false }, -5, 5, floor);
    expect(least).toEqual({ x_m: 3, y_m: 1.9, length_m: 0.1, width_m: 0.1 });
  });

  it("take the nearest line in reach and none beyond it", () => {
    const { x } = linesOf([{ x_m: 0, y_m: 0, length_m: 1.5, width_m: 1 }], floor);
    expect(toLine([1.46, 2.66], x, 0.1)).toBeCloseTo(0.04, 9);
    expect(toLine([1.3, 2.5], x, 0.1)).toBe(0);
    expect(toLine([3.1, 4.25], x, 0.1)).toBeCloseTo(-0.05, 9);
  });

  it("carry the area for plants along only where it was their floor", () => {
    const wider = { ...corner, width_m: 2 };
    expect(areaAfter(1.2, corner, wider)).toBe(2.4);
    expect(areaAfter(0.5, corner, wider)).toBe(0.5);
  });
});

describe("what stands on the floor", () => {
  it("stays on it", () => {
    expect(spotWithin({ x_m: 9, y_m: -1 }, floor)).toEqual({ x_m: 4.2, y_m: 0 });
  });

  it("has doors in their walls, as wide as their area asks for", () => {
    const sheet = { kind: "wall", key: "metal-door" } as const;
    const doors = doorsOf(
      [
        { kind: "door", within: "end", area_m2: 1.6, sheet },
        { kind: "vent", within: "roof", area_m2: 0.4, sheet },
        { kind: "door", within: "side", area_m2: 40, sheet },
      ],
      floor,
      2.3,
    );
    expect(doors).toEqual([
      { side: "behind", width_m: 0.8 },
      { side: "right", width_m: 0.9 * 4.2 },
    ]);
  });

  it("knows the house behind a lean-to on its left", () => {
    expect(beyondOf({ kind: "lean_to", low_side_m: 2, house_c: 18 }).left).toBe("heated");
    expect(beyondOf({ kind: "hoop" }).left).toBe("outdoors");
  });
});

describe("names in a box", () => {
  it("wrap at spaces and end in an ellipsis when they do not fit", () => {
    expect(nameLines("north corner", 12, 2)).toEqual(["north corner"]);
    expect(nameLines("north corner", 8, 2)).toEqual(["north", "corner"]);
    expect(nameLines("north corner", 8, 1)).toEqual(["north…"]);
    expect(nameLines("overwintering", 6, 2)).toEqual(["overw…"]);
    expect(nameLines("bench", 1, 2)).toEqual([]);
  });
});
