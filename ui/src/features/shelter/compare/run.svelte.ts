import type { WinterProgress, WinterRequest, WinterRun } from "$contract";
import { call, Failure } from "$platform";

/** Milliseconds between two looks at a run: short enough for a bar that moves. */
const LOOK_MS = 400;

interface Host {
  winter_start(request: WinterRequest): Promise<WinterRun>;
  winter_look(run: WinterRun): Promise<WinterProgress>;
  winter_cancel(run: WinterRun): Promise<WinterProgress>;
}

const host: Host = {
  winter_start: (request) => call("winter_start", request),
  winter_look: (run) => call("winter_look", run),
  winter_cancel: (run) => call("winter_cancel", run),
};

/** One comparison of winters: started, looked at until it ends, cancelled. It goes on while another place is shown. */
export class WinterCompare {
  progress = $state.raw<WinterProgress | undefined>(undefined);
  failure = $state.raw<Failure | undefined>(undefined);
  starting = $state(false);
  private turn = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly ask: Host = host) {}

  get running(): boolean {
    return this.starting || this.progress?.state === "running";
  }

  async start(request: WinterRequest): Promise<void> {
    if (this.running) return;
    this.starting = true;
    this.failure = undefined;
    try {
      const run = await this.ask.winter_start(request);
      this.progress = { run_id: run.run_id, done: 0, total: 0, state: "running", problem: null, result: null };
      this.turn += 1;
      await this.look(this.turn);
    } catch (thrown) {
      this.failure = Failure.from(thrown);
    } finally {
      this.starting = false;
    }
  }

  async cancel(): Promise<void> {
    const run_id = this.progress?.run_id;
    if (!run_id || this.progress?.state !== "running") return;
    this.turn += 1;
    clearTimeout(this.timer);
    try {
      this.progress = await this.ask.winter_cancel({ run_id });
      // A host that is still clearing up says so; it is looked at until it has ended.
      if (this.progress.state === "running") await this.look(this.turn);
    } catch (thrown) {
      this.lose(thrown);
    }
  }

  private async look(turn: number): Promise<void> {
    const run_id = this.progress?.run_id;
    if (!run_id || turn !== this.turn) return;
    try {
      const progress = await this.ask.winter_look({ run_id });
      if (turn !== this.turn) return;
      this.progress = progress;
    } catch (thrown) {
      if (turn === this.turn) this.lose(thrown);
      return;
    }
    if (this.progress.state === "running") this.timer = setTimeout(() => void this.look(turn), LOOK_MS);
  }

  /** The run cannot be reached any more, for instance because the program was started anew. */
  private lose(thrown: unknown): void {
    this.failure = Failure.from(thrown);
    this.progress = undefined;
  }
}

const compares = new Map<string, WinterCompare>();

/** The comparison of a shelter; kept while the app is open. */
export function compareOf(shelterId: string): WinterCompare {
  let found = compares.get(shelterId);
  if (!found) {
    found = new WinterCompare();
    compares.set(shelterId, found);
  }
  return found;
}
