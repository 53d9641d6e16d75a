import type { Beyond, CoverOn, Form, Opening, Part, RoomSides, Sheet, Shelter, ShelterBuild } from "$contract";

export type FormKind = Form["kind"];
export const formKinds: readonly FormKind[] = ["gable", "lean_to", "hoop", "dome", "frame", "room", "wrap"];

export type RoomSide = keyof RoomSides;
export const roomSides: readonly RoomSide[] = ["left", "right", "behind", "ahead", "above"];

/** A form while it is typed: figures of every kind stay, so that trying another form loses none. */
export interface FormDraft {
  kind: FormKind;
  eave_m: number | null;
  low_side_m: number | null;
  house_c: number | null;
  front_m: number | null;
  beyond: Record<RoomSide, { kind: Beyond["kind"]; temp_c: number | null }>;
}

export interface BuildDraft extends Omit<ShelterBuild, "form" | "length_azimuth_deg" | "leakage_factor" | "openings"> {
  form: FormDraft;
  length_azimuth_deg: number | null;
  leakage_factor: number | null;
  openings: (Omit<Opening, "area_m2"> & { area_m2: number | null })[];
}

/** Temperature of a heated house in °C that is offered first. */
const HOUSE_C = 18;

/** Shares of the height that the host takes as usual too. */
const EAVES = 0.7;
const LOW_SIDE = 0.8;
const FRONT = 0.65;
const tidy = (value: number) => Math.round(value * 100) / 100;

function formDraft(form: Form, shelter: Pick<Shelter, "height_m">): FormDraft {
  const beyond = (side: RoomSide) => {
    const found: Beyond = form.kind === "room" ? form.beyond[side] : { kind: side === "above" ? "unheated" : "outdoors" };
    return { kind: found.kind, temp_c: found.kind === "heated" ? found.temp_c : HOUSE_C };
  };
  return {
    kind: form.kind,
    eave_m: form.kind === "gable" ? form.eave_m : tidy(EAVES * shelter.height_m),
    low_side_m: form.kind === "lean_to" ? form.low_side_m : tidy(LOW_SIDE * shelter.height_m),
    house_c: form.kind === "lean_to" ? form.house_c : HOUSE_C,
    front_m: form.kind === "frame" ? form.front_m : tidy(FRONT * shelter.height_m),
    beyond: { left: beyond("left"), right: beyond("right"), ahead: beyond("ahead"), behind: beyond("behind"), above: beyond("above") },
  };
}

/** The form that was typed; nothing while a figure of its kind is missing. */
export function formOf(draft: FormDraft): Form | null {
  switch (draft.kind) {
    case "gable":
      return draft.eave_m == null ? null : { kind: "gable", eave_m: draft.eave_m };
    case "lean_to":
      return draft.low_side_m == null || draft.house_c == null
        ? null
        : { kind: "lean_to", low_side_m: draft.low_side_m, house_c: draft.house_c };
    case "frame":
      return draft.front_m == null ? null : { kind: "frame", front_m: draft.front_m };
    case "room": {
      const [left, right, ahead, behind, above] = (["left", "right", "ahead", "behind", "above"] as const).map((side) => beyondOf(draft, side));
      return left && right && ahead && behind && above ? { kind: "room", beyond: { left, right, ahead, behind, above } } : null;
    }
    case "hoop":
    case "dome":
    case "wrap":
      return { kind: draft.kind };
  }
}

function beyondOf(draft: FormDraft, side: RoomSide): Beyond | null {
  const { kind, temp_c } = draft.beyond[side];
  if (kind !== "heated") return { kind };
  return temp_c == null ? null : { kind, temp_c };
}

export function draftOf(build: ShelterBuild, shelter: Pick<Shelter, "height_m">): BuildDraft {
  return {
    ...build,
    form: formDraft(build.form, shelter),
    openings: build.openings.map((one) => ({ ...one, sheet: { ...one.sheet } })),
    covers: build.covers.map((one) => ({ ...one, parts: [...one.parts] })),
  };
}

/** The build that was typed; nothing while a figure is missing. What a form does not have is left as it was. */
export function buildOf(draft: BuildDraft): ShelterBuild | null {
  const form = formOf(draft.form);
  const openings = draft.openings.flatMap(({ area_m2, ...one }) => (area_m2 == null ? [] : [{ ...one, area_m2 }]));
  const { length_azimuth_deg, leakage_factor } = draft;
  if (!form || length_azimuth_deg == null || leakage_factor == null || openings.length < draft.openings.length) return null;
  return { ...draft, form, length_azimuth_deg, leakage_factor, openings };
}

/** Parts that a form has, of those that are made of a sheet or wall of their own. */
export function partsOf(kind: FormKind): ("roof" | "side" | "end" | "house_wall")[] {
  switch (kind) {
    case "gable":
    case "frame":
      return ["roof", "side", "end"];
    case "lean_to":
    case "room":
      return ["roof", "side", "end", "house_wall"];
    case "hoop":
    case "wrap":
      return ["roof", "end"];
    case "dome":
      return ["roof"];
  }
}

export type PartField = "roof" | "sides" | "ends" | "house_wall";

/** Name of the record's field for the sheet of a part. */
export function fieldOf(part: "roof" | "side" | "end" | "house_wall"): PartField {
  return part === "side" ? "sides" : part === "end" ? "ends" : part;
}

export const openingKinds = ["door", "window", "vent"] as const satisfies readonly Part[];

/** A door to begin with: of what the side is made of, of an ordinary size. */
export function newOpening(draft: BuildDraft): BuildDraft["openings"][number] {
  const within = partsOf(draft.form.kind).includes("end") ? "end" : "roof";
  const sheet: Sheet = { ...draft[fieldOf(within)] };
  return { kind: "door", within, area_m2: 1.5, sheet };
}

export function newCover(key: string): CoverOn {
  return { key, parts: [], from: null, to: null };
}

/** A sheet as the value of a list, and back. */
export function sheetValue(sheet: Sheet): string {
  return `${sheet.kind}:${sheet.key}`;
}

export function sheetOf(value: string): Sheet {
  const [kind, key = ""] = value.split(":");
  return kind === "wall" ? { kind: "wall", key } : { kind: "glazing", key };
}
