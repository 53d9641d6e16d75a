import { locale } from "$shared/dates";

/** An amount in the site's currency; whole from 10 on, since a winter's bill is no better known. */
export function formatMoney(value: number, currency: string, tag = locale): string {
  const decimals = Math.abs(value) < 10 ? 2 : 0;
  try {
    const format = new Intl.NumberFormat(tag, { style: "currency", currency, minimumFractionDigits: decimals, maximumFractionDigits: decimals });
    return format.format(value).replace(/^-/, "−");
  } catch {
    // Three letters that no list of currencies knows.
    return `${currency}\u00a0${new Intl.NumberFormat(tag, { maximumFractionDigits: decimals }).format(value).replace("-", "−")}`;
  }
}
