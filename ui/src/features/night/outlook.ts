import type { Sky, TonightRequest } from "$contract";
import type { Day } from "$shared/dates";

/** What the grower said of a night; what is absent is left to the forecast or the climate. */
export interface Outlook {
  low_c: number | null;
  sky: Sky | null;
  wind_m_per_s: number | null;
  lead_days: number;
  covered: boolean | null;
}

export const NOTHING_SAID: Outlook = { low_c: null, sky: null, wind_m_per_s: null, lead_days: 0, covered: null };

/** Nights ahead that can be asked for, tonight among them. */
export const NIGHTS_TO_CHOOSE = 6;

const KEY = "hibernacle-night";
const SKIES: readonly unknown[] = ["clear", "half", "overcast"];

export function requestOf(siteId: string, said: Outlook): TonightRequest {
  return {
    site_id: siteId,
    low_c: said.low_c,
    cloud: said.sky,
    wind_m_per_s: said.wind_m_per_s,
    lead_days: said.lead_days,
    covered: said.covered,
    price_per_kwh: null,
  };
}

/** What was typed this very day for this site, so that a look in the evening shows the same night. */
export function recall(siteId: string, today: Day, storage = globalThis.localStorage as Storage | undefined): Outlook {
  try {
    const kept: unknown = JSON.parse(storage?.getItem(KEY) ?? "null");
    if (typeof kept !== "object" || kept === null) return NOTHING_SAID;
    const { site, day, low_c, sky, wind_m_per_s, covered } = kept as Record<string, unknown>;
    if (site !== siteId || day !== today) return NOTHING_SAID;
    return {
      low_c: typeof low_c === "number" ? low_c : null,
      sky: SKIES.includes(sky) ? (sky as Sky) : null,
      wind_m_per_s: typeof wind_m_per_s === "number" ? wind_m_per_s : null,
      lead_days: 0,
      covered: typeof covered === "boolean" ? covered : null,
    };
  } catch {
    // Storage closed to us or written by somebody else: the night begins without it.
    return NOTHING_SAID;
  }
}

/** Keeps what was said of tonight; other nights are only looked at. */
export function keep(siteId: string, today: Day, said: Outlook, storage = globalThis.localStorage as Storage | undefined): void {
  if (said.lead_days !== 0) return;
  try {
    storage?.setItem(KEY, JSON.stringify({ site: siteId, day: today, ...said }));
  } catch {
    // Not kept then; the figures stay until the page closes.
  }
}
