import type { Site } from "$contract";
import { locales } from "$shared/dates";
import { guessUnits } from "$shared/units";

/** Height assumed until somebody says otherwise; the plan hardly depends on it. */
export const USUAL_ELEVATION_M = 200;

/** A site as a newcomer's browser lets guess it; where it lies stays open. */
export function draftSite(): Omit<Site, "latitude_deg" | "longitude_deg"> {
  const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
  const { units, currency } = guessUnits(readerRegion());
  return {
    id: "",
    name: "",
    elevation_m: USUAL_ELEVATION_M,
    time_zone: timeZone,
    currency,
    units,
    work: { days: ["Sat", "Sun"], hours_per_day: 4 },
  };
}

function readerRegion(): string | undefined {
  return locales(navigator.languages)[0]?.maximize().region;
}

/** Every name that this browser knows of a time zone. */
export function timeZones(): string[] {
  const zones = Intl.supportedValuesOf("timeZone");
  return zones.includes("UTC") ? zones : [...zones, "UTC"];
}
