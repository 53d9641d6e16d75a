import { Failure } from "$platform";
import { toasts } from "$shared/kit/toasts.svelte";
import { t } from "$shared/messages";
import { session } from "$shared/session.svelte";

/** Does something and fetches everything anew; false when the host refused it, with the reason shown. */
async function done(act: () => Promise<unknown>): Promise<boolean> {
  try {
    await act();
    await session.refresh();
    return true;
  } catch (thrown) {
    toasts.show(Failure.from(thrown).message, { kind: "wrong" });
    return false;
  }
}

/** Says what was changed and offers to take it back, where there is a way back. */
export function announce(name: string, text: string, back: (() => Promise<unknown>) | null): void {
  const undo = async (act: () => Promise<unknown>) => {
    if (await done(act)) toasts.show(t("shelter-undone", { name }));
  };
  toasts.show(text, back ? { action: { label: t("undo"), run: () => undo(back) } } : {});
}

/** Sends a change at once and offers to take it back. False when the host refused it. */
export async function changeWithUndo(
  name: string,
  text: string,
  send: () => Promise<unknown>,
  back: () => Promise<unknown>,
): Promise<boolean> {
  if (!(await done(send))) return false;
  announce(name, text, back);
  return true;
}
