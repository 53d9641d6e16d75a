import type { Shelter, ShelterKind } from "$contract";

/** Kinds in the order in which they are offered. */
export const shelterKinds: readonly ShelterKind[] = [
  "greenhouse",
  "cold_frame",
  "garage",
  "cellar",
  "porch",
  "room",
  "wrapped_bed",
];

type Size = Pick<Shelter, "length_m" | "width_m" | "height_m" | "has_cover" | "has_heater">;

/** A usual size of each kind to start from. */
const SIZES: Record<ShelterKind, Size> = {
  greenhouse: { length_m: 3, width_m: 2.5, height_m: 2.3, has_cover: true, has_heater: false },
  cold_frame: { length_m: 1.5, width_m: 1, height_m: 0.4, has_cover: true, has_heater: false },
  garage: { length_m: 5.5, width_m: 3, height_m: 2.4, has_cover: false, has_heater: false },
  cellar: { length_m: 4, width_m: 3, height_m: 2.1, has_cover: false, has_heater: false },
  porch: { length_m: 3, width_m: 1.5, height_m: 2.4, has_cover: false, has_heater: false },
  room: { length_m: 4, width_m: 3.5, height_m: 2.5, has_cover: false, has_heater: false },
  wrapped_bed: { length_m: 2, width_m: 1, height_m: 1.2, has_cover: true, has_heater: false },
};

/** Kinds on which a winter cover goes; the host refuses it on others. */
export function takesCover(kind: ShelterKind): boolean {
  return kind === "greenhouse" || kind === "cold_frame" || kind === "porch" || kind === "wrapped_bed";
}

export function draftShelter(siteId: string, kind: ShelterKind, name: string): Shelter {
  return { id: "", site_id: siteId, name, kind, ...SIZES[kind] };
}
