export type Theme = "auto" | "light" | "dark";

const KEY = "hibernacle-theme";

function stored(): Theme {
  try {
    const value = localStorage.getItem(KEY);
    return value === "light" || value === "dark" ? value : "auto";
  } catch {
    // Storage can be closed to us; the system's choice is a good one.
    return "auto";
  }
}

/** Light or dark, by the system or by choice; kept on this device only. */
class ThemeChoice {
  value = $state<Theme>(stored());

  choose(theme: Theme): void {
    this.value = theme;
    try {
      localStorage.setItem(KEY, theme);
    } catch {
      // Not kept then: the choice still holds until the page closes.
    }
    this.apply();
  }

  apply(): void {
    const root = document.documentElement;
    if (this.value === "auto") delete root.dataset.theme;
    else root.dataset.theme = this.value;
  }
}

export const theme = new ThemeChoice();
