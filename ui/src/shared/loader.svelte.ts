import { Failure } from "$platform";

/**
 * Something that is fetched: keeps the last good value while a newer one is under way, and lets only the newest
 * request win.
 */
export class Loader<T> {
  value = $state.raw<T | undefined>(undefined);
  failure = $state.raw<Failure | undefined>(undefined);
  busy = $state(false);
  private turn = 0;

  async load(fetch: () => Promise<T>): Promise<T | undefined> {
    const turn = ++this.turn;
    this.busy = true;
    try {
      const value = await fetch();
      if (turn !== this.turn) return undefined;
      this.value = value;
      this.failure = undefined;
      return value;
    } catch (thrown) {
      if (turn === this.turn) this.failure = Failure.from(thrown);
      return undefined;
    } finally {
      if (turn === this.turn) this.busy = false;
    }
  }
}

/** A change that is sent once: knows whether it is under way and why it failed. */
export class Submission {
  failure = $state.raw<Failure | undefined>(undefined);
  busy = $state(false);

  /** Runs it unless it is already running; the reply, or nothing when it failed. */
  async run<T>(send: () => Promise<T>): Promise<T | undefined> {
    if (this.busy) return undefined;
    this.busy = true;
    this.failure = undefined;
    try {
      return await send();
    } catch (thrown) {
      this.failure = Failure.from(thrown);
      return undefined;
    } finally {
      this.busy = false;
    }
  }

  /** The sentence for a field, when the host refused just that one. */
  problemOf(field: string): string | null {
    const failure = this.failure;
    return failure?.code === "invalid" && failure.field === field ? failure.message : null;
  }

  /** A failure that no field of the form shows. */
  beyond(fields: readonly string[]): Failure | undefined {
    const failure = this.failure;
    return failure && !(failure.code === "invalid" && failure.field && fields.includes(failure.field))
      ? failure
      : undefined;
  }
}
