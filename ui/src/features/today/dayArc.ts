const WIDTH = 240;
const HORIZON = 68;
const HIGHEST = 56;

/** Drawing of the sun's way over a day on a strip of 24 hours; longer days rise higher. */
export function dayArc(sunrise: Date, sunset: Date, now: Date | null, timeZone: string) {
  const rise = x(sunrise, timeZone);
  // Near the pole or far from the zone's meridian the sun may set after midnight: keep it on the strip.
  const length = (sunset.getTime() - sunrise.getTime()) / 3_600_000;
  const set = Math.min(rise + (length / 24) * WIDTH, WIDTH);
  const height = Math.min(16 + length * 2.6, HIGHEST);
  const middle = (rise + set) / 2;
  const path = `M${f(rise)} ${HORIZON}Q${f(middle)} ${f(HORIZON - 2 * height)} ${f(set)} ${HORIZON}`;
  return { rise, set, path, area: `${path}Z`, sun: now ? sunAt(x(now, timeZone), rise, set, height) : null };
}

function sunAt(at: number, rise: number, set: number, height: number): { x: number; y: number } | null {
  const part = (at - rise) / (set - rise);
  if (part < 0 || part > 1) return null;
  return { x: at, y: HORIZON - 4 * height * part * (1 - part) };
}

function x(instant: Date, timeZone: string): number {
  const parts = new Intl.DateTimeFormat("en-GB", { timeZone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" })
    .formatToParts(instant);
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value ?? 0);
  return ((part("hour") + part("minute") / 60) / 24) * WIDTH;
}

function f(value: number): string {
  return value.toFixed(1);
}
