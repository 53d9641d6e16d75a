import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { RunState, WinterProgress, WinterRequest } from "$contract";
import { Failure } from "$platform";
import { WinterCompare } from "./run.svelte";

const request: WinterRequest = { shelter_id: "s", set_ups: [], weather: null, winters: null, draws: null };
const progress = (done: number, state: RunState, problem: string | null = null): WinterProgress => ({ run_id: "r1", done, total: 4, state, problem, result: null });

/** A host that answers each look with the next of a list, and repeats the last. */
function hostOf(looks: (WinterProgress | Error)[]) {
  let at = 0;
  return {
    winter_start: vi.fn(async () => ({ run_id: "r1" })),
    winter_look: vi.fn(async () => {
      const answer = looks[Math.min(at++, looks.length - 1)];
      if (!answer || answer instanceof Error) throw answer ?? new Error("no answer");
      return answer;
    }),
    winter_cancel: vi.fn(async () => progress(2, "cancelled")),
  };
}

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

describe("a run of winters", () => {
  it("is looked at until it is done, and no longer", async () => {
    const host = hostOf([progress(0, "running"), progress(3, "running"), progress(4, "done")]);
    const compare = new WinterCompare(host);
    await compare.start(request);
    expect(compare.running).toBe(true);
    await vi.advanceTimersByTimeAsync(500);
    expect(compare.progress?.done).toBe(3);
    await vi.advanceTimersByTimeAsync(5000);
    expect(compare.progress?.state).toBe("done");
    expect(compare.running).toBe(false);
    expect(host.winter_look).toHaveBeenCalledTimes(3);
  });

  it("starts one at a time", async () => {
    const host = hostOf([progress(1, "running")]);
    const compare = new WinterCompare(host);
    await compare.start(request);
    await compare.start(request);
    expect(host.winter_start).toHaveBeenCalledTimes(1);
  });

  it("stays cancelled, whatever a look that is under way brings back", async () => {
    let answer: (found: WinterProgress) => void = () => {};
    const host = hostOf([progress(1, "running")]);
    const compare = new WinterCompare(host);
    await compare.start(request);
    host.winter_look.mockImplementationOnce(() => new Promise((found) => (answer = found)));
    await vi.advanceTimersByTimeAsync(500);
    await compare.cancel();
    answer(progress(3, "running"));
    await vi.advanceTimersByTimeAsync(5000);
    expect(compare.progress?.state).toBe("cancelled");
    expect(compare.running).toBe(false);
  });

  it("keeps the reason of a run that failed", async () => {
    const compare = new WinterCompare(hostOf([progress(1, "failed", "The climate has no winter.")]));
    await compare.start(request);
    expect(compare.progress?.problem).toBe("The climate has no winter.");
    expect(compare.running).toBe(false);
  });

  it("says why it could not start, and can be started again", async () => {
    const host = hostOf([progress(4, "done")]);
    host.winter_start.mockRejectedValueOnce(new Failure({ code: "invalid", message: "ask for one winter to sixty", field: "winters" }));
    const compare = new WinterCompare(host);
    await compare.start(request);
    expect(compare.failure?.field).toBe("winters");
    await compare.start(request);
    expect(compare.failure).toBeUndefined();
    expect(compare.progress?.state).toBe("done");
  });

  it("is given up when the host no longer knows it", async () => {
    const host = hostOf([progress(1, "running"), new Failure({ code: "not_found", message: "this run is gone" })]);
    const compare = new WinterCompare(host);
    await compare.start(request);
    await vi.advanceTimersByTimeAsync(5000);
    expect(compare.progress).toBeUndefined();
    expect(compare.failure?.code).toBe("not_found");
    expect(host.winter_look).toHaveBeenCalledTimes(2);
  });
});
