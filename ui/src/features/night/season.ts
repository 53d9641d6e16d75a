import { addDays, type Day } from "$shared/dates";

/** Whether nights matter on a day: from the middle of August to the end of May, half a year later in the south. */
export function isNightSeason(day: Day, latitudeDeg: number): boolean {
  const season = latitudeDeg >= 0 ? day : addDays(day, 182);
  const monthDay = season.slice(5);
  return monthDay >= "08-15" || monthDay <= "05-31";
}
