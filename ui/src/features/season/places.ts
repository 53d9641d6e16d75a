import type { Shelter, Site, Zone } from "$contract";
import { t } from "$shared/messages";

/** Places of a site in the order of its set-up: the whole site, then each shelter with its zones. */
export function placesOf(site: Site, shelters: readonly Shelter[], zones: readonly Zone[]): { key: string; name: string }[] {
  return [
    { key: "site", name: site.name },
    ...shelters.flatMap((shelter) => [
      { key: shelter.id, name: shelter.name },
      ...zones
        .filter((zone) => zone.shelter_id === shelter.id)
        .map((zone) => ({ key: zone.id, name: t("place-name", { shelter: shelter.name, zone: zone.name }) })),
    ]),
  ];
}
