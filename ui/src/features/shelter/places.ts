/** Views of a shelter, in the order in which they are offered. */
export const views = ["plan", "build", "loss", "compare"] as const;
export type View = (typeof views)[number];

/** The view that an address asks for; the plan where it asks for none that exists. */
export function viewOf(name: string | null | undefined): View {
  return views.find((view) => view === name) ?? "plan";
}

/** Address of a view of a shelter, without the leading `#`. */
export function placeOf(shelterId: string, view: View): string {
  return `/shelter/${encodeURIComponent(shelterId)}/${view}`;
}
