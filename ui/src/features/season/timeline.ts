import { scaleUtc } from "d3-scale";
import { utcMonth } from "d3-time";
import type { Phase, Plan, PlannedChore } from "$contract";
import { addDays, daysBetween, toDate, toDay, type Day } from "$shared/dates";
import { standing, type Standing } from "$features/chore/standing";

/** Days of the season that the picture shows. */
export interface Extent {
  from: Day;
  to: Day;
  days: number;
}

/** Free days at both ends, so that no mark touches the edge. */
const MARGIN_DAYS = 8;

/** Days at either end of a season that belong to high summer and are shown only when something happens in them. */
const SUMMER_DAYS = 31;

/** Late summer to early summer, and more where something happens outside. */
export function extentOf(plan: Plan): Extent {
  const days = [
    ...plan.chores.flatMap((chore) => [chore.window.earliest, chore.due_on, chore.window.latest]),
    ...plan.bands.flatMap((band) => [band.from, band.to]),
  ].sort();
  const lateSummer = addDays(plan.season.starts_on, SUMMER_DAYS);
  const earlySummer = addDays(plan.season.ends_on, -SUMMER_DAYS);
  const last = days.at(-1);
  const from = earlier(lateSummer, days[0] ? addDays(days[0], -MARGIN_DAYS) : lateSummer);
  const to = later(earlySummer, last ? addDays(last, MARGIN_DAYS) : earlySummer);
  return { from, to, days: daysBetween(from, to) };
}

const earlier = (a: Day, b: Day) => (a < b ? a : b);
const later = (a: Day, b: Day) => (a > b ? a : b);

/** Horizontal place of a day, with so many pixels to a day. */
export function scaleOf(extent: Extent, pxPerDay: number) {
  const scale = scaleUtc()
    .domain([toDate(extent.from), toDate(extent.to)])
    .range([0, extent.days * pxPerDay]);
  return (day: Day) => scale(toDate(day));
}

/** First days of the months within the extent. */
export function monthsOf(extent: Extent): Day[] {
  return utcMonth.range(utcMonth.ceil(toDate(extent.from)), toDate(extent.to)).map(toDay);
}

/** Chores of one row of the picture. */
export interface Lane {
  key: string;
  name: string;
  chores: PlannedChore[];
}

export const phases: readonly Phase[] = [
  "late_summer",
  "cuttings",
  "move_in",
  "close_up",
  "winter_round",
  "uncover",
  "warm_up",
  "harden_off",
  "move_out",
  "season_end",
];

export function lanesByPhase(chores: readonly PlannedChore[], nameOf: (phase: Phase) => string): Lane[] {
  return phases
    .map((phase) => ({ key: phase, name: nameOf(phase), chores: chores.filter((chore) => chore.phase === phase) }))
    .filter((lane) => lane.chores.length > 0);
}

/** Where a chore is done: its zone, else its shelter, else the whole site. */
export function placeOf(chore: PlannedChore): string {
  return chore.target.zone_id ?? chore.target.shelter_id ?? "site";
}

export function lanesByPlace(chores: readonly PlannedChore[], places: readonly { key: string; name: string }[]): Lane[] {
  return places
    .map((place) => ({ ...place, chores: chores.filter((chore) => placeOf(chore) === place.key) }))
    .filter((lane) => lane.chores.length > 0);
}

/** A run of days in which some chore of a lane may be done. */
export interface Span {
  from: Day;
  to: Day;
}

/** The windows of chores, overlapping ones joined. */
export function spansOf(chores: readonly PlannedChore[]): Span[] {
  const windows = chores
    .map((chore) => ({ from: chore.window.earliest, to: chore.window.latest }))
    .sort((a, b) => a.from.localeCompare(b.from));
  const spans: Span[] = [];
  for (const window of windows) {
    const last = spans.at(-1);
    if (last && window.from <= addDays(last.to, 1)) {
      if (window.to > last.to) last.to = window.to;
    } else spans.push({ ...window });
  }
  return spans;
}

/** Chores drawn as one mark because their days lie too close to tell apart. */
export interface Mark {
  day: Day;
  chores: PlannedChore[];
  standing: Standing;
}

const URGENCY: readonly Standing[] = ["late", "due", "soon", "later", "skipped", "done"];

/** Marks of a lane at least `gapPx` apart; each stands at the first of its days and looks like its most urgent chore. */
export function marksOf(chores: readonly PlannedChore[], today: Day, pxPerDay: number, gapPx: number): Mark[] {
  const sorted = [...chores].sort((a, b) => a.due_on.localeCompare(b.due_on));
  const marks: Mark[] = [];
  for (const chore of sorted) {
    const last = marks.at(-1);
    if (last && daysBetween(last.day, chore.due_on) * pxPerDay < gapPx) last.chores.push(chore);
    else marks.push({ day: chore.due_on, chores: [chore], standing: "later" });
  }
  for (const mark of marks) {
    const ranks = mark.chores.map((chore) => URGENCY.indexOf(standing(chore, today)));
    mark.standing = URGENCY[Math.min(...ranks)] ?? "later";
  }
  return marks;
}

/** The first killing date of a lane's open chores that is still ahead or was passed; nothing without one. */
export function killingDay(chores: readonly PlannedChore[]): Day | null {
  const days = chores.filter((chore) => chore.killing && chore.state.state === "open").map((chore) => chore.window.latest);
  return days.sort()[0] ?? null;
}

/** Chores by the month of their day, in order. */
export function byMonth(chores: readonly PlannedChore[]): { month: Day; chores: PlannedChore[] }[] {
  const months = new Map<Day, PlannedChore[]>();
  for (const chore of [...chores].sort((a, b) => a.due_on.localeCompare(b.due_on))) {
    const month = `${chore.due_on.slice(0, 7)}-01`;
    const list = months.get(month);
    if (list) list.push(chore);
    else months.set(month, [chore]);
  }
  return [...months].map(([month, list]) => ({ month, chores: list }));
}
