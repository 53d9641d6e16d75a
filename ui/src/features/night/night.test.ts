import { describe, expect, it } from "vitest";
import type { NightRecord } from "$contract";
import { formatMoney } from "./money";
import { keep, NOTHING_SAID, recall, requestOf } from "./outlook";
import { isNightSeason } from "./season";
import { lowIsMissing, waitsForOutcome } from "./standing";

class Shelf implements Storage {
  private kept = new Map<string, string>();
  get length() {
    return this.kept.size;
  }
  clear = () => this.kept.clear();
  getItem = (key: string) => this.kept.get(key) ?? null;
  key = (index: number) => [...this.kept.keys()][index] ?? null;
  removeItem = (key: string) => void this.kept.delete(key);
  setItem = (key: string, value: string) => void this.kept.set(key, value);
}

describe("the season of the night card", () => {
  it("runs from late summer to spring, on either half of the globe", () => {
    expect(["2026-08-14", "2026-08-15", "2027-01-10", "2027-05-31", "2027-06-01"].map((day) => isNightSeason(day, 47.7))).toEqual([false, true, true, true, false]);
    expect(["2026-06-15", "2026-09-20", "2026-12-25", "2027-01-20", "2027-03-01"].map((day) => isNightSeason(day, -41))).toEqual([true, true, false, false, true]);
  });
});

describe("what was said of a night", () => {
  const said = { low_c: -9, sky: "half" as const, wind_m_per_s: 2, lead_days: 0, covered: true };

  it("is known again this day at this site, and only then", () => {
    const shelf = new Shelf();
    keep("site", "2026-11-25", said, shelf);
    expect(recall("site", "2026-11-25", shelf)).toEqual(said);
    expect(recall("site", "2026-11-26", shelf)).toEqual(NOTHING_SAID);
    expect(recall("other", "2026-11-25", shelf)).toEqual(NOTHING_SAID);
  });

  it("is not overwritten by a look at a later night", () => {
    const shelf = new Shelf();
    keep("site", "2026-11-25", said, shelf);
    keep("site", "2026-11-25", { ...said, low_c: -2, lead_days: 3 }, shelf);
    expect(recall("site", "2026-11-25", shelf).low_c).toBe(-9);
  });

  it("begins anew when the storage holds something else or nothing", () => {
    const shelf = new Shelf();
    for (const text of ["{", "null", "7", '{"site":"site","day":"2026-11-25","low_c":"cold","sky":"green"}']) {
      shelf.setItem("hibernacle-night", text);
      expect(recall("site", "2026-11-25", shelf)).toEqual(NOTHING_SAID);
    }
    expect(recall("site", "2026-11-25", undefined)).toEqual(NOTHING_SAID);
  });

  it("asks with what was said and leaves the rest open", () => {
    expect(requestOf("site", NOTHING_SAID)).toEqual({ site_id: "site", low_c: null, cloud: null, wind_m_per_s: null, lead_days: 0, covered: null, price_per_kwh: null });
    expect(requestOf("site", said)).toMatchObject({ low_c: -9, cloud: "half", wind_m_per_s: 2, covered: true });
  });
});

describe("where a night stands", () => {
  const record = (change: Partial<NightRecord>): NightRecord => ({
    night_of: "2026-11-24",
    predicted_at_utc: "2026-11-24T16:00:00Z",
    predicted_low_c: -3,
    outside_low_c: null,
    zones: [{ zone_id: "a", place: "Glasshouse, bench", predicted_low_c: 1, low_c: null, model_error_k: null }],
    heated_shelter_ids: [],
    ...change,
  });
  const records = (night: NightRecord) => ({ nights: [night], zones: [], doubt: [] });

  it("waits for what came only after a prediction", () => {
    expect(waitsForOutcome(undefined, "2026-11-24")).toBe(false);
    expect(waitsForOutcome(records(record({})), "2026-11-24")).toBe(true);
    expect(waitsForOutcome(records(record({})), "2026-11-23")).toBe(false);
    expect(waitsForOutcome(records(record({ predicted_at_utc: null })), "2026-11-24")).toBe(false);
    expect(waitsForOutcome(records(record({ outside_low_c: -4 })), "2026-11-24")).toBe(false);
  });

  it("tells a missing low from a wrong one", () => {
    const missing = { code: "invalid" as const, field: "low_c" };
    expect(lowIsMissing(missing, NOTHING_SAID)).toBe(true);
    expect(lowIsMissing(missing, { ...NOTHING_SAID, low_c: -90 })).toBe(false);
    expect(lowIsMissing({ code: "conflict", field: null }, NOTHING_SAID)).toBe(false);
  });
});

describe("money", () => {
  it("is written as the reader does, and survives a currency that nobody knows", () => {
    expect(formatMoney(1.269, "EUR", "en-GB")).toBe("€1.27");
    expect(formatMoney(12, "USD", "en-US")).toBe("$12.00");
    expect(formatMoney(1.5, "?!", "en-GB")).toBe("1.5 ?!");
  });
});
