import type { Circuit, Cord, Gauge, Site, Units } from "$contract";
import { t } from "$shared/messages";

/** Conductors in the order of their thickness, as each market sells them. */
const AWG: readonly Gauge[] = ["awg18", "awg16", "awg14", "awg12", "awg10"];
const METRIC: readonly Gauge[] = ["mm0_75", "mm1_0", "mm1_5", "mm2_5"];

export function gaugeWord(gauge: Gauge): string {
  return gauge.startsWith("awg")
    ? t("gauge-awg", { number: gauge.slice(3) })
    : t("gauge-mm2", { number: gauge.slice(2).replace("_", ".").replace(/\.0$/, "") });
}

/** Both kinds are offered, those of the reader's market first. */
export function gauges(units: Units): Gauge[] {
  return units.length === "foot" ? [...AWG, ...METRIC] : [...METRIC, ...AWG];
}

/** The usual outlet circuit of a site's market: the host takes the same where none is entered. */
export function usualCircuit(site: Site): Circuit {
  const american = site.units.temperature === "fahrenheit";
  return {
    volts: american ? 120 : 230,
    breaker_a: american ? 15 : 16,
    other_load_w: 0,
    has_residual_current_device: false,
    cord: null,
  };
}

/** A circuit while it is typed: a figure is absent while its field is empty. */
export interface CircuitDraft {
  volts: number | null;
  breaker_a: number | null;
  other_load_w: number | null;
  has_residual_current_device: boolean;
  cord: (Omit<Cord, "length_m"> & { length_m: number | null }) | null;
}

/** The circuit that was typed; nothing while a figure is missing. An empty other load is none. */
export function circuitOf(draft: CircuitDraft): Circuit | null {
  const { volts, breaker_a, cord } = draft;
  if (volts == null || breaker_a == null) return null;
  const common = { volts, breaker_a, other_load_w: draft.other_load_w ?? 0, has_residual_current_device: draft.has_residual_current_device };
  if (!cord) return { ...common, cord: null };
  return cord.length_m == null ? null : { ...common, cord: { ...cord, length_m: cord.length_m } };
}

export function usualCord(units: Units): Cord {
  return { gauge: units.length === "foot" ? "awg14" : "mm1_5", length_m: units.length === "foot" ? 7.62 : 10, for_outdoors: false, wound_up: false };
}
