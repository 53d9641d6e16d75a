import type { NightRecord, NightRecords } from "$contract";
import type { Failure } from "$platform";
import type { Day } from "$shared/dates";
import type { Outlook } from "./outlook";

/** Whether nothing but the grower's low is missing for a call. */
export function lowIsMissing(failure: Pick<Failure, "code" | "field">, said: Outlook): boolean {
  return failure.code === "invalid" && failure.field === "low_c" && said.low_c == null;
}

/** Whether anything was read on the thermometers after a night. */
export function hasOutcome(night: NightRecord): boolean {
  return night.outside_low_c != null || night.zones.some((zone) => zone.low_c != null);
}

/** Whether a night was predicted and what came is not entered yet. */
export function waitsForOutcome(records: NightRecords | undefined, nightOf: Day): boolean {
  const night = records?.nights.find((one) => one.night_of === nightOf);
  return night?.predicted_at_utc != null && !hasOutcome(night);
}
