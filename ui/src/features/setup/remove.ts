import type { ItemKind } from "$contract";
import { call, Failure } from "$platform";
import { toasts } from "$shared/kit/toasts.svelte";
import { t } from "$shared/messages";
import { session } from "$shared/session.svelte";

/** Removes something at once and offers to bring it back with all that went with it. */
export async function removeWithUndo(kind: ItemKind, id: string): Promise<boolean> {
  try {
    const removed = await call("remove", { kind, id });
    if (kind === "site" && session.site?.id === id) await session.choose(null);
    else await session.refresh();
    const restore = async () => {
      try {
        await call("restore", removed);
        if (kind === "site") await session.choose(id);
        else await session.refresh();
        toasts.show(t("toast-restored", { name: removed.name }));
      } catch (thrown) {
        toasts.show(Failure.from(thrown).message, { kind: "wrong" });
      }
    };
    toasts.show(t("toast-removed", { name: removed.name }), { action: { label: t("undo"), run: restore } });
    return true;
  } catch (thrown) {
    toasts.show(Failure.from(thrown).message, { kind: "wrong" });
    return false;
  }
}
