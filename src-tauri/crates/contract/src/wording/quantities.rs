//! Quantities in the reader's units, rounded for reading.
//!
//! | quantity | rule |
//! |---|---|
//! | temperature | °C to one decimal; °F to the degree, as thermometers and published limits give it |
//! | difference | one decimal in either unit; 1 K is 1.8 °F, without the offset of 32 |
//! | share | whole per cent; one decimal below 1 % and above 99 %, so that a small risk never reads as none |
//! | power, heat flow | to the ten from 100 on |
//! | energy, current, hours | one decimal, none from 100 on |
//! | volume, area, length | two decimals below 1, one below 100, none from there |
//!
//! Zeros at the end are dropped, halves are rounded away from zero, and a negative figure has a minus sign (U+2212).
//! A US gallon is 3.785411784 L and an international foot 0.3048 m (NIST Special Publication 811, appendix B.8).

use fluent_bundle::FluentArgs;
use hibernacle_engine::shelter::fuel::BTU_PER_H_W;
use hibernacle_engine::site::{LengthUnit, Site, TemperatureUnit, VolumeUnit};

use super::Wording;

/// Litres in a US liquid gallon.
const LITRES_PER_GALLON: f64 = 3.785_411_784;
/// Metres in an international foot.
const METRES_PER_FOOT: f64 = 0.3048;

impl Wording {
    /// A temperature given in °C.
    pub fn temperature(&self, temp_c: f64) -> String {
        match self.units().temperature {
            TemperatureUnit::Celsius => self.quantity("figure-temp-c", &decimal(temp_c, 1)),
            TemperatureUnit::Fahrenheit => self.quantity("figure-temp-f", &decimal(temp_c * 1.8 + 32.0, 0)),
        }
    }

    /// Where a site lies, in degrees north or south and east or west.
    pub fn coordinates(&self, site: &Site) -> String {
        let half = |negative: bool, words: [&'static str; 2]| words[usize::from(negative)];
        let mut figures = FluentArgs::new();
        figures.set("latitude", self.number(site.latitude_deg.abs(), 3));
        figures.set("north_south", half(site.latitude_deg < 0.0, ["north", "south"]));
        figures.set("longitude", self.number(site.longitude_deg.abs(), 3));
        figures.set("east_west", half(site.longitude_deg < 0.0, ["east", "west"]));
        self.message("figure-coordinates", &figures)
    }

    /// A difference of temperatures given in K.
    pub fn temperature_difference(&self, diff_k: f64) -> String {
        match self.units().temperature {
            TemperatureUnit::Celsius => self.quantity("figure-diff-c", &decimal(diff_k, 1)),
            TemperatureUnit::Fahrenheit => self.quantity("figure-diff-f", &decimal(diff_k * 1.8, 1)),
        }
    }

    /// A probability or share, 0 to 1, in per cent; what is not quite never or always does not read like it.
    pub fn share(&self, share: f64) -> String {
        let percent = share * 100.0;
        let near_an_end = (percent > 0.0 && percent < 1.0) || (percent > 99.0 && percent < 100.0);
        let shown = if near_an_end { percent.clamp(0.1, 99.9) } else { percent };
        self.quantity("figure-share", &decimal(shown, usize::from(near_an_end)))
    }

    /// A volume given in litres.
    pub fn volume(&self, volume_l: f64) -> String {
        match self.units().volume {
            VolumeUnit::Litre => self.quantity("figure-volume-l", &measure(volume_l)),
            VolumeUnit::UsGallon => {
                self.quantity("figure-volume-gal", &measure(volume_l / LITRES_PER_GALLON))
            }
        }
    }

    /// A volume of air given in cubic metres.
    pub fn air_volume(&self, volume_m3: f64) -> String {
        match self.units().length {
            LengthUnit::Metre => self.quantity("figure-air-m3", &measure(volume_m3)),
            LengthUnit::Foot => {
                self.quantity("figure-air-ft3", &measure(volume_m3 / METRES_PER_FOOT.powi(3)))
            }
        }
    }

    /// An area given in square metres.
    pub fn area(&self, area_m2: f64) -> String {
        match self.units().length {
            LengthUnit::Metre => self.quantity("figure-area-m2", &measure(area_m2)),
            LengthUnit::Foot => {
                self.quantity("figure-area-ft2", &measure(area_m2 / (METRES_PER_FOOT * METRES_PER_FOOT)))
            }
        }
    }

    /// A length given in metres.
    pub fn length(&self, length_m: f64) -> String {
        match self.units().length {
            LengthUnit::Metre => self.quantity("figure-length-m", &measure(length_m)),
            LengthUnit::Foot => self.quantity("figure-length-ft", &measure(length_m / METRES_PER_FOOT)),
        }
    }

    /// Energy given in kWh.
    pub fn energy(&self, energy_kwh: f64) -> String {
        self.quantity("figure-energy-kwh", &tenths_below_100(energy_kwh))
    }

    /// Power given in W.
    pub fn power(&self, power_w: f64) -> String {
        self.quantity("figure-power-w", &tens_from_100(power_w))
    }

    /// A flow of heat given in W, in British thermal units per hour, as American heaters are sold.
    pub fn heat_flow_btu_per_h(&self, heat_w: f64) -> String {
        self.quantity("figure-heat-btu-per-h", &tens_from_100(heat_w / BTU_PER_H_W))
    }

    /// A current given in A.
    pub fn current(&self, current_a: f64) -> String {
        self.quantity("figure-current-a", &tenths_below_100(current_a))
    }

    /// A span given in hours, for figures that are not read from a clock.
    pub fn hours(&self, hours: f64) -> String {
        self.quantity("figure-hours-decimal", &tenths_below_100(hours))
    }

    /// A span in days.
    pub fn days(&self, days: i32) -> String {
        let mut figures = FluentArgs::new();
        figures.set("number", days);
        self.message("figure-days", &figures)
    }

    /// A working time given in minutes (`45 min`, `1 h 30 min`).
    pub fn minutes(&self, minutes: u32) -> String {
        let mut figures = FluentArgs::new();
        figures.set("hours", (minutes / 60).to_string());
        figures.set("minutes", (minutes % 60).to_string());
        let form = match (minutes / 60, minutes % 60) {
            (0, _) => "figure-minutes",
            (_, 0) => "figure-hours",
            _ => "figure-hours-minutes",
        };
        self.message(form, &figures)
    }

    /// A bare number with so many decimals.
    pub fn number(&self, value: f64, decimals: usize) -> String {
        decimal(value, decimals)
    }

    fn quantity(&self, form: &str, number: &str) -> String {
        let mut figures = FluentArgs::new();
        figures.set("number", number);
        self.message(form, &figures)
    }
}

fn tenths_below_100(value: f64) -> String {
    decimal(value, usize::from(value.abs() < 100.0))
}

fn tens_from_100(value: f64) -> String {
    if value.abs() < 100.0 { decimal(value, 0) } else { decimal((value / 10.0).round() * 10.0, 0) }
}

/// A measured number with the decimals that its size deserves.
fn measure(value: f64) -> String {
    decimal(value, if value.abs() < 1.0 { 2 } else { usize::from(value.abs() < 100.0) })
}

/// A number rounded to so many decimals, without zeros at the end and with a true minus sign.
pub(super) fn decimal(value: f64, decimals: usize) -> String {
    let scale = 10_f64.powi(decimals as i32);
    let text = format!("{:.decimals$}", (value * scale).round() / scale);
    let text = if decimals > 0 { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    match text.strip_prefix('-') {
        Some("0") => "0".to_owned(),
        Some(positive) => format!("\u{2212}{positive}"),
        None => text.to_owned(),
    }
}
