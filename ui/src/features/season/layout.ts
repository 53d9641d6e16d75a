import type { Band, Plan, Planting, Stage, StageSpan } from "$contract";
import type { Lane } from "./timeline";

/** Heights of the parts of the picture in pixels. */
export interface Heights {
  axis: number;
  frost: number;
  lane: number;
  stage: number;
  /** Room above each bar for the row's name, where no column of names stands beside the picture. */
  name: number;
}

export const WIDE: Heights = { axis: 50, frost: 26, lane: 54, stage: 26, name: 0 };
export const NARROW: Heights = { axis: 50, frost: 40, lane: 64, stage: 40, name: 16 };

/** Free space between the parts. */
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
export function layoutOf(plan: Plan, lanes: readonly Lane[], plantings: readonly Planting[], heights: Heights): Layout {
  let y = heights.axis;
  const stack = <T extends object>(items: readonly T[], height: number) => {
    const rows = items.map((item) => {
      const row = { ...item, y };
      y += height;
      return row;
    });
    if (rows.length) y += GAP;
    return rows;
  };
  const thresholds = thresholdsOf(plan.bands).map((threshold_c) => ({
    threshold_c,
    bands: plan.bands.filter((band) => band.threshold_c === threshold_c),
  }));
  const frost = stack(thresholds, heights.frost);
  const laneRows = stack(lanes.map((lane) => ({ lane })), heights.lane);
  const stages = stack(stageGroups(plan.stages, plantings), heights.stage);
  return { frost, lanes: laneRows, stages, height: y };
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
