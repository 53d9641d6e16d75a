import type { NightPoint, ShelterNight, ZoneTonight } from "$contract";
import { bandOf, heatBlocks, knowsHeat, limitsOf, nightPart, zoneCourses, type Course, type HeatBlock, type Limit } from "./chart";

/** What is drawn of a shelter's night, before anything is placed on a screen. */
export interface Drawing {
  course: NightPoint[];
  times: number[];
  outside: number[];
  /** Zones as they are drawn: without heat, or with it. */
  lines: Course[];
  /** Zones without heat. */
  coldLines: Course[];
  heated: boolean;
  /** Index of the zone that is drawn bold, with its limit and its doubt. */
  inFocus: number;
  zone: ZoneTonight | undefined;
  band: { below_c: number; above_c: number }[];
  limits: Limit[];
  blocks: HeatBlock[];
  /** Index of the coldest moment of the zone in focus without heat. */
  coldest: number;
}

export function drawingOf(night: ShelterNight, wantsHeat: boolean, focus: string): Drawing {
  const course = nightPart(night.course);
  const drawn = { zones: night.zones, course };
  const outside = course.map((point) => point.outside_c);
  const knows = knowsHeat(course);
  const heated = knows && wantsHeat;
  const coldLines = zoneCourses(drawn, false);
  const inFocus = Math.max(night.zones.findIndex((zone) => zone.zone_id === focus), 0);
  const zone = night.zones[inFocus];
  const own = coldLines[inFocus]?.temps_c ?? outside;
  return {
    course,
    times: course.map((point) => Date.parse(point.at)),
    outside,
    lines: heated ? zoneCourses(drawn, true) : coldLines,
    coldLines,
    heated,
    inFocus,
    zone,
    band: zone ? bandOf(outside, own, zone) : [],
    limits: limitsOf(night),
    blocks: knows && night.heating ? heatBlocks(course, night.heating.rating_w) : [],
    coldest: own.indexOf(Math.min(...own)),
  };
}

/** Every temperature of a drawing in °C, for its scale. */
export function temperaturesOf(drawing: Drawing): number[] {
  return [
    ...drawing.outside,
    ...[...drawing.coldLines, ...drawing.lines].flatMap((line) => line.temps_c),
    ...drawing.band.flatMap((point) => [point.below_c, point.above_c]),
    ...drawing.limits.map((limit) => limit.limit_c),
  ].filter(Number.isFinite);
}
