import type { Units } from "$contract";
import { locale } from "$shared/dates";
import { t } from "$shared/messages";

/** Kinds of figures that a person reads or types; values are SI with Celsius. */
export type Quantity = "temperature" | "difference" | "length" | "area" | "volume" | "speed" | "percent" | "plain";

interface Scale {
  /** Message that puts the unit to a number. */
  message: string | null;
  /** Unit alone, beside a field. */
  symbol: string;
  factor: number;
  offset: number;
  /** Decimals worth showing; absent where the size of the number decides. */
  decimals?: number;
}

const FEET_PER_METRE = 1 / 0.3048;
const MPH_PER_METRE_PER_SECOND = 3600 / 1609.344;
const US_GALLONS_PER_LITRE = 1 / 3.785411784;

function scale(quantity: Quantity, units: Units): Scale {
  const fahrenheit = units.temperature === "fahrenheit";
  const feet = units.length === "foot";
  const gallons = units.volume === "us_gallon";
  switch (quantity) {
    case "temperature":
      return fahrenheit
        ? { message: "figure-temp-f", symbol: "°F", factor: 1.8, offset: 32, decimals: 0 }
        : { message: "figure-temp-c", symbol: "°C", factor: 1, offset: 0, decimals: 1 };
    case "difference":
      return fahrenheit
        ? { message: "figure-diff-f", symbol: "°F", factor: 1.8, offset: 0, decimals: 1 }
        : { message: "figure-diff-c", symbol: "°C", factor: 1, offset: 0, decimals: 1 };
    case "length":
      return feet
        ? { message: "figure-length-ft", symbol: "ft", factor: FEET_PER_METRE, offset: 0 }
        : { message: "figure-length-m", symbol: "m", factor: 1, offset: 0 };
    case "area":
      return feet
        ? { message: "figure-area-ft2", symbol: "ft²", factor: FEET_PER_METRE ** 2, offset: 0 }
        : { message: "figure-area-m2", symbol: "m²", factor: 1, offset: 0 };
    case "volume":
      return gallons
        ? { message: "figure-volume-gal", symbol: "gal", factor: US_GALLONS_PER_LITRE, offset: 0 }
        : { message: "figure-volume-l", symbol: "L", factor: 1, offset: 0 };
    case "speed":
      return feet
        ? { message: "figure-speed-mph", symbol: "mph", factor: MPH_PER_METRE_PER_SECOND, offset: 0, decimals: 0 }
        : { message: "figure-speed-kmh", symbol: "km/h", factor: 3.6, offset: 0, decimals: 0 };
    case "percent":
      return { message: "figure-share", symbol: "%", factor: 100, offset: 0, decimals: 0 };
    case "plain":
      return { message: null, symbol: "", factor: 1, offset: 0, decimals: 2 };
  }
}

/** The symbol of a quantity's unit. */
export function symbol(quantity: Quantity, units: Units): string {
  return scale(quantity, units).symbol;
}

/** A value in the reader's unit, unrounded. */
export function toShown(value: number, quantity: Quantity, units: Units): number {
  const { factor, offset } = scale(quantity, units);
  return value * factor + offset;
}

/** A value in the reader's unit back in SI. */
export function fromShown(shown: number, quantity: Quantity, units: Units): number {
  const { factor, offset } = scale(quantity, units);
  return (shown - offset) / factor;
}

/** A number with the reader's separators and a real minus sign. */
export function formatNumber(value: number, decimals = 0, tag = locale): string {
  const text = new Intl.NumberFormat(tag, { maximumFractionDigits: decimals }).format(value);
  // A rounded zero has no sign; a hyphen is not a minus.
  return text.replace(/^-(?=[0.,]*$)/, "").replace("-", "−");
}

/** A figure with its unit: `−2.2 °C`, `28 °F`, `12.5 L`. */
export function formatFigure(value: number, quantity: Quantity, units: Units, tag = locale): string {
  const { message, decimals } = scale(quantity, units);
  const shown = toShown(value, quantity, units);
  const number = quantity === "percent" ? percentNumber(shown, tag) : formatNumber(shown, decimals ?? worth(shown), tag);
  return message ? t(message, { number }) : number;
}

/** Per cent without decimals; what is not quite never or always does not read like it. */
function percentNumber(percent: number, tag: string): string {
  const nearAnEnd = (percent > 0 && percent < 1) || (percent > 99 && percent < 100);
  return nearAnEnd ? formatNumber(Math.min(Math.max(percent, 0.1), 99.9), 1, tag) : formatNumber(percent, 0, tag);
}

/** Decimals that a measured number deserves: two below 1, one below 100, none from there. */
function worth(value: number): number {
  const size = Math.abs(value);
  return size < 1 ? 2 : size < 100 ? 1 : 0;
}

/** Decimals that a field keeps, so that opening and saving a form moves no figure by much. */
const FIELD_DECIMALS = 2;

/** Text for a field: the reader's decimal sign, no grouping. */
export function fieldText(value: number, quantity: Quantity, units: Units, tag = locale): string {
  return new Intl.NumberFormat(tag, { maximumFractionDigits: FIELD_DECIMALS, useGrouping: false })
    .format(toShown(value, quantity, units))
    .replace(/^-(?=[0.,]*$)/, "")
    .replace("-", "−");
}

/**
 * Reads a number as people type it: decimal point or comma, hyphen or minus sign. Nothing when it is no number.
 * Grouping is refused, since `1.234` and `1,234` mean different things to different readers.
 */
export function parseNumber(text: string): number | null {
  const plain = text.trim().replace(/[−–]/g, "-").replace(",", ".").replace(/\s/g, "");
  return /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : null;
}

/** Units, currency and hints of a region, as a first guess that a grower can change. */
export function guessUnits(region: string | undefined): { units: Units; currency: string } {
  const fahrenheit = ["US", "LR", "BS", "BZ", "KY", "PW", "FM", "MH"].includes(region ?? "");
  const customary = ["US", "LR"].includes(region ?? "");
  return {
    units: {
      temperature: fahrenheit ? "fahrenheit" : "celsius",
      length: customary ? "foot" : "metre",
      volume: customary ? "us_gallon" : "litre",
    },
    currency: CURRENCIES[region ?? ""] ?? "EUR",
  };
}

const CURRENCIES: Record<string, string> = {
  AR: "ARS", AU: "AUD", BR: "BRL", CA: "CAD", CH: "CHF", CL: "CLP", CN: "CNY", CZ: "CZK", DK: "DKK", GB: "GBP",
  HU: "HUF", IL: "ILS", IN: "INR", IS: "ISK", JP: "JPY", KR: "KRW", LI: "CHF", MX: "MXN", NO: "NOK", NZ: "NZD",
  PL: "PLN", RO: "RON", SE: "SEK", TR: "TRY", UA: "UAH", US: "USD", ZA: "ZAR",
};
