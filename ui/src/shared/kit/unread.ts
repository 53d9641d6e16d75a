import { parseNumber } from "$shared/units";

/** The first figure field of a form whose text is no number, with the focus on it; nothing when all can be read. */
export function focusUnread(form: HTMLFormElement): HTMLElement | undefined {
  const fields = [...form.querySelectorAll<HTMLInputElement>("input.figures")];
  const unread = fields.find((field) => field.value.trim() !== "" && parseNumber(field.value) == null);
  // Fields say what is wrong once they have been left.
  (document.activeElement as HTMLElement | null)?.blur();
  unread?.focus();
  unread?.blur();
  unread?.focus();
  return unread;
}
