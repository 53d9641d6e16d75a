import type { Overview } from "$contract";
import type { Units } from "$contract";
import { call } from "$platform";
import { Loader } from "./loader.svelte";

const METRIC: Units = { temperature: "celsius", length: "metre", volume: "litre" };

/** What every place needs to know: the chosen site with all that is set up on it. */
class Session {
  private overview = new Loader<Overview>();
  /** Grows with every change of the plan, so that places that are open fetch anew. */
  revision = $state(0);
  /** Units of a draft, while the first site is being described. */
  draftUnits = $state<Units | null>(null);
  private chosen: string | null = null;

  get now(): Overview | undefined {
    return this.overview.value;
  }

  get failure() {
    return this.overview.failure;
  }

  get site() {
    return this.overview.value?.site ?? null;
  }

  get units(): Units {
    return this.draftUnits ?? this.site?.units ?? METRIC;
  }

  get timeZone(): string {
    return this.site?.time_zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  }

  /** Fetches everything anew, for the chosen site or the one used last. */
  async refresh(): Promise<void> {
    await this.overview.load(() => call("overview", { site_id: this.chosen }));
    this.revision += 1;
  }

  async choose(siteId: string | null): Promise<void> {
    this.chosen = siteId;
    await this.refresh();
  }

  /** A chore changed: the plan is to be fetched anew, the set-up stands. */
  planChanged(): void {
    this.revision += 1;
  }
}

export const session = new Session();
