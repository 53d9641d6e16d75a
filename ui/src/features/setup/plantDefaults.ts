import type { Container, Light, MoveInPass, Plant, Planting, Zone } from "$contract";

/**
 * Classes of the public hardiness scale (RHS 2013, lowest winter temperatures a plant stands). A plant that no
 * catalogue has starts from the warm end of its class.
 */
export const hardinessClasses = [
  { key: "H1b", low_c: 10, warm_c: 15 },
  { key: "H1c", low_c: 5, warm_c: 10 },
  { key: "H2", low_c: 1, warm_c: 5 },
  { key: "H3", low_c: -5, warm_c: 1 },
  { key: "H4", low_c: -10, warm_c: -5 },
  { key: "H5", low_c: -15, warm_c: -10 },
  { key: "H6", low_c: -20, warm_c: -15 },
] as const;

export type HardinessClass = (typeof hardinessClasses)[number]["key"];

type Figures = Pick<
  Plant,
  | "shoot_dormant"
  | "shoot_in_leaf"
  | "root_in_pot"
  | "store_low_c"
  | "store_high_c"
  | "move_in_pass"
  | "move_in_at_c"
  | "move_out_above_c"
>;

/** Soft growth is hurt by any real frost, however hardy the wood. */
const SOFT_GROWTH_C = -1;

/**
 * Figures to start from for a class: common practice, no source, beyond the class itself. Roots in a pot lack the
 * warmth of the ground and count as one class more tender where frost is concerned.
 */
export function figuresOfClass(key: HardinessClass): Figures {
  const index = hardinessClasses.findIndex((one) => one.key === key);
  const own = hardinessClasses[index]?.warm_c ?? 1;
  const warmer = hardinessClasses[index - 1]?.warm_c ?? own;
  const root = own < 1 ? warmer : own;
  const soft = Math.max(own, SOFT_GROWTH_C);
  const store = Math.min(Math.max(root + 1, 0), 16);
  const temperature = (temp_c: number) => ({ temp_c, evidence: "own" as const, source: "" });
  return {
    shoot_dormant: temperature(own),
    shoot_in_leaf: temperature(soft),
    root_in_pot: temperature(root),
    store_low_c: store,
    store_high_c: store + 7,
    move_in_pass: passOf(own),
    move_in_at_c: Math.max(root + 2, -8),
    move_out_above_c: Math.max(soft + 3, 3),
  };
}

function passOf(warm_c: number): MoveInPass {
  if (warm_c >= 10) return "early";
  if (warm_c >= 1) return "before_frost";
  return warm_c >= -5 ? "light_frost" : "last_in";
}

/** A key for a new entry: its name in plain letters, with a number where that is taken. */
export function keyFor(name: string, taken: ReadonlySet<string>): string {
  const plain = name
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "");
  const base = `own-${plain || "plant"}`;
  let key = base;
  for (let number = 2; taken.has(key); number += 1) key = `${base}-${number}`;
  return key;
}

const LIGHT: Record<Light, number> = { dark: 0, dim: 1, bright: 2 };

/**
 * The zone that fits a plant best: enough daylight first, then not more than it needs, so that bright places stay
 * free. Where two fit alike, the one that stands first.
 */
export function fittingZone(plant: Plant, zones: readonly Zone[]): Zone | null {
  const cost = (zone: Zone) => {
    const surplus = LIGHT[zone.light] - LIGHT[plant.winter_light];
    return surplus < 0 ? -10 * surplus : surplus;
  };
  return zones.reduce<Zone | null>((best, zone) => (best === null || cost(zone) < cost(best) ? zone : best), null);
}

/** Volume in litres of a pot to start from. */
const USUAL_POT_L = 10;

export function usualContainer(plant: Plant): Container {
  return plant.habit === "tuber" ? { kind: "lifted" } : { kind: "pot", volume_l: USUAL_POT_L };
}

export function draftPlanting(siteId: string, plant: Plant, zones: readonly Zone[]): Planting {
  return {
    id: "",
    site_id: siteId,
    plant_key: plant.key,
    label: plant.name,
    count: 1,
    container: usualContainer(plant),
    zone_id: fittingZone(plant, zones)?.id ?? null,
    own_limit_c: null,
    footprint_m2: null,
  };
}

/** Plants whose names contain every word typed, those that begin with it first. */
export function searchPlants(plants: readonly Plant[], typed: string): Plant[] {
  const words = fold(typed).split(/\s+/).filter(Boolean);
  const hits = plants.filter((plant) => {
    const text = fold(`${plant.name} ${plant.botanical_name}`);
    return words.every((word) => text.includes(word));
  });
  const first = words[0];
  const rank = (plant: Plant) => (first && fold(plant.name).startsWith(first) ? 0 : 1);
  return hits.sort((a, b) => rank(a) - rank(b) || a.name.localeCompare(b.name));
}

function fold(text: string): string {
  return text.normalize("NFD").replace(/[\u0300-\u036f’'×]/g, "").toLowerCase();
}
