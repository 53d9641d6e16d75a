import type { ForecastSource, ForecastView } from "$contract";

/** How a forecast stands: on its way, fresh, an older one kept after a failure, or none at all. */
export type ForecastStanding = "fetching" | "fresh" | "kept" | "none" | "unknown";

export function standingOf(view: Pick<ForecastView, "nights" | "problem"> | undefined, busy: boolean): ForecastStanding {
  if (busy) return "fetching";
  if (!view) return "unknown";
  if (view.nights.length === 0) return "none";
  return view.problem == null ? "fresh" : "kept";
}

/** Whether a source is a service on the internet, to which something is sent. */
export function isService(source: ForecastSource): boolean {
  return source === "met_norway" || source === "us_nws";
}
