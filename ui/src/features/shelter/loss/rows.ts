import type { LossPath, PathLoss, Units } from "$contract";
import { t, word } from "$shared/messages";
import { formatFigure, formatNumber } from "$shared/units";
import { windOf } from "../facing";

/** One way by which heat leaves, as it is shown: pieces of a curved roof that face one way count as one. */
export interface LossRow {
  key: string;
  label: string;
  size: string;
  bareW: number;
  bareWPerK: number;
  coveredW: number | null;
  coveredWPerK: number | null;
}

/** Surfaces flatter than this face up, whatever direction their record names. */
const FLAT_DEG = 3;
const CUBIC_FEET_PER_M3 = 35.3146667;

/** Rows for the paths of a loss, the largest loss first. */
export function rowsOf(paths: readonly PathLoss[], units: Units): LossRow[] {
  const grouped = new Map<string, { path: LossPath; size: number; losses: PathLoss[] }>();
  for (const one of paths) {
    const key = keyOf(one.path);
    const group = grouped.get(key);
    if (group) {
      group.size += one.size;
      group.losses.push(one);
    } else grouped.set(key, { path: one.path, size: one.size, losses: [one] });
  }
  const rows = [...grouped].map(([key, { path, size, losses }]) => ({
    key,
    label: labelOf(path),
    size: sizeOf(path, size, units),
    bareW: sum(losses.map((one) => one.bare_w)) ?? 0,
    bareWPerK: sum(losses.map((one) => one.bare_w_per_k)) ?? 0,
    coveredW: sum(losses.map((one) => one.covered_w)),
    coveredWPerK: sum(losses.map((one) => one.covered_w_per_k)),
  }));
  return rows.sort((a, b) => b.bareW - a.bareW);
}

/** The sum; nothing where one of them is not known. */
function sum(values: readonly (number | null)[]): number | null {
  return values.reduce((total, value) => (total === null || value === null ? null : total + value), 0);
}

function keyOf(path: LossPath): string {
  if (path.kind !== "envelope") return path.kind;
  const { tilt_deg, azimuth_deg } = path.facing;
  return `${path.part} ${tilt_deg < FLAT_DEG ? "up" : windOf(azimuth_deg)}`;
}

function labelOf(path: LossPath): string {
  switch (path.kind) {
    case "air":
      return t("heat-path-air");
    case "edge":
      return t("heat-path-edge");
    case "envelope": {
      const part = path.part === "side" ? t("heat-path-side") : path.part === "end" ? t("heat-path-end") : word("part", path.part);
      const label = path.facing.tilt_deg < FLAT_DEG ? part : t("heat-path-facing", { part, wind: windOf(path.facing.azimuth_deg) });
      return label.charAt(0).toUpperCase() + label.slice(1);
    }
  }
}

function sizeOf(path: LossPath, size: number, units: Units): string {
  switch (path.kind) {
    case "envelope":
      return formatFigure(size, "area", units);
    case "edge":
      return formatFigure(size, "length", units);
    case "air":
      return units.length === "foot"
        ? t("figure-air-ft3", { number: formatNumber(size * CUBIC_FEET_PER_M3) })
        : t("figure-air-m3", { number: formatNumber(size, 1) });
  }
}
