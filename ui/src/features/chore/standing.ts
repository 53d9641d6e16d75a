import type { PlannedChore } from "$contract";
import { daysBetween, formatDay, relativeDay, type Day } from "$shared/dates";
import { t } from "$shared/messages";

/** How urgent a chore is on a day. */
export type Standing = "late" | "due" | "soon" | "later" | "done" | "skipped";

const SOON_DAYS = 7;

export function standing(chore: PlannedChore, today: Day): Standing {
  if (chore.state.state !== "open") return chore.state.state;
  if (chore.window.latest < today) return "late";
  if (chore.due_on <= today) return "due";
  return daysBetween(today, chore.due_on) <= SOON_DAYS ? "soon" : "later";
}

/** When a chore is due, in words that fit its standing. */
export function whenText(chore: PlannedChore, today: Day): string {
  const { state } = chore;
  if (state.state === "done") return t("chore-done-on", { day: formatDay(state.on) });
  if (state.state === "skipped") return t("chore-skipped-on", { day: formatDay(state.on), reason: state.reason });
  switch (standing(chore, today)) {
    case "late":
      return t("chore-late", { days: daysBetween(chore.window.latest, today), day: formatDay(chore.window.latest) });
    case "due":
      return chore.window.latest === today
        ? t("chore-due-last-day")
        : t("chore-due", { day: formatDay(chore.window.latest), relative: relativeDay(today, chore.window.latest) });
    default:
      return t("chore-planned", { day: formatDay(chore.due_on), relative: relativeDay(today, chore.due_on) });
  }
}

/** Minutes as people say them. */
export function durationText(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (hours === 0) return t("figure-minutes", { minutes });
  return rest === 0 ? t("figure-hours", { hours }) : t("figure-hours-minutes", { hours, minutes: rest });
}
