import type { Heater, Outline, Sensor, ShelterDetail, Spot, Zone } from "$contract";

/** Something on the plan at the place where it lies, was drawn or is being drawn. */
export type Placed =
  | { kind: "zone"; id: string; outline: Outline }
  | { kind: "heater"; id: string; spot: Spot }
  | { kind: "sensor"; id: string; spot: Spot };

export function keyOf(item: { kind: Placed["kind"]; id: string }): string {
  return `${item.kind}:${item.id}`;
}

export function isSame(a: Placed, b: Placed): boolean {
  if (a.kind === "zone" || b.kind === "zone") {
    return (
      a.kind === "zone" &&
      b.kind === "zone" &&
      a.id === b.id &&
      a.outline.x_m === b.outline.x_m &&
      a.outline.y_m === b.outline.y_m &&
      a.outline.length_m === b.outline.length_m &&
      a.outline.width_m === b.outline.width_m
    );
  }
  return a.kind === b.kind && a.id === b.id && a.spot.x_m === b.spot.x_m && a.spot.y_m === b.spot.y_m;
}

/** Short marks by which heaters and sensors are told apart on the plan and in the lists beside it. */
export function heaterTag(heaters: readonly Heater[], id: string): string {
  return `H${heaters.findIndex((one) => one.id === id) + 1}`;
}

export function sensorTag(sensors: readonly Sensor[], id: string): string {
  return `S${sensors.findIndex((one) => one.id === id) + 1}`;
}

/** The zone that holds a spot: the smallest of those that do, since a bench may stand within a bed. */
export function zoneAt(detail: Pick<ShelterDetail, "floor_plan" | "zones">, spot: Spot): Zone | undefined {
  const holding = detail.floor_plan.zones
    .filter(({ outline: o }) => spot.x_m >= o.x_m && spot.x_m <= o.x_m + o.length_m && spot.y_m >= o.y_m && spot.y_m <= o.y_m + o.width_m)
    .sort((a, b) => a.outline.length_m * a.outline.width_m - b.outline.length_m * b.outline.width_m);
  return detail.zones.find((zone) => zone.id === holding[0]?.zone_id);
}

/** Where something new is put that has no place yet: the middle of its zone, or of the floor. */
export function middleOf(detail: Pick<ShelterDetail, "floor_plan">, zoneId: string | null): Spot {
  const plan = detail.floor_plan;
  const outline = plan.zones.find((one) => one.zone_id === zoneId)?.outline;
  return outline
    ? { x_m: outline.x_m + outline.length_m / 2, y_m: outline.y_m + outline.width_m / 2 }
    : { x_m: plan.length_m / 2, y_m: plan.width_m / 2 };
}
