// A small garden entered by commands, for tests that are about something else than the set-up.

/** Site, typed climate, one greenhouse with its zone, and plants of every kind of container. */
export async function plantGarden(host) {
  const site = await host.call("site_save", {
    id: "",
    name: "Garden",
    latitude_deg: 47.7,
    longitude_deg: 13.1,
    elevation_m: 470,
    time_zone: "Europe/Vienna",
    currency: "EUR",
    units: { temperature: "celsius", length: "metre", volume: "litre" },
    work: { days: [], hours_per_day: 4 },
  });
  await host.call("climate_type", {
    site_id: site.id,
    typed: { first_freeze: "2000-10-20", last_freeze: "2000-04-25", annual_minimum_c: -15 },
  });
  const shelter = await host.call("shelter_save", {
    id: "",
    site_id: site.id,
    name: "Glasshouse",
    kind: "greenhouse",
    length_m: 3,
    width_m: 2.5,
    height_m: 2.3,
    has_cover: true,
    has_heater: true,
  });
  const { zones } = await host.call("overview", { site_id: site.id });
  const plants = [
    ["citrus-limon", "Lemon", { kind: "pot", volume_l: 40 }],
    ["nerium-oleander", "Oleander", { kind: "pot", volume_l: 30 }],
    ["ficus-carica", "Fig", { kind: "pot", volume_l: 30 }],
  ];
  const { plants: catalogue } = await host.call("plant_list", {});
  const known = new Set(catalogue.map((plant) => plant.key));
  for (const [plant_key, label, container] of plants.filter(([key]) => known.has(key))) {
    await host.call("planting_save", {
      id: "",
      site_id: site.id,
      plant_key,
      label,
      count: 1,
      container,
      zone_id: zones[0].id,
      own_limit_c: null,
      footprint_m2: null,
    });
  }
  return { site, shelter, zone: zones[0] };
}

/** Every chore of the season that today falls in. */
export async function seasonOf(host, site) {
  return host.call("season_plan", { site_id: site.id, start_year: null });
}
