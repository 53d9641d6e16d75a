//! Where the sensors of a file belong.

use hibernacle_contract::readings::{FileSensor, SensorChoice, SensorPlace};
use hibernacle_engine::readings::LogFile;
use hibernacle_engine::shelter::{Sensor, Shelter, Zone};
use hibernacle_engine::site::Site;
use hibernacle_store::{Reader, StoredImport};

use crate::problem::Problem;

/// What is set up at a site.
struct There {
    sensors: Vec<Sensor>,
    zones: Vec<Zone>,
    shelters: Vec<Shelter>,
}

/// Where each sensor of a file belongs: what is chosen, else the sensor of that name, else what its name stood for in
/// an earlier import, else the zone or the outdoors that its name speaks of.
pub(super) fn places(
    data: &Reader<'_>,
    site: &Site,
    file: &LogFile,
    choices: &[SensorChoice],
    imports: &[StoredImport],
) -> Result<Vec<FileSensor>, Problem> {
    let there = There {
        sensors: data.sensors(&site.id)?,
        zones: data.zones(&site.id)?,
        shelters: data.shelters(&site.id)?,
    };
    let mut sensors: Vec<FileSensor> = Vec::new();
    for series in &file.series {
        let name = &series.figures.sensor;
        if sensors.iter().any(|known| known.name == *name) {
            continue;
        }
        let chosen = choices.iter().find(|choice| choice.name.to_lowercase() == name.to_lowercase());
        let place = match chosen {
            Some(choice) => choice.place.clone(),
            None => there.guess(name, series.figures.is_outdoor, imports),
        };
        let place_name = there.name_of(&place)?;
        sensors.push(FileSensor { name: name.clone(), place, place_name });
    }
    if let Some(stray) = choices
        .iter()
        .find(|choice| !sensors.iter().any(|known| known.name.to_lowercase() == choice.name.to_lowercase()))
    {
        let known: Vec<&str> = sensors.iter().map(|sensor| sensor.name.as_str()).collect();
        return Err(Problem::field(
            "sensors",
            format!("names “{}”, which is no sensor of the file", stray.name),
            format!("choose from {}", known.join(", ")),
        ));
    }
    Ok(sensors)
}

impl There {
    fn guess(&self, name: &str, is_outdoor: Option<bool>, imports: &[StoredImport]) -> SensorPlace {
        let wanted = name.to_lowercase();
        if let Some(sensor) = self.sensors.iter().find(|sensor| sensor.name.to_lowercase() == wanted) {
            return SensorPlace::Sensor { sensor_id: sensor.id.clone() };
        }
        let earlier = imports
            .iter()
            .filter(|import| import.undone_at_utc.is_none())
            .flat_map(|import| &import.sensors)
            .find(|sensor| sensor.name.to_lowercase() == wanted);
        if let Some(earlier) = earlier
            && self.sensors.iter().any(|sensor| sensor.id == earlier.sensor_id)
        {
            return SensorPlace::Sensor { sensor_id: earlier.sensor_id.clone() };
        }
        let speaks_of = |place: &str| wanted.contains(&place.to_lowercase());
        let mut zones = self.zones.iter().filter(|zone| speaks_of(&zone.name));
        if let (Some(zone), None) = (zones.next(), zones.next()) {
            return SensorPlace::Zone { zone_id: zone.id.clone() };
        }
        if is_outdoor == Some(true) {
            return SensorPlace::Outdoors;
        }
        let in_named: Vec<&Zone> = self
            .zones
            .iter()
            .filter(|zone| {
                let shelter = self.shelters.iter().find(|shelter| shelter.id == zone.shelter_id);
                self.zones.len() == 1 || shelter.is_some_and(|shelter| speaks_of(&shelter.name))
            })
            .collect();
        match in_named.as_slice() {
            [zone] => SensorPlace::Zone { zone_id: zone.id.clone() },
            _ => SensorPlace::Unknown,
        }
    }

    /// Name of the sensor or zone of a place; refused where it does not exist.
    fn name_of(&self, place: &SensorPlace) -> Result<Option<String>, Problem> {
        match place {
            SensorPlace::Sensor { sensor_id } => self
                .sensors
                .iter()
                .find(|sensor| sensor.id == *sensor_id)
                .map(|sensor| Some(sensor.name.clone()))
                .ok_or_else(|| Problem::not_found("this sensor")),
            SensorPlace::Zone { zone_id } => self
                .zones
                .iter()
                .find(|zone| zone.id == *zone_id)
                .map(|zone| Some(zone.name.clone()))
                .ok_or_else(|| Problem::not_found("this zone")),
            SensorPlace::Outdoors | SensorPlace::LeftOut | SensorPlace::Unknown => Ok(None),
        }
    }
}
