import { textLanguage } from "$shared/messages";

/** A calendar day as the contract writes it: `2026-11-25`. */
export type Day = string;

const MS_PER_DAY = 86_400_000;

/** The language of the texts with the region of the reader, so that words and figures fit each other. */
export const locale: string = readerLocale(textLanguage, globalThis.navigator?.languages ?? []);

export function readerLocale(language: string, preferred: readonly string[]): string {
  const known = locales(preferred);
  const same = known.find((tag) => tag.language === language);
  if (same) return same.toString();
  const region = known[0]?.maximize().region;
  return region ? `${language}-${region}` : language;
}

/** Language tags that can be understood: a system without a language calls itself `C`, which is none. */
export function locales(tags: readonly string[]): Intl.Locale[] {
  return tags.flatMap((tag) => {
    try {
      return [new Intl.Locale(tag)];
    } catch {
      return [];
    }
  });
}

/** Midnight UTC of a day: days are counted and drawn in UTC so that no clock change can shift them. */
export function toDate(day: Day): Date {
  return new Date(`${day}T00:00:00Z`);
}

export function toDay(date: Date): Day {
  return date.toISOString().slice(0, 10);
}

export function addDays(day: Day, days: number): Day {
  return toDay(new Date(toDate(day).getTime() + days * MS_PER_DAY));
}

/** Whole days from one day to another; negative when the other is earlier. */
export function daysBetween(from: Day, to: Day): number {
  return Math.round((toDate(to).getTime() - toDate(from).getTime()) / MS_PER_DAY);
}

/** The day at a place right now. */
export function todayIn(timeZone: string, now = new Date()): Day {
  const parts = new Intl.DateTimeFormat("en-CA", { timeZone, year: "numeric", month: "2-digit", day: "2-digit" });
  return parts.format(now);
}

const STYLES = {
  /** Fri 27 Nov */
  short: { weekday: "short", day: "numeric", month: "short" },
  /** Friday 27 November */
  long: { weekday: "long", day: "numeric", month: "long" },
  /** Friday 27 November 2026 */
  full: { weekday: "long", day: "numeric", month: "long", year: "numeric" },
  /** 27 Nov */
  dayMonth: { day: "numeric", month: "short" },
  /** 27 Nov 2026 */
  date: { day: "numeric", month: "short", year: "numeric" },
  /** November 2026 */
  month: { month: "long", year: "numeric" },
  /** Nov */
  monthShort: { month: "short" },
} satisfies Record<string, Intl.DateTimeFormatOptions>;

export type DayStyle = keyof typeof STYLES;

const formats = new Map<string, Intl.DateTimeFormat>();

function format(style: DayStyle, tag: string): Intl.DateTimeFormat {
  const key = `${tag} ${style}`;
  let found = formats.get(key);
  if (!found) {
    found = new Intl.DateTimeFormat(tag, { ...STYLES[style], timeZone: "UTC" });
    formats.set(key, found);
  }
  return found;
}

export function formatDay(day: Day, style: DayStyle = "short", tag = locale): string {
  return format(style, tag).format(toDate(day));
}

/** `today`, `tomorrow`, `in 5 days`, `3 weeks ago`. */
export function relativeDay(today: Day, day: Day, tag = locale): string {
  const days = daysBetween(today, day);
  const words = new Intl.RelativeTimeFormat(tag, { numeric: "auto" });
  return Math.abs(days) < 14 ? words.format(days, "day") : words.format(Math.round(days / 7), "week");
}

/** Time of day of an instant at a place. */
export function formatTime(instant: string, timeZone: string, tag = locale): string {
  return new Intl.DateTimeFormat(tag, { timeZone, hour: "numeric", minute: "2-digit" }).format(new Date(instant));
}

/** Day and time of an instant at a place. */
export function formatInstant(instant: string, timeZone: string, tag = locale): string {
  const options = { timeZone, day: "numeric", month: "short", year: "numeric", hour: "numeric", minute: "2-digit" } as const;
  return new Intl.DateTimeFormat(tag, options).format(new Date(instant));
}

/** How long ago an instant was or how long it will take, in the largest unit that fits: `2 hours ago`. */
export function relativeTime(instant: string, now = new Date(), tag = locale): string {
  const minutes = Math.round((new Date(instant).getTime() - now.getTime()) / 60_000);
  const words = new Intl.RelativeTimeFormat(tag, { numeric: "auto" });
  if (Math.abs(minutes) < 60) return words.format(minutes, "minute");
  const hours = Math.round(minutes / 60);
  return Math.abs(hours) < 48 ? words.format(hours, "hour") : words.format(Math.round(hours / 24), "day");
}

/** Names of the twelve months, January first. */
export function monthNames(tag = locale): string[] {
  const names = new Intl.DateTimeFormat(tag, { month: "long", timeZone: "UTC" });
  return Array.from({ length: 12 }, (_, month) => names.format(Date.UTC(2001, month, 1)));
}
