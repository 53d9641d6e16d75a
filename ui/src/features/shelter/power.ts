import type { Units } from "$contract";
import { t } from "$shared/messages";
import { formatNumber } from "$shared/units";

/** BTU (international table) per hour in a watt: 1 BTU is 1055.05585262 J (ISO 31-4:1992). */
const BTU_PER_H_PER_W = 3600 / 1055.05585262;
const KELVIN_PER_FAHRENHEIT_DEGREE = 5 / 9;

/** Whether a site's growers buy heat by the BTU. */
export function countsBtu(units: Units): boolean {
  return units.length === "foot";
}

const round = (value: number) => (Math.abs(value) < 100 ? value : Math.round(value / 10) * 10);

/** A heat flow in W, with BTU/h behind it where the site's units are customary ones. */
export function formatPower(watts: number, units: Units): string {
  const power = t("figure-power-w", { number: formatNumber(round(watts)) });
  if (!countsBtu(units)) return power;
  return t("power-both", { power, btu: t("figure-heat-btu-per-h", { number: formatNumber(round(watts * BTU_PER_H_PER_W)) }) });
}

/** A loss coefficient in W/K, or in BTU/h per °F where the site's units are customary ones. */
export function formatCoefficient(wattsPerKelvin: number, units: Units): string {
  return countsBtu(units)
    ? t("coefficient-btu", { number: formatNumber(wattsPerKelvin * BTU_PER_H_PER_W * KELVIN_PER_FAHRENHEIT_DEGREE, 1) })
    : t("coefficient-w", { number: formatNumber(wattsPerKelvin, 1) });
}
