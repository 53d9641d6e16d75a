import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { KEYS_MS, PlanHand, type Ground } from "./hand.svelte";
import type { Placed } from "./items";

const zone: Placed = { kind: "zone", id: "z", outline: { x_m: 1, y_m: 1, length_m: 1, width_m: 1 } };
const sensor: Placed = { kind: "sensor", id: "s", spot: { x_m: 2, y_m: 1 } };
const mouse = (clientX: number, clientY: number) => ({ button: 0, pointerType: "mouse", clientX, clientY });
const key = (name: string, shiftKey = false) => ({ key: name, shiftKey, ctrlKey: false, altKey: false, metaKey: false });

function groundOf(over: Partial<Ground> = {}) {
  const kept: Placed[] = [];
  const ground: Ground = {
    floor: () => ({ length_m: 4, width_m: 3 }),
    px: () => 100,
    units: () => ({ temperature: "celsius", length: "metre", volume: "litre" }),
    selected: () => null,
    others: () => [],
    stands: () => false,
    keep: async (item) => {
      kept.push(item);
      return true;
    },
    ...over,
  };
  return { hand: new PlanHand(ground), kept };
}

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

describe("a hand on the plan", () => {
  it("drags to the grid and sends once, on letting go", () => {
    const { hand, kept } = groundOf();
    hand.press(mouse(0, 0), sensor);
    hand.pull(mouse(2, 1));
    expect(hand.draft).toBeNull();
    hand.pull(mouse(53, -26));
    hand.pull(mouse(61, -26));
    hand.release();
    expect(kept).toEqual([{ ...sensor, spot: { x_m: 2.6, y_m: 0.75 } }]);
  });

  it("sends nothing for a press that did not move", () => {
    const { hand, kept } = groundOf();
    hand.press(mouse(0, 0), zone);
    hand.pull(mouse(1, 1));
    hand.release();
    expect(kept).toEqual([]);
  });

  it("takes a zone's side to the neighbour's", () => {
    const { hand, kept } = groundOf({ others: () => [{ x_m: 2.33, y_m: 0, length_m: 1, width_m: 1 }] });
    hand.press(mouse(0, 0), zone);
    hand.pull(mouse(30, 0));
    hand.release();
    expect(kept[0]).toMatchObject({ outline: { x_m: 1.33, length_m: 1 } });
  });

  it("pulls a corner while the opposite one stays", () => {
    const { hand, kept } = groundOf();
    hand.press(mouse(0, 0), zone, { far: false, right: true });
    hand.pull(mouse(-50, 50));
    hand.release();
    expect(kept[0]).toMatchObject({ outline: { x_m: 0.5, y_m: 1, length_m: 1.5, width_m: 1.5 } });
  });

  it("leaves a swipe to the page until the thing was chosen", () => {
    const touch = { ...mouse(0, 0), pointerType: "touch" };
    expect(groundOf().hand.press(touch, zone)).toBe(false);
    expect(groundOf({ selected: () => "zone:z" }).hand.press(touch, zone)).toBe(true);
    expect(groundOf().hand.press({ ...mouse(0, 0), button: 2 }, zone)).toBe(false);
  });

  it("counts a row of arrow keys as one change", async () => {
    const { hand, kept } = groundOf();
    hand.key(key("ArrowRight"), zone);
    hand.key(key("ArrowRight"), zone);
    hand.key(key("ArrowDown", true), zone);
    await vi.advanceTimersByTimeAsync(KEYS_MS);
    expect(kept).toEqual([{ ...zone, outline: { x_m: 1.2, y_m: 1, length_m: 1, width_m: 1.1 } }]);
  });

  it("takes back on Escape what was not sent yet, and leaves other keys alone", async () => {
    const { hand, kept } = groundOf();
    expect(hand.key(key("Escape"), zone)).toBe(false);
    hand.key(key("ArrowLeft"), zone);
    expect(hand.key(key("Escape"), zone)).toBe(true);
    await vi.advanceTimersByTimeAsync(2 * KEYS_MS);
    expect(kept).toEqual([]);
    expect(hand.key(key("Tab"), zone)).toBe(false);
    expect(hand.key({ ...key("ArrowLeft"), altKey: true }, zone)).toBe(false);
  });

  it("shows the old place again when the new one is refused", async () => {
    const { hand } = groundOf({ keep: async () => false });
    hand.key(key("ArrowLeft"), sensor);
    await hand.settle();
    expect(hand.now(sensor)).toEqual(sensor);
  });

  it("keeps the new place in sight until the record has caught up", async () => {
    const { hand } = groundOf();
    hand.key(key("ArrowLeft"), sensor);
    hand.caughtUp();
    expect(hand.draft).not.toBeNull();
    await hand.settle();
    expect(hand.now(sensor)).toMatchObject({ spot: { x_m: 1.9 } });
    hand.caughtUp();
    expect(hand.draft).toBeNull();
  });
});
