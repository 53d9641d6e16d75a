import type { Outline, Units } from "$contract";
import { linesOf, moved, resized, spotWithin, stepOf, toLine, type Corner, type Floor } from "./geometry";
import { keyOf, type Placed } from "./items";

/** What the hand has to know of the plan; asked anew each time, since the plan changes under it. */
export interface Ground {
  floor(): Floor;
  /** Pixels per metre. */
  px(): number;
  units(): Units;
  selected(): string | null;
  /** Outlines of all zones but one. */
  others(id: string): Outline[];
  /** Whether it lies there already. */
  stands(item: Placed): boolean;
  /** Sends a new place; false when it was refused. */
  keep(item: Placed): Promise<boolean>;
}

/** Pixels a pointer has to go before it drags, and within which a side takes to a line. */
const SLACK_PX = 4;
const LINE_PX = 8;
const GRID_M = 0.05;
/** A row of arrow keys counts as one change. */
export const KEYS_MS = 700;

const ARROWS: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const toGrid = (value: number) => Math.round(value / GRID_M) * GRID_M - value;

type Press = Pick<PointerEvent, "button" | "pointerType" | "clientX" | "clientY">;
type Key = Pick<KeyboardEvent, "key" | "shiftKey" | "ctrlKey" | "altKey" | "metaKey">;

/** Moves what lies on the plan, by pointer, finger or arrow keys, and sends it once it is let go. */
export class PlanHand {
  /** What is being moved, at its new place, until the record has caught up. */
  draft = $state.raw<Placed | null>(null);
  private grip: { start: Placed; corner: Corner | null; x: number; y: number; begun: boolean } | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly ground: Ground) {}

  /** Something where it is now: in the hand, or where the record has it. */
  now<T extends Placed>(item: T): T {
    return this.draft?.kind === item.kind && this.draft.id === item.id ? (this.draft as T) : item;
  }

  /** Whether something is held by a pointer or finger. */
  get holds(): boolean {
    return this.grip !== null;
  }

  /** The record was fetched anew, so nothing hides it any longer; what is being moved right now stays in hand. */
  caughtUp(): void {
    if (!this.grip && this.timer === undefined) this.draft = null;
  }

  /** Takes hold; whether it did. */
  press(event: Press, item: Placed, corner: Corner | null = null): boolean {
    if (event.button !== 0) return false;
    // A finger that swipes over the plan scrolls the page; only what was chosen first is moved by it.
    if (event.pointerType === "touch" && this.ground.selected() !== keyOf(item)) return false;
    void this.settle();
    this.grip = { start: this.now(item), corner, x: event.clientX, y: event.clientY, begun: false };
    return true;
  }

  pull(event: Pick<PointerEvent, "clientX" | "clientY">): void {
    const grip = this.grip;
    if (!grip) return;
    const [dx, dy] = [event.clientX - grip.x, event.clientY - grip.y];
    if (!grip.begun && Math.hypot(dx, dy) < SLACK_PX) return;
    grip.begun = true;
    const px = this.ground.px();
    this.draft = this.pulled(grip.start, grip.corner, dx / px, dy / px);
  }

  release(): void {
    const begun = this.grip?.begun;
    this.grip = null;
    if (begun) void this.keep();
  }

  /** Puts it back. */
  letGo(): void {
    this.stopWaiting();
    this.grip = null;
    this.draft = null;
  }

  /** Moves by an arrow key, resizes a zone with Shift; whether the key was meant for the hand. */
  key(event: Key, item: Placed): boolean {
    if (event.key === "Escape" && this.draft) {
      this.letGo();
      return true;
    }
    const arrow = ARROWS[event.key];
    if (!arrow || event.ctrlKey || event.altKey || event.metaKey) return false;
    const step = stepOf(this.ground.units());
    const floor = this.ground.floor();
    const [dx, dy] = [arrow[0] * step, arrow[1] * step];
    const start = this.now(item);
    if (start.kind !== "zone") {
      this.draft = { ...start, spot: spotWithin({ x_m: start.spot.x_m + dx, y_m: start.spot.y_m + dy }, floor) };
    } else if (event.shiftKey) {
      this.draft = { ...start, outline: resized(start.outline, { far: true, right: true }, dx, dy, floor) };
    } else {
      this.draft = { ...start, outline: moved(start.outline, dx, dy, floor) };
    }
    this.stopWaiting();
    this.timer = setTimeout(() => void this.keep(), KEYS_MS);
    return true;
  }

  /** Sends what the arrow keys have moved, without waiting any longer. */
  async settle(): Promise<void> {
    if (this.timer !== undefined) await this.keep();
  }

  private stopWaiting(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
  }

  private async keep(): Promise<void> {
    this.stopWaiting();
    const wanted = this.draft;
    if (!wanted) return;
    const gone = this.ground.stands(wanted) || !(await this.ground.keep(wanted));
    if (gone && this.draft === wanted) this.draft = null;
  }

  private pulled(start: Placed, corner: Corner | null, dx: number, dy: number): Placed {
    const floor = this.ground.floor();
    if (start.kind !== "zone") {
      const [x_m, y_m] = [start.spot.x_m + dx, start.spot.y_m + dy];
      return { ...start, spot: spotWithin({ x_m: x_m + toGrid(x_m), y_m: y_m + toGrid(y_m) }, floor) };
    }
    const lines = linesOf(this.ground.others(start.id), floor);
    const { x_m, y_m, length_m, width_m } = start.outline;
    const xs = corner ? [corner.far ? x_m + length_m : x_m] : [x_m, x_m + length_m];
    const ys = corner ? [corner.right ? y_m + width_m : y_m] : [y_m, y_m + width_m];
    const reach = LINE_PX / this.ground.px();
    const drawn = (values: number[], by: number, to: number[]) => {
      const there = values.map((value) => value + by);
      return by + (toLine(there, to, reach) || toGrid(there[0] ?? 0));
    };
    const [sx, sy] = [drawn(xs, dx, lines.x), drawn(ys, dy, lines.y)];
    const outline = corner ? resized(start.outline, corner, sx, sy, floor) : moved(start.outline, sx, sy, floor);
    return { ...start, outline };
  }
}
