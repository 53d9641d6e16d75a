import { push, replace, router } from "svelte-spa-router";

/** Address of a chore's sheet on top of the present place: it can be linked to, and Back closes it. */
export function openChore(key: string): string {
  return `#${router.location}?${withChore(key)}`;
}

/** The chore whose sheet the address asks for. */
export function chosenChore(): string | null {
  return new URLSearchParams(router.querystring).get("chore");
}

export async function showChore(key: string): Promise<void> {
  await push(`${router.location}?${withChore(key)}`);
}

export async function closeChore(): Promise<void> {
  const query = new URLSearchParams(router.querystring);
  query.delete("chore");
  const rest = query.toString();
  await replace(rest ? `${router.location}?${rest}` : router.location);
}

function withChore(key: string): string {
  const query = new URLSearchParams(router.querystring);
  query.set("chore", key);
  return query.toString();
}
