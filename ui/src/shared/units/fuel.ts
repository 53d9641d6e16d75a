import type { Fuel, FuelUse, Units } from "$contract";
import { t } from "$shared/messages";
import { formatNumber } from "./index";

/** Fuels in the order in which they are asked for. */
export const FUELS: readonly Fuel[] = ["electricity", "natural_gas", "propane", "kerosene"];

export type CountingUnit = "kwh" | "litre" | "gallon" | "cubic_metre" | "hundred_cubic_feet";

const LITRES_PER_US_GALLON = 3.785411784;
const M3_PER_HUNDRED_CUBIC_FEET = 100 * 0.3048 ** 3;

/** The unit in which a fuel is billed, by the units of the site. */
export function countingUnit(fuel: Fuel, units: Units): CountingUnit {
  switch (fuel) {
    case "electricity":
      return "kwh";
    case "propane":
    case "kerosene":
      return units.volume === "us_gallon" ? "gallon" : "litre";
    case "natural_gas":
      return units.length === "foot" ? "hundred_cubic_feet" : "cubic_metre";
  }
}

/** How much of the contract's unit (kWh, L, m³) the reader's unit holds. */
function size(unit: CountingUnit): number {
  switch (unit) {
    case "kwh":
    case "litre":
    case "cubic_metre":
      return 1;
    case "gallon":
      return LITRES_PER_US_GALLON;
    case "hundred_cubic_feet":
      return M3_PER_HUNDRED_CUBIC_FEET;
  }
}

/** A price per unit of the contract as one per unit of the reader. */
export function priceShown(perUnit: number, unit: CountingUnit): number {
  return perUnit * size(unit);
}

/** A price per unit of the reader as one per unit of the contract. */
export function priceKept(shown: number, unit: CountingUnit): number {
  return shown / size(unit);
}

/** An amount of fuel with its name, in the unit of the reader: `1.4 L of propane`. */
export function fuelText(use: FuelUse, units: Units, name: string): string {
  const unit = countingUnit(use.fuel, units);
  const figures = { number: formatNumber(use.units / size(unit), 1), fuel: name };
  switch (unit) {
    case "kwh":
      return t("fuel-kwh", figures);
    case "litre":
      return t("fuel-litre", figures);
    case "gallon":
      return t("fuel-gallon", figures);
    case "cubic_metre":
      return t("fuel-cubic-metre", figures);
    case "hundred_cubic_feet":
      return t("fuel-hundred-cubic-feet", figures);
  }
}
