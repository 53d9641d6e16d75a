import type { Site } from "$contract";
import { t } from "$shared/messages";
import { formatNumber } from "./index";

/**
 * Reads one coordinate in degrees: `47.7`, `47,7 N`, `47° 42′ 30″ S`, `-13.1`. Nothing when it cannot be read.
 */
export function parseCoordinate(text: string): number | null {
  const plain = text.trim().replace(/[−–]/g, "-");
  const match = /^([+-]?)\s*(\d+(?:[.,]\d+)?)\s*°?\s*(?:(\d+(?:[.,]\d+)?)\s*['′’]\s*)?(?:(\d+(?:[.,]\d+)?)\s*["″”]\s*)?([NSEWO]?)$/i.exec(plain);
  if (!match) return null;
  const [, sign, degrees, minutes, seconds, side] = match;
  const size = number(degrees) + number(minutes) / 60 + number(seconds) / 3600;
  if (number(minutes) >= 60 || number(seconds) >= 60) return null;
  const negative = sign === "-" || /[SW]/i.test(side ?? "");
  return negative ? -size : size;
}

/** Reads a pair as maps give it: `47.7, 13.1` or `47.7 N 13.1 E`. */
export function parsePair(text: string): { latitude: number; longitude: number } | null {
  const parts = text.includes(";")
    ? text.split(";")
    : /,\s/.test(text)
      ? text.split(/,\s+/)
      : (text.trim().match(/^(.*?[NS])[\s,]+(.*)$/i)?.slice(1) ?? text.split(/\s*,\s*/));
  if (parts.length !== 2) return null;
  const [latitude, longitude] = parts.map((part) => parseCoordinate(part ?? ""));
  if (latitude == null || longitude == null || Math.abs(latitude) > 90 || Math.abs(longitude) > 180) return null;
  return { latitude, longitude };
}

function number(text: string | undefined): number {
  return text ? Number(text.replace(",", ".")) : 0;
}

/** Where a site lies, in degrees north or south and east or west. */
export function formatCoordinates(site: Pick<Site, "latitude_deg" | "longitude_deg">): string {
  return t("figure-coordinates", {
    latitude: formatNumber(Math.abs(site.latitude_deg), 3),
    north_south: site.latitude_deg < 0 ? "south" : "north",
    longitude: formatNumber(Math.abs(site.longitude_deg), 3),
    east_west: site.longitude_deg < 0 ? "west" : "east",
  });
}
