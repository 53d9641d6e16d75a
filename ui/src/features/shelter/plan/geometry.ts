import type { Form, Opening, Outline, Spot, Units } from "$contract";

/** The floor that is drawn, in metres. */
export interface Floor {
  length_m: number;
  width_m: number;
}

/** How metres become pixels. */
export interface Scale {
  /** Pixels per metre. */
  px: number;
  left: number;
  top: number;
  width: number;
  height: number;
}

/** Room around the floor for walls, the names of the sides, north and the scale bar, in pixels. */
export const MARGIN = { side: 34, top: 46, bottom: 74 };

/** Least side of a zone in metres: the least that the host takes, and enough to get hold of. */
export const LEAST_M = 0.1;

const METRES_PER_FOOT = 0.3048;

/** Puts a floor into a width in pixels, no higher than the screen should give to it. */
export function scaleFor(floor: Floor, width: number, tallest: number): Scale {
  const room = Math.max(width - 2 * MARGIN.side, 60);
  const px = Math.min(room / floor.length_m, tallest / floor.width_m);
  return {
    px,
    left: (width - px * floor.length_m) / 2,
    top: MARGIN.top,
    width,
    height: px * floor.width_m + MARGIN.top + MARGIN.bottom,
  };
}

/** Metres by which an arrow key moves something. */
export function stepOf(units: Units): number {
  return units.length === "foot" ? METRES_PER_FOOT / 4 : 0.1;
}

const clamp = (value: number, low: number, high: number) => Math.min(Math.max(value, low), Math.max(low, high));
/** Millimetres are enough for a floor. */
const tidy = (value: number) => Math.round(value * 1000) / 1000;

/** A spot that is kept on the floor. */
export function spotWithin(spot: Spot, floor: Floor): Spot {
  return { x_m: tidy(clamp(spot.x_m, 0, floor.length_m)), y_m: tidy(clamp(spot.y_m, 0, floor.width_m)) };
}

/** A zone moved by a distance, kept on the floor without a change of size. */
export function moved(outline: Outline, dx: number, dy: number, floor: Floor): Outline {
  return {
    ...outline,
    x_m: tidy(clamp(outline.x_m + dx, 0, floor.length_m - outline.length_m)),
    y_m: tidy(clamp(outline.y_m + dy, 0, floor.width_m - outline.width_m)),
  };
}

/** A corner of a zone: `far` is away from the near end, `right` away from the left side. */
export interface Corner {
  far: boolean;
  right: boolean;
}

/** A zone with one corner moved by a distance; the opposite corner stays. */
export function resized(outline: Outline, corner: Corner, dx: number, dy: number, floor: Floor): Outline {
  const [x_m, length_m] = stretched(outline.x_m, outline.length_m, corner.far, dx, floor.length_m);
  const [y_m, width_m] = stretched(outline.y_m, outline.width_m, corner.right, dy, floor.width_m);
  return { x_m, y_m, length_m, width_m };
}

function stretched(start: number, extent: number, end: boolean, by: number, most: number): [number, number] {
  if (end) return [tidy(start), tidy(clamp(extent + by, LEAST_M, most - start))];
  const from = clamp(start + by, 0, start + extent - LEAST_M);
  return [tidy(from), tidy(start + extent - from)];
}

/** How far a value has to move so that it, or one of the others that move with it, lies on the nearest line in reach. */
export function toLine(values: readonly number[], lines: readonly number[], reach: number): number {
  let best = 0;
  let least = reach;
  for (const value of values) {
    for (const line of lines) {
      const by = line - value;
      if (Math.abs(by) < least) [least, best] = [Math.abs(by), by];
    }
  }
  return best;
}

/** Lines along which zones like to lie: the walls and the sides of the other zones. */
export function linesOf(others: readonly Outline[], floor: Floor): { x: number[]; y: number[] } {
  return {
    x: [0, floor.length_m, ...others.flatMap((one) => [one.x_m, one.x_m + one.length_m])],
    y: [0, floor.width_m, ...others.flatMap((one) => [one.y_m, one.y_m + one.width_m])],
  };
}

export function areaOf(outline: Outline): number {
  return outline.length_m * outline.width_m;
}

/**
 * The area for plants after a zone was drawn anew. Where it was the floor of the zone it follows; a bench or a part of
 * the floor that was entered by itself stays, as long as it fits in.
 */
export function areaAfter(area_m2: number, before: Outline, after: Outline): number {
  const followed = Math.abs(area_m2 - areaOf(before)) <= 0.02 * areaOf(before);
  return followed ? tidy(areaOf(after)) : area_m2;
}

/** A length for the scale bar that is round in the reader's unit and takes up at most a third of the floor. */
export function scaleBar(floor: Floor, units: Units): { metres: number; count: number } {
  const unit = units.length === "foot" ? METRES_PER_FOOT : 1;
  const most = floor.length_m / unit / 3;
  const counts = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50];
  const count = counts.findLast((one) => one <= most + 1e-9) ?? 0.1;
  return { metres: count * unit, count };
}

/** Lines of a name in a box; what does not fit ends in an ellipsis. */
export function nameLines(name: string, perLine: number, most: number): string[] {
  if (perLine < 2 || most < 1) return [];
  const lines: string[] = [];
  for (const word of name.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= perLine) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  const shown = lines.slice(0, most);
  return shown.map((line, index) => {
    const cut = index === most - 1 && lines.length > most;
    return line.length > perLine || (cut && line.length + 1 > perLine) ? `${line.slice(0, perLine - 1)}…` : cut ? `${line}…` : line;
  });
}

/** A door as it is drawn: the record knows its area and its wall, not where in that wall it is. */
export interface Door {
  side: "left" | "right" | "ahead" | "behind";
  width_m: number;
}

/** Height of an ordinary door in metres, by which an area becomes a width (common practice, no source). */
const DOOR_M = 2;

/** Doors in the middle of the walls they are set into; a short side's door is drawn in the near one. */
export function doorsOf(openings: readonly Opening[], floor: Floor, height_m: number): Door[] {
  return openings
    .filter((one) => one.kind === "door")
    .map((one) => {
      const side = one.within === "end" ? "behind" : one.within === "house_wall" ? "left" : "right";
      const wall = side === "behind" ? floor.width_m : floor.length_m;
      return { side, width_m: Math.min(one.area_m2 / Math.min(DOOR_M, height_m), 0.9 * wall) };
    });
}

/** Sides of a form with a building or earth beyond them. */
export function beyondOf(form: Form): Record<"left" | "right" | "ahead" | "behind", "outdoors" | "heated" | "unheated" | "earth"> {
  if (form.kind === "room") {
    const { left, right, ahead, behind } = form.beyond;
    return { left: left.kind, right: right.kind, ahead: ahead.kind, behind: behind.kind };
  }
  return { left: form.kind === "lean_to" ? "heated" : "outdoors", right: "outdoors", ahead: "outdoors", behind: "outdoors" };
}
