import { describe, expect, it } from "vitest";
import type { Plant, Zone } from "$contract";
import { figuresOfClass, fittingZone, hardinessClasses, keyFor, searchPlants, usualContainer } from "./plantDefaults";

function plant(name: string, more: Partial<Plant> = {}): Plant {
  return {
    key: name.toLowerCase(),
    name,
    botanical_name: "",
    habit: "evergreen",
    winter_light: "bright",
    winter_water: "moderate",
    ...figuresOfClass("H3"),
    toxicity: "",
    note: "",
    evidence: "own",
    source: "",
    ...more,
  };
}

const zone = (id: string, light: Zone["light"]): Zone => ({
  id,
  shelter_id: "s",
  name: id,
  area_m2: 1,
  light,
  offset_k: 0,
  kept_above_c: null,
  outline: null,
  water_l: 0,
});

describe("figures of a hardiness class", () => {
  it("take the warm end of the class (RHS 2013: H4 stands −10 to −5 °C)", () => {
    expect(figuresOfClass("H4").shoot_dormant.temp_c).toBe(-5);
    expect(figuresOfClass("H2").shoot_dormant.temp_c).toBe(5);
  });

  it("agree with each other in every class, as the host demands", () => {
    for (const { key } of hardinessClasses) {
      const figures = figuresOfClass(key);
      expect(figures.shoot_in_leaf.temp_c).toBeGreaterThanOrEqual(figures.shoot_dormant.temp_c);
      expect(figures.root_in_pot.temp_c).toBeGreaterThanOrEqual(figures.shoot_dormant.temp_c);
      expect(figures.store_high_c).toBeGreaterThan(figures.store_low_c);
      expect(figures.move_in_at_c).toBeGreaterThanOrEqual(figures.shoot_dormant.temp_c);
      expect(Math.abs(figures.move_in_at_c)).toBeLessThanOrEqual(20);
      expect(figures.store_low_c).toBeGreaterThanOrEqual(figures.root_in_pot.temp_c);
    }
  });

  it("bring the tender in before the tough", () => {
    const order = ["early", "before_frost", "light_frost", "last_in"];
    const passes = hardinessClasses.map(({ key }) => order.indexOf(figuresOfClass(key).move_in_pass));
    expect(passes).toEqual([...passes].sort());
    expect(new Set(passes).size).toBe(4);
  });
});

describe("a planting to start from", () => {
  const zones = [zone("bench", "bright"), zone("cellar", "dark"), zone("garage", "dim")];

  it("stands where its light is, and leaves bright places to those that need them", () => {
    expect(fittingZone(plant("Lemon"), zones)?.id).toBe("bench");
    expect(fittingZone(plant("Dahlia", { winter_light: "dark" }), zones)?.id).toBe("cellar");
    expect(fittingZone(plant("Fig", { winter_light: "dim" }), [zone("cellar", "dark"), zone("bench", "bright")])?.id).toBe("bench");
    expect(fittingZone(plant("Lemon"), [])).toBeNull();
  });

  it("is lifted when it is a tuber, else in a pot", () => {
    expect(usualContainer(plant("Dahlia", { habit: "tuber" }))).toEqual({ kind: "lifted" });
    expect(usualContainer(plant("Lemon")).kind).toBe("pot");
  });
});

describe("keys and search", () => {
  it("make keys that the host accepts and that are free", () => {
    expect(keyFor("Jasmín, Grandmother’s", new Set())).toBe("own-jasmin-grandmother-s");
    expect(keyFor("Jasmín", new Set(["own-jasmin", "own-jasmin-2"]))).toBe("own-jasmin-3");
    expect(keyFor("梅", new Set())).toMatch(/^[a-z0-9-]+$/);
  });

  it("find by common and botanical name, whatever the accents", () => {
    const list = [plant("Angel’s trumpet", { botanical_name: "Brugmansia" }), plant("Trumpet vine"), plant("Lemon")];
    expect(searchPlants(list, "trumpet").map((p) => p.name)).toEqual(["Trumpet vine", "Angel’s trumpet"]);
    expect(searchPlants(list, "angels tr").map((p) => p.name)).toEqual(["Angel’s trumpet"]);
    expect(searchPlants(list, "brugm").map((p) => p.name)).toEqual(["Angel’s trumpet"]);
    expect(searchPlants(list, "olive")).toEqual([]);
  });
});
