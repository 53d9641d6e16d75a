import { describe, expect, it } from "vitest";
import { addDays, daysBetween, formatDay, formatTime, readerLocale, relativeDay, relativeTime, todayIn } from "./index";

describe("days", () => {
  it("count across the end of winter time without losing one", () => {
    expect(daysBetween("2027-03-27", "2027-03-29")).toBe(2);
    expect(addDays("2026-10-24", 2)).toBe("2026-10-26");
  });

  it("know leap years", () => {
    expect(daysBetween("2028-02-28", "2028-03-01")).toBe(2);
    expect(daysBetween("2027-02-28", "2027-03-01")).toBe(1);
    expect(addDays("2028-02-28", 1)).toBe("2028-02-29");
  });

  it("cross New Year in both directions", () => {
    expect(daysBetween("2026-12-30", "2027-01-02")).toBe(3);
    expect(daysBetween("2027-01-02", "2026-12-30")).toBe(-3);
  });

  it("belong to the place, not to the machine", () => {
    const lateEvening = new Date("2026-11-25T23:30:00Z");
    expect(todayIn("Europe/Vienna", lateEvening)).toBe("2026-11-26");
    expect(todayIn("America/New_York", lateEvening)).toBe("2026-11-25");
  });
});

describe("words for days", () => {
  it("are relative near today and absolute on demand", () => {
    expect(relativeDay("2026-11-25", "2026-11-26", "en-GB")).toBe("tomorrow");
    expect(relativeDay("2026-11-25", "2026-11-23", "en-GB")).toBe("2 days ago");
    expect(relativeDay("2026-11-25", "2026-12-16", "en-GB")).toBe("in 3 weeks");
    expect(formatDay("2026-11-27", "short", "en-GB")).toBe("Fri 27 Nov");
    expect(formatDay("2026-11-27", "date", "en-US")).toBe("Nov 27, 2026");
  });

  it("take the reader's region with the language of the texts", () => {
    expect(readerLocale("en", ["de-AT", "en-US"])).toBe("en-US");
    expect(readerLocale("en", ["de-AT"])).toBe("en-AT");
    expect(readerLocale("en", [])).toBe("en");
  });

  it("do without a language tag that is none", () => {
    expect(readerLocale("en", ["C"])).toBe("en");
    expect(readerLocale("en", ["C", "de-AT"])).toBe("en-AT");
  });
});

describe("times", () => {
  it("are the clock's at the place, in summer and in winter", () => {
    expect(formatTime("2026-11-25T15:21:00Z", "Europe/Vienna", "en-GB")).toBe("16:21");
    expect(formatTime("2026-06-25T15:21:00Z", "Europe/Vienna", "en-GB")).toBe("17:21");
  });
});

describe("the age of something", () => {
  const now = new Date("2026-11-25T10:00:00Z");

  it("is told in the unit that fits", () => {
    expect(relativeTime("2026-11-25T09:48:00Z", now, "en-GB")).toBe("12 minutes ago");
    expect(relativeTime("2026-11-25T05:10:00Z", now, "en-GB")).toBe("5 hours ago");
    expect(relativeTime("2026-11-20T10:00:00Z", now, "en-GB")).toBe("5 days ago");
    expect(relativeTime("2026-11-25T10:30:00Z", now, "en-GB")).toBe("in 30 minutes");
  });
});
