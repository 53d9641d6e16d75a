/** Short messages at the edge of the screen, most of them offering to take something back. */
export interface Toast {
  id: number;
  text: string;
  kind: "done" | "warn" | "wrong";
  action?: { label: string; run: () => void | Promise<void> };
}

/** Long enough to read and to reach with cold hands. */
const STAYS_MS = 12_000;

class Toasts {
  list = $state<Toast[]>([]);
  private next = 1;
  private timers = new Map<number, ReturnType<typeof setTimeout>>();

  show(text: string, options: Partial<Omit<Toast, "id" | "text">> = {}): void {
    const toast: Toast = { id: this.next++, text, kind: "done", ...options };
    // Only the newest few stay: an older undo is still offered where the thing itself is shown.
    for (const old of this.list.slice(0, -2)) this.drop(old.id);
    this.list = [...this.list, toast];
    this.keep(toast.id);
  }

  /** Starts the time anew, for instance after somebody looked at a message. */
  keep(id: number): void {
    this.hold(id);
    this.timers.set(id, setTimeout(() => this.drop(id), STAYS_MS));
  }

  /** Stops the time while the message has the pointer or the focus. */
  hold(id: number): void {
    clearTimeout(this.timers.get(id));
  }

  drop(id: number): void {
    clearTimeout(this.timers.get(id));
    this.timers.delete(id);
    this.list = this.list.filter((toast) => toast.id !== id);
  }
}

export const toasts = new Toasts();
