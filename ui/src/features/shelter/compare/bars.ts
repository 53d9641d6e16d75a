import type { SetUpBill, Spread, WinterView } from "$contract";

/** Set-ups that could be run, in the order asked for. */
export function usableBills(view: WinterView): SetUpBill[] {
  return view.bills.filter((one) => one.problem === null);
}

/** The span of temperatures that a picture of minima has to hold: all ranges and limits, with a degree around them. */
export function spanOf(spreads: readonly Spread[], limits: readonly (number | null)[]): [number, number] {
  const values = [...spreads.flatMap((one) => [one.low, one.high]), ...limits.filter((one) => one !== null)];
  if (values.length === 0) return [-10, 10];
  return [Math.floor(Math.min(...values) - 1), Math.ceil(Math.max(...values) + 1)];
}

/** The largest value of one in ten winters; at least 1, so that a picture without heat has a scale. */
export function mostOf(spreads: readonly Spread[]): number {
  return Math.max(1, ...spreads.map((one) => Math.max(one.high, one.mean)));
}
