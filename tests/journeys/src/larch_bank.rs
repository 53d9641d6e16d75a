//! Larch Bank as a newcomer enters it: part of the invented demo, by hand.

use chrono::Weekday;
use hibernacle_engine::plant::{Container, Planting};
use hibernacle_engine::shelter::{Light, Shelter, ShelterKind, Zone};
use hibernacle_engine::site::{Site, WorkTime};
use hibernacle_test_support::draft;

use crate::Grower;

/// The invented climate of the place, as a file on the grower's disk.
pub const CLIMATE_FILE: &str = include_str!("../../../demo-data/larch-bank-climate.csv");

/// The place.
pub fn larch_bank() -> Site {
    Site {
        name: "Larch Bank".to_owned(),
        work: WorkTime { days: vec![Weekday::Wed, Weekday::Sat, Weekday::Sun], hours_per_day: 4.0 },
        ..draft::site()
    }
}

impl Grower {
    /// Enters a greenhouse with two zones, a cellar and a wrapped bed.
    pub fn enter_shelters(&self) {
        let greenhouse = self.enter_shelter(draft::greenhouse(&self.site.id));
        let floor = self.zone_of(&greenhouse);
        self.enter_zone(Zone { name: "south floor".to_owned(), kept_above_c: Some(4.0), ..floor });
        self.enter_zone(draft::corner(&greenhouse.id));
        self.enter_shelter(Shelter { name: "stone cellar".to_owned(), ..draft::cellar(&self.site.id) });
        let bed = self.enter_shelter(Shelter {
            name: "wrapped bed".to_owned(),
            kind: ShelterKind::WrappedBed,
            length_m: 4.0,
            width_m: 1.5,
            height_m: 2.0,
            has_cover: true,
            has_heater: false,
            ..draft::greenhouse(&self.site.id)
        });
        let wall = self.zone_of(&bed);
        self.enter_zone(Zone { name: "south wall".to_owned(), light: Light::Bright, ..wall });
    }

    /// Enters plants of each round of moving in, tubers to lift, and a palm that stays out.
    pub fn enter_plants(&self) {
        let zone = |name: &str| Some(self.zone(name).id);
        let site_id = self.site.id.as_str();
        for (key, label, zone) in [
            ("pelargonium-zonal", "pelargoniums", zone("south floor")),
            ("citrus-limon", "lemon", zone("south floor")),
            ("nerium-oleander", "oleander", zone("north corner")),
            ("olea-europaea", "olive", zone("north corner")),
            ("acer-palmatum", "maple", zone("floor")),
        ] {
            self.enter_plant(draft::pot(site_id, key, label, zone.as_deref()));
        }
        self.enter_plant(draft::lifted(site_id, "dahlia", "dahlias", zone("floor").as_deref()));
        self.enter_plant(Planting {
            container: Container::Ground,
            ..draft::pot(site_id, "trachycarpus-fortunei", "palm", zone("south wall").as_deref())
        });
    }
}
