import type { CoverOn, MaterialsList, SetUp, ShelterDetail } from "$contract";
import { t } from "$shared/messages";

/** A set-up while it is put together. */
export interface SetUpDraft {
  /** Tells drafts apart while they are moved about. */
  id: number;
  name: string;
  covers: CoverOn[];
  /** Key of the heater's kind; empty for none. */
  heater: string;
  rating_w: number | null;
  set_c: number | null;
}

export const NO_HEATER = "";
/** As many as can be told apart side by side. */
export const MOST_SET_UPS = 6;

let next = 1;

export function draftOf(setUp: SetUp): SetUpDraft {
  return {
    id: next++,
    name: setUp.name,
    covers: setUp.covers.map((one) => ({ ...one, parts: [...one.parts] })),
    heater: setUp.heater?.key ?? NO_HEATER,
    rating_w: setUp.heater?.rating_w ?? null,
    set_c: setUp.heater?.set_c ?? null,
  };
}

/** The set-up that was put together; nothing while its name or the heater's rating is missing. */
export function setUpOf(draft: SetUpDraft): SetUp | null {
  const name = draft.name.trim();
  if (!name) return null;
  if (draft.heater === NO_HEATER) return { name, covers: draft.covers, heater: null };
  if (draft.rating_w == null) return null;
  return { name, covers: draft.covers, heater: { key: draft.heater, rating_w: draft.rating_w, set_c: draft.set_c } };
}

/** The heater that stands in the shelter, or the usual one where none does. */
function heaterOf(detail: Pick<ShelterDetail, "heaters">, materials: MaterialsList): SetUp["heater"] {
  const own = detail.heaters[0];
  if (own) return { key: own.key, rating_w: own.rating_w, set_c: own.set_c };
  const usual = materials.heaters[0];
  return usual ? { key: usual.key, rating_w: usual.usual_rating_w, set_c: null } : null;
}

/** Set-ups to begin with: bare, and under the covers that are recorded or the first of the table. */
export function firstSetUps(detail: Pick<ShelterDetail, "heaters" | "build">, materials: MaterialsList): SetUpDraft[] {
  const heater = heaterOf(detail, materials);
  const first = materials.covers[0];
  const covers = detail.build.covers.length > 0 ? detail.build.covers : first ? [coverOn(first.key)] : [];
  const bare = draftOf({ name: t("compare-bare"), covers: [], heater });
  return covers.length > 0 ? [bare, draftOf({ name: nameOf(covers, materials), covers, heater })] : [bare];
}

export function coverOn(key: string): CoverOn {
  return { key, parts: [], from: null, to: null };
}

/** What to call a set-up by its covers. */
export function nameOf(covers: readonly CoverOn[], materials: MaterialsList): string {
  if (covers.length === 0) return t("compare-bare");
  const names = covers.map((cover) => materials.covers.find((one) => one.key === cover.key)?.name ?? cover.key);
  return names.join(" + ");
}

/** A further set-up like another one, for changing a single thing. */
export function copyOf(draft: SetUpDraft): SetUpDraft {
  return { ...draft, id: next++, name: t("compare-copy", { name: draft.name }), covers: draft.covers.map((one) => ({ ...one })) };
}
