import type { ChoreChanged } from "$contract";
import type { ChoreRef } from "$contract";
import type { PlannedChore } from "$contract";
import { call, Failure } from "$platform";
import { formatDay, type Day } from "$shared/dates";
import { toasts } from "$shared/kit/toasts.svelte";
import { t } from "$shared/messages";
import { reasonText } from "$shared/reasons";
import { session } from "$shared/session.svelte";

/** What can be done with a chore of one season. Each change is announced and can be taken back. */
export class ChoreActions {
  constructor(
    private readonly siteId: string,
    private readonly startYear: number,
  ) {}

  ref(chore: PlannedChore): ChoreRef {
    return { site_id: this.siteId, start_year: this.startYear, chore_key: chore.key };
  }

  done(chore: PlannedChore): Promise<boolean> {
    return this.change(chore, () => call("chore_done", { chore: this.ref(chore), on: null }), () =>
      t("toast-done", { title: chore.title }),
    );
  }

  skip(chore: PlannedChore, reason: string): Promise<boolean> {
    return this.change(chore, () => call("chore_skip", { chore: this.ref(chore), reason }), () =>
      t("toast-skipped", { title: chore.title }),
    );
  }

  move(chore: PlannedChore, to: Day): Promise<boolean> {
    return this.change(chore, () => call("chore_move", { chore: this.ref(chore), to }), () =>
      t("toast-moved", { title: chore.title, day: formatDay(to) }),
    );
  }

  async undo(chore: PlannedChore): Promise<boolean> {
    try {
      await call("chore_undo", this.ref(chore));
      toasts.show(t("toast-undone", { title: chore.title }));
      session.planChanged();
      return true;
    } catch (thrown) {
      toasts.show(Failure.from(thrown).message, { kind: "wrong" });
      return false;
    }
  }

  private async change(
    chore: PlannedChore,
    send: () => Promise<ChoreChanged>,
    words: () => string,
  ): Promise<boolean> {
    try {
      const changed = await send();
      const undo = { label: t("undo"), run: async () => void (await this.undo(chore)) };
      toasts.show(words(), { action: undo });
      if (changed.warning) toasts.show(reasonText(changed.warning, session.units), { kind: "warn" });
      for (const zone of changed.closed_up) toasts.show(t("toast-closed-up", { zone }));
      session.planChanged();
      return true;
    } catch (thrown) {
      toasts.show(Failure.from(thrown).message, { kind: "wrong" });
      return false;
    }
  }
}
