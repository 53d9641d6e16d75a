import { locale } from "$shared/dates";
import { formatNumber } from "$shared/units";

/** An amount in a currency, as the reader writes it; a code that nobody knows stands beside the number. */
export function formatMoney(amount: number, currency: string, tag = locale): string {
  try {
    return new Intl.NumberFormat(tag, { style: "currency", currency, currencyDisplay: "narrowSymbol" }).format(amount);
  } catch {
    return `${formatNumber(amount, 2, tag)} ${currency}`;
  }
}
