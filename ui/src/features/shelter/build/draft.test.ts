import { describe, expect, it } from "vitest";
import type { ShelterBuild } from "$contract";
import { buildOf, draftOf, formKinds, formOf, newOpening, partsOf, sheetOf, sheetValue } from "./draft";

const shelter = { height_m: 2.4 };
const build: ShelterBuild = {
  shelter_id: "s",
  version: 1,
  form: { kind: "gable", eave_m: 1.7 },
  length_azimuth_deg: 90,
  roof: { kind: "glazing", key: "twin-wall-6" },
  sides: { kind: "glazing", key: "twin-wall-6" },
  ends: { kind: "glazing", key: "glass-single" },
  house_wall: { kind: "wall", key: "house-wall" },
  openings: [{ kind: "door", within: "end", area_m2: 1.4, sheet: { kind: "glazing", key: "glass-single" } }],
  edge_insulated: false,
  wind_shelter: "suburban",
  leakage_factor: 1,
  covers: [{ key: "bubble-film", parts: [], from: "2026-11-01", to: null }],
};

describe("a build that is typed", () => {
  it("comes out as it went in", () => {
    expect(buildOf(draftOf(build, shelter))).toEqual(build);
  });

  it("comes out for every form, with figures to begin with", () => {
    const draft = draftOf(build, shelter);
    const forms = formKinds.map((kind) => formOf({ ...draft.form, kind }));
    expect(forms).toEqual([
      { kind: "gable", eave_m: 1.7 },
      { kind: "lean_to", low_side_m: 1.92, house_c: 18 },
      { kind: "hoop" },
      { kind: "dome" },
      { kind: "frame", front_m: 1.56 },
      {
        kind: "room",
        beyond: {
          left: { kind: "outdoors" },
          right: { kind: "outdoors" },
          ahead: { kind: "outdoors" },
          behind: { kind: "outdoors" },
          above: { kind: "unheated" },
        },
      },
      { kind: "wrap" },
    ]);
  });

  it("keeps what lies beyond each side of a room", () => {
    const beyond = {
      left: { kind: "heated", temp_c: 21 },
      right: { kind: "outdoors" },
      ahead: { kind: "earth" },
      behind: { kind: "unheated" },
      above: { kind: "heated", temp_c: 18 },
    } as const;
    const room: ShelterBuild = { ...build, form: { kind: "room", beyond } };
    expect(buildOf(draftOf(room, shelter))?.form).toEqual({ kind: "room", beyond });
  });

  it("is none while a figure is missing", () => {
    const draft = draftOf(build, shelter);
    expect(buildOf({ ...draft, leakage_factor: null })).toBeNull();
    expect(buildOf({ ...draft, form: { ...draft.form, eave_m: null } })).toBeNull();
    expect(buildOf({ ...draft, openings: [{ ...newOpening(draft), area_m2: null }] })).toBeNull();
    expect(buildOf({ ...draft, form: { ...draft.form, kind: "hoop", eave_m: null } })).not.toBeNull();
  });

  it("begins an opening in a part that the form has", () => {
    const draft = draftOf(build, shelter);
    expect(newOpening(draft)).toMatchObject({ within: "end", sheet: build.ends });
    expect(newOpening({ ...draft, form: { ...draft.form, kind: "dome" } }).within).toBe("roof");
    expect(partsOf("hoop")).not.toContain("side");
  });
});

describe("sheets in a list", () => {
  it("are told apart by their table", () => {
    for (const sheet of [build.roof, build.house_wall]) expect(sheetOf(sheetValue(sheet))).toEqual(sheet);
  });
});
