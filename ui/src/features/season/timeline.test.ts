import { describe, expect, it } from "vitest";
import type { Plan, PlannedChore } from "$contract";
import { byMonth, extentOf, killingDay, lanesByPhase, lanesByPlace, marksOf, monthsOf, scaleOf, spansOf } from "./timeline";

function chore(key: string, earliest: string, due: string, latest: string, more: Partial<PlannedChore> = {}): PlannedChore {
  return {
    key,
    rule: key,
    title: key,
    phase: "close_up",
    target: { kind: "zone", id: "z", name: "bench", shelter_id: "s", zone_id: "z" },
    window: { earliest, best: due, latest },
    killing: false,
    due_on: due,
    moved: false,
    minutes: 30,
    weather: [],
    why: "",
    reasons: [],
    proof: null,
    cautions: [],
    after: [],
    required: false,
    source: "",
    state: { state: "open" },
    ...more,
  };
}

function plan(chores: PlannedChore[]): Plan {
  const season = { start_year: 2026, name: "2026–27", starts_on: "2026-07-01", ends_on: "2027-06-30" };
  return { season, chores, bands: [], stages: [], problems: [] };
}

describe("the picture's days", () => {
  const extent = extentOf(plan([chore("a", "2026-08-20", "2026-08-25", "2026-09-01"), chore("b", "2027-05-01", "2027-05-20", "2027-06-02")]));

  it("reach from late to early summer, and with some air around what lies outside", () => {
    expect(extent).toEqual({ from: "2026-08-01", to: "2027-06-10", days: 313 });
  });

  it("lie evenly, whatever the clocks do", () => {
    const x = scaleOf(extent, 3);
    expect(x("2026-08-01")).toBe(0);
    expect(x("2026-08-02")).toBeCloseTo(3, 9);
    // Clocks change between these days in most of Europe.
    expect(x("2026-10-26") - x("2026-10-24")).toBeCloseTo(6, 9);
    expect(x(extent.to)).toBeCloseTo(939, 9);
  });

  it("have a tick for each month that begins in them", () => {
    const months = monthsOf(extent);
    expect(months[0]).toBe("2026-08-01");
    expect(months.at(-1)).toBe("2027-06-01");
    expect(months).toHaveLength(11);
  });

  it("stand when nothing is planned", () => {
    expect(extentOf(plan([]))).toMatchObject({ from: "2026-08-01", to: "2027-05-30" });
  });
});

describe("lanes", () => {
  it("join windows that touch and keep apart those that do not", () => {
    expect(
      spansOf([
        chore("late", "2026-11-10", "2026-11-12", "2026-11-15"),
        chore("first", "2026-10-01", "2026-10-03", "2026-10-05"),
        chore("inside", "2026-10-02", "2026-10-03", "2026-10-04"),
        chore("touching", "2026-10-06", "2026-10-07", "2026-10-09"),
      ]),
    ).toEqual([
      { from: "2026-10-01", to: "2026-10-09" },
      { from: "2026-11-10", to: "2026-11-15" },
    ]);
  });

  it("merge marks that would overlap and show the most urgent standing", () => {
    const done = chore("done", "2026-11-01", "2026-11-02", "2026-11-03", { state: { state: "done", on: "2026-11-02" } });
    const late = chore("late", "2026-11-01", "2026-11-03", "2026-11-04");
    const far = chore("far", "2026-12-01", "2026-12-10", "2026-12-20");
    const marks = marksOf([far, late, done], "2026-11-25", 3, 20);
    expect(marks.map((mark) => [mark.day, mark.chores.length, mark.standing])).toEqual([
      ["2026-11-02", 2, "late"],
      ["2026-12-10", 1, "later"],
    ]);
    expect(marksOf([late, done], "2026-11-25", 30, 20)).toHaveLength(2);
  });

  it("warn of the first killing date among open chores only", () => {
    const open = chore("open", "2026-10-01", "2026-10-03", "2026-10-20", { killing: true });
    const done = chore("done", "2026-10-01", "2026-10-03", "2026-10-10", { killing: true, state: { state: "done", on: "2026-10-01" } });
    expect(killingDay([done, open])).toBe("2026-10-20");
    expect(killingDay([done])).toBeNull();
  });

  it("stand by phase in the order of the year, or by place in the given order, none empty", () => {
    const out = chore("out", "2027-05-01", "2027-05-02", "2027-05-03", { phase: "move_out" });
    const site = chore("site", "2026-09-01", "2026-09-02", "2026-09-03", {
      phase: "late_summer",
      target: { kind: "site", id: "x", name: "Garden", shelter_id: null, zone_id: null },
    });
    expect(lanesByPhase([out, site], (phase) => phase).map((lane) => lane.key)).toEqual(["late_summer", "move_out"]);
    const places = [{ key: "z", name: "Bench" }, { key: "empty", name: "Empty" }, { key: "site", name: "Garden" }];
    expect(lanesByPlace([out, site], places).map((lane) => lane.name)).toEqual(["Bench", "Garden"]);
  });
});

describe("the list", () => {
  it("runs by month across New Year", () => {
    const months = byMonth([
      chore("c", "2027-01-01", "2027-01-05", "2027-01-09"),
      chore("a", "2026-12-01", "2026-12-05", "2026-12-09"),
      chore("b", "2026-12-01", "2026-12-24", "2026-12-29"),
    ]);
    expect(months.map((one) => [one.month, one.chores.map((c) => c.key)])).toEqual([
      ["2026-12-01", ["a", "b"]],
      ["2027-01-01", ["c"]],
    ]);
  });
});
