import { t } from "$shared/messages";

const winds = () => [
  t("wind-north"),
  t("wind-north-east"),
  t("wind-east"),
  t("wind-south-east"),
  t("wind-south"),
  t("wind-south-west"),
  t("wind-west"),
  t("wind-north-west"),
];

/** Degrees in 0 to 360. */
export function turned(deg: number): number {
  return ((deg % 360) + 360) % 360;
}

/** The nearest of the eight winds to a direction in degrees from north over east. */
export function windOf(azimuthDeg: number): string {
  return winds()[Math.round(turned(azimuthDeg) / 45) % 8] ?? "";
}

/** Directions of the sides of a shelter whose length points somewhere, in degrees from north over east. */
export function sidesOf(lengthAzimuthDeg: number) {
  return {
    ahead: turned(lengthAzimuthDeg),
    right: turned(lengthAzimuthDeg + 90),
    behind: turned(lengthAzimuthDeg + 180),
    left: turned(lengthAzimuthDeg + 270),
  };
}
