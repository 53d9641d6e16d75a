import type { NightPoint, ShelterNight } from "$contract";

/** A line of the night: a zone, or the air outdoors. */
export interface Course {
  /** Identifier of the zone; `outside` for the air outdoors. */
  key: string;
  name: string;
  /** Short mark at the line's end where names have no room. */
  mark: string;
  /** Temperatures in °C at the moments of the night. */
  temps_c: number[];
}

/** Half hours that are drawn before and after the coldest one outdoors. */
const DRAWN_BEFORE = 28;
const DRAWN_AFTER = 4;

/** The part of a course that is night: from the afternoon before to the first sun after the coldest hour outdoors. */
export function nightPart(course: readonly NightPoint[]): NightPoint[] {
  const outside = course.map((point) => point.outside_c);
  const coldest = outside.indexOf(Math.min(...outside));
  return course.slice(Math.max(coldest - DRAWN_BEFORE, 0), coldest + DRAWN_AFTER + 1);
}

/** Zones of a shelter as lines, without heat or with it. */
export function zoneCourses(night: Pick<ShelterNight, "zones" | "course">, heated: boolean): Course[] {
  return night.zones.map((zone, index) => ({
    key: zone.zone_id,
    name: zone.name,
    mark: markOf(index),
    temps_c: night.course.map((point) => (heated ? point.heated_c : point.zone_c)[index] ?? Number.NaN),
  }));
}

/** A, B … Z, then A2: marks that stay short. */
export function markOf(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  const round = Math.floor(index / 26);
  return round === 0 ? letter : `${letter}${round + 1}`;
}

/** Whether the course knows temperatures with the heater on. */
export function knowsHeat(course: readonly NightPoint[]): boolean {
  return course.length > 0 && course.every((point) => point.heated_c.length > 0);
}

/**
 * The band in which eight nights of ten lie, around a zone's median course. The doubt is about the low: it grows as the
 * air outdoors falls from the afternoon's high, which is known, and stays once the low is reached.
 */
export function bandOf(
  outside_c: readonly number[],
  zone_c: readonly number[],
  doubt: { low_c: number; low_10_c: number; low_90_c: number },
): { below_c: number; above_c: number }[] {
  const lowest = Math.min(...outside_c);
  const lowAt = outside_c.indexOf(lowest);
  const highest = Math.max(...outside_c.slice(0, lowAt + 1));
  const highAt = outside_c.indexOf(highest);
  let share = 0;
  return zone_c.map((temp_c, index) => {
    if (index >= lowAt) share = 1;
    else if (index > highAt) share = Math.max(share, (highest - (outside_c[index] ?? highest)) / (highest - lowest));
    return {
      below_c: temp_c + share * (doubt.low_10_c - doubt.low_c),
      above_c: temp_c + share * (doubt.low_90_c - doubt.low_c),
    };
  });
}

/** A limit and the zones that share it. */
export interface Limit {
  limit_c: number;
  keys: string[];
  marks: string[];
}

export function limitsOf(night: Pick<ShelterNight, "zones">): Limit[] {
  const limits: Limit[] = [];
  night.zones.forEach((zone, index) => {
    if (!zone.limit) return;
    const limit_c = zone.limit.limit_c;
    const same = limits.find((one) => one.limit_c === limit_c);
    if (same) {
      same.keys.push(zone.zone_id);
      same.marks.push(markOf(index));
    } else limits.push({ limit_c, keys: [zone.zone_id], marks: [markOf(index)] });
  });
  return limits;
}

/**
 * Heights of labels near the heights they belong to, at least a gap apart and between top and bottom. The order of the
 * lines is kept.
 */
export function spread(heights: readonly number[], gap: number, top: number, bottom: number): number[] {
  const order = heights.map((y, index) => ({ y, index })).sort((a, b) => a.y - b.y);
  let last = top - gap;
  for (const one of order) {
    one.y = Math.max(one.y, last + gap);
    last = one.y;
  }
  let next = bottom + gap;
  for (const one of order.reverse()) {
    one.y = Math.min(one.y, next - gap);
    next = one.y;
  }
  const placed = new Array<number>(heights.length);
  for (const one of order) placed[one.index] = one.y;
  return placed;
}

/** A stretch of time in which the heater runs, with the greatest share of its rating. */
export interface HeatBlock {
  from: number;
  to: number;
  share: number;
}

/** Stretches of heat, as indices of moments; each moment stands for the time to the next one. */
export function heatBlocks(course: readonly NightPoint[], ratingW: number): HeatBlock[] {
  const blocks: HeatBlock[] = [];
  course.forEach((point, index) => {
    if (!(point.heat_w > 1)) return;
    const share = Math.min(point.heat_w / ratingW, 1);
    blocks.push({ from: index, to: Math.min(index + 1, course.length - 1), share });
  });
  return blocks.filter((block) => block.to > block.from);
}

/** Index of the moment that is nearest to a time. */
export function nearest(times: readonly number[], at: number): number {
  let best = 0;
  times.forEach((time, index) => {
    if (Math.abs(time - at) < Math.abs((times[best] ?? 0) - at)) best = index;
  });
  return best;
}

/** A path through points; a gap where a value is missing. */
export function pathOf(xs: readonly number[], ys: readonly number[]): string {
  let pen = "M";
  let path = "";
  ys.forEach((y, index) => {
    if (!Number.isFinite(y)) {
      pen = "M";
      return;
    }
    path += `${pen}${(xs[index] ?? 0).toFixed(1)} ${y.toFixed(1)}`;
    pen = "L";
  });
  return path;
}

/** Dashes of the zones' lines, so that they are told apart without colour. */
export const DASHES: readonly string[] = ["none", "9 4", "2 4", "12 4 2 4", "5 3", "14 3 3 3 3 3"];
