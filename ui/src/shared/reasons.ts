import type { Figure } from "$contract";
import type { Reason } from "$contract";
import type { Units } from "$contract";
import { formatDay } from "./dates";
import { has, t, type Args } from "./messages";
import { formatFigure, formatNumber } from "./units";

const tenthsBelow100 = (value: number) => formatNumber(value, Math.abs(value) < 100 ? 1 : 0);
const tensFrom100 = (value: number) => (Math.abs(value) < 100 ? value : Math.round(value / 10) * 10);

/** A figure in the reader's units; counts and days stay numbers, so that plural rules apply. */
export function figureArg(figure: Figure, units: Units): string | number {
  switch (figure.quantity) {
    case "temp_c":
      return formatFigure(figure.value, "temperature", units);
    case "diff_k":
      return formatFigure(figure.value, "difference", units);
    case "share":
      return formatFigure(figure.value, "percent", units);
    case "volume_l":
      return formatFigure(figure.value, "volume", units);
    case "area_m2":
      return formatFigure(figure.value, "area", units);
    case "length_m":
      return formatFigure(figure.value, "length", units);
    case "energy_kwh":
      return t("figure-energy-kwh", { number: tenthsBelow100(figure.value) });
    case "power_w":
      return t("figure-power-w", { number: formatNumber(tensFrom100(figure.value)) });
    case "current_a":
      return t("figure-current-a", { number: tenthsBelow100(figure.value) });
    case "hours":
      return t("figure-hours-decimal", { number: tenthsBelow100(figure.value) });
    case "date":
      return formatDay(figure.value, "date");
    case "count":
    case "days":
      return figure.value;
    case "text":
      return figure.value;
  }
}

/** A reason as a sentence. One without a text still shows its figures rather than nothing. */
export function reasonText(reason: Reason, units: Units): string {
  const args: Args = {};
  for (const [name, figure] of Object.entries(reason.figures)) {
    if (figure) args[name] = figureArg(figure, units);
  }
  if (has(reason.message)) return t(reason.message, args);
  const figures = Object.entries(args).map(([name, value]) => `${name.replaceAll("_", " ")} ${String(value)}`);
  return [reason.message.replace(/^(reason|problem)-/, "").replaceAll("-", " "), ...figures].join(" · ");
}
