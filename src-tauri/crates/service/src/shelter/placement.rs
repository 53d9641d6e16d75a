//! What is wrong with the placement of heaters and sensors, in words.

use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::placement::PlacementFinding;
use hibernacle_engine::shelter::{Heater, Sensor};

use crate::house::House;

/// Names of what stands in a shelter.
pub(super) struct Names<'a> {
    pub(super) house: &'a House<'a>,
    pub(super) heaters: &'a [Heater],
    pub(super) sensors: &'a [Sensor],
}

fn text(name: &str) -> Figure {
    Figure::Text(name.to_owned())
}

impl Names<'_> {
    fn heater(&self, id: &str) -> Figure {
        text(self.heaters.iter().find(|heater| heater.id == id).map_or("", |heater| &heater.name))
    }

    fn sensor(&self, id: &str) -> Figure {
        text(self.sensors.iter().find(|sensor| sensor.id == id).map_or("", |sensor| &sensor.name))
    }

    fn zone(&self, id: &str) -> Figure {
        text(self.house.zones.iter().find(|zone| zone.id == id).map_or("", |zone| &zone.name))
    }

    fn plants(&self, ids: &[String]) -> Figure {
        let here = self.house.plantings.iter().filter(|planting| ids.contains(&planting.id));
        text(&here.map(|planting| planting.label.as_str()).collect::<Vec<_>>().join(", "))
    }

    /// A finding with its figures, for the text catalogue.
    pub(super) fn reason(&self, finding: &PlacementFinding) -> Reason {
        let of = |message: &str, heater_id: &str| Reason::new(message).with("heater", self.heater(heater_id));
        match finding {
            PlacementFinding::InBlast { heater_id, zone_id, share, planting_ids } => {
                of("placement-in-blast", heater_id)
                    .with("zone", self.zone(zone_id))
                    .with("share", Figure::Share(*share))
                    .with("plants", self.plants(planting_ids))
            }
            PlacementFinding::TooClose { heater_id, zone_id, distance_m, needed_m } => {
                let reason = match zone_id {
                    Some(zone_id) => {
                        of("placement-too-close-zone", heater_id).with("zone", self.zone(zone_id))
                    }
                    None => of("placement-too-close-side", heater_id),
                };
                reason
                    .with("distance", Figure::LengthM(*distance_m))
                    .with("needed", Figure::LengthM(*needed_m))
            }
            PlacementFinding::NoShield { heater_id } => of("placement-no-shield", heater_id),
            PlacementFinding::SensorInBlast { heater_id, sensor_id } => {
                of("placement-sensor-in-blast", heater_id).with("sensor", self.sensor(sensor_id))
            }
            PlacementFinding::ColdestUnwatched { nearest_m: Some(nearest_m) } => {
                Reason::new("placement-coldest-unwatched").with("distance", Figure::LengthM(*nearest_m))
            }
            PlacementFinding::ColdestUnwatched { nearest_m: None } => {
                Reason::new("placement-coldest-without-sensor")
            }
        }
    }
}
