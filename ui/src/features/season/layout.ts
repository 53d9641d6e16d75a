import type { Band, Plan, Planting, Stage, StageSpan } from "$contract";
import type { Lane } from "./timeline";

/** Heights of the parts of the picture in pixels. */
export const AXIS = 36;
export const FROST_ROW = 26;
export const LANE = 54;
export const STAGE_ROW = 26;
export const GAP = 14;

export interface FrostRow {
  threshold_c: number;
  bands: Band[];
  y: number;
}

export interface LaneRow {
  lane: Lane;
  y: number;
}

/** Plantings that go through the same stages on the same days, drawn once. */
export interface StageRow {
  names: string[];
  spans: StageSpan[];
  y: number;
}

export interface Layout {
  frost: FrostRow[];
  lanes: LaneRow[];
  stages: StageRow[];
  height: number;
}

export const stageOrder: readonly Stage[] = ["growing", "hardening", "dormant", "waking", "out"];

/** Stacks frost dates, lanes and stages from top to bottom. */
export function layoutOf(plan: Plan, lanes: readonly Lane[], plantings: readonly Planting[]): Layout {
  let y = AXIS;
  const frost = thresholdsOf(plan.bands).map((threshold_c) => {
    const row = { threshold_c, bands: plan.bands.filter((band) => band.threshold_c === threshold_c), y };
    y += FROST_ROW;
    return row;
  });
  if (frost.length) y += GAP;
  const laneRows = lanes.map((lane) => {
    const row = { lane, y };
    y += LANE;
    return row;
  });
  const groups = stageGroups(plan.stages, plantings);
  if (groups.length) y += GAP;
  const stages = groups.map((group) => {
    const row = { ...group, y };
    y += STAGE_ROW;
    return row;
  });
  return { frost, lanes: laneRows, stages, height: y + GAP };
}

/** Thresholds of the bands, mildest first. */
export function thresholdsOf(bands: readonly Band[]): number[] {
  return [...new Set(bands.map((band) => band.threshold_c))].sort((a, b) => b - a);
}

function stageGroups(spans: readonly StageSpan[], plantings: readonly Planting[]): Omit<StageRow, "y">[] {
  const groups = new Map<string, Omit<StageRow, "y">>();
  for (const planting of plantings) {
    const own = spans.filter((span) => span.planting_id === planting.id);
    if (own.length === 0) continue;
    const key = own.map((span) => `${span.stage} ${span.from} ${span.to}`).join();
    const group = groups.get(key);
    if (group) group.names.push(planting.label);
    else groups.set(key, { names: [planting.label], spans: own });
  }
  return [...groups.values()];
}
