import { describe, expect, it } from "vitest";
import type { Cover, Heater, HeaterKind, MaterialsList, ShelterBuild } from "$contract";
import { spanOf, mostOf } from "./bars";
import { formatMoney } from "./money";
import { copyOf, draftOf, firstSetUps, nameOf, NO_HEATER, setUpOf } from "./setups";

const materials = {
  glazing: [],
  walls: [],
  covers: [{ key: "tarp-dark", name: "Dark tarp" } as Cover, { key: "bubble-film", name: "Bubble film" } as Cover],
  heaters: [{ key: "fan-electric", name: "Fan heater", usual_rating_w: 2000 } as HeaterKind],
} satisfies MaterialsList;
const bubble = { key: "bubble-film", parts: [], from: "2026-11-01", to: null };
const build = (covers: ShelterBuild["covers"]) => ({ covers }) as unknown as ShelterBuild;

describe("set-ups to begin with", () => {
  it("are bare and what is recorded, under the heater that stands there", () => {
    const heaters = [{ key: "fan-electric", rating_w: 1500, set_c: 4 } as Heater];
    const [bare, covered] = firstSetUps({ heaters, build: build([bubble]) }, materials);
    expect(bare).toMatchObject({ name: "Bare", covers: [], heater: "fan-electric", rating_w: 1500, set_c: 4 });
    expect(covered).toMatchObject({ name: "Bubble film", covers: [bubble], rating_w: 1500 });
  });

  it("take the first cover and the usual heater where nothing is recorded", () => {
    const [, covered] = firstSetUps({ heaters: [], build: build([]) }, materials);
    expect(covered).toMatchObject({ name: "Dark tarp", heater: "fan-electric", rating_w: 2000, set_c: null });
  });
});

describe("a set-up that is put together", () => {
  const heated = { name: "Both", covers: [bubble], heater: { key: "fan-electric", rating_w: 2000, set_c: null } };

  it("comes out as it went in", () => {
    expect(setUpOf(draftOf(heated))).toEqual(heated);
    expect(setUpOf(draftOf({ ...heated, heater: null }))).toEqual({ ...heated, heater: null });
  });

  it("is none without a name or a rating", () => {
    expect(setUpOf({ ...draftOf(heated), name: "  " })).toBeNull();
    expect(setUpOf({ ...draftOf(heated), rating_w: null })).toBeNull();
    expect(setUpOf({ ...draftOf(heated), rating_w: null, heater: NO_HEATER })).not.toBeNull();
  });

  it("is copied without ties to the first", () => {
    const first = draftOf(heated);
    const copy = copyOf(first);
    copy.covers[0]!.key = "tarp-dark";
    expect(first.covers[0]?.key).toBe("bubble-film");
    expect(copy.id).not.toBe(first.id);
  });

  it("is called by its covers", () => {
    expect(nameOf([bubble, { ...bubble, key: "tarp-dark" }], materials)).toBe("Bubble film + Dark tarp");
    expect(nameOf([], materials)).toBe("Bare");
  });
});

describe("scales of the pictures", () => {
  const spread = { mean: -3, low: -7.5, median: -3, high: 0.5 };

  it("hold every range and every limit", () => {
    expect(spanOf([spread], [-12, null, 2.5])).toEqual([-13, 4]);
    expect(spanOf([], [])).toEqual([-10, 10]);
  });

  it("have an end even where nothing is heated", () => {
    expect(mostOf([{ mean: 0, low: 0, median: 0, high: 0 }])).toBe(1);
    expect(mostOf([{ mean: 90, low: 20, median: 60, high: 200 }])).toBe(200);
  });
});

describe("money", () => {
  it("is whole from ten on and has a real minus", () => {
    expect(formatMoney(253.6, "EUR", "en-GB")).toBe("€254");
    expect(formatMoney(-3.5, "USD", "en-US")).toBe("−$3.50");
  });

  it("is shown for a currency that no list knows", () => {
    expect(formatMoney(12, "Q1", "en-GB")).toBe("Q1\u00a012");
  });
});
