//! Temperature within the day from daily extremes.

use std::f64::consts::PI;

/// Extremes of one day and its daylight, in hours of one clock for the whole run of days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayExtremes {
    /// Daily minimum in °C.
    pub min_c: f64,
    /// Daily maximum in °C.
    pub max_c: f64,
    /// Sunrise in hours after midnight; 12 when the sun does not rise.
    pub sunrise_h: f64,
    /// Sunset in hours after midnight; 12 when the sun does not rise.
    pub sunset_h: f64,
}

impl DayExtremes {
    fn day_length_h(&self) -> f64 {
        self.sunset_h - self.sunrise_h
    }

    /// Daytime sine in °C, `hours` after sunrise, with the day length that sets its width.
    fn sine_c(&self, hours: f64, day_length_h: f64) -> f64 {
        self.min_c + (self.max_c - self.min_c) * (PI * hours / (day_length_h + 4.0)).sin()
    }
}

/// How the two halves of a night meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Night {
    /// As published and used by chill models: the hours after midnight follow a slightly different logarithm, jump
    /// by up to 0.1 K at midnight and pass below the minimum by up to 2 % of the night's fall.
    AsPublished,
    /// One logarithm from sunset to sunrise that ends in the minimum: for heat balances and frost hours.
    Continuous,
}

/// Temperature in °C at an hour of a day.
///
/// * `yesterday`, `today`, `tomorrow` — extremes and daylight of three days in a row
/// * `hour` — hours after today's midnight, 0 to 24
/// * `night` — how the halves of a night meet
///
/// Day: `Tn + (Tx − Tn) sin(π t / (L + 4))`, t hours after sunrise, L day length. Evening, t hours after sunset:
/// `Ts − (Ts − Tn′) ln(t + 1) / ln(N + 1)`, Ts the day curve at sunset, Tn′ the next minimum, N the night's length.
/// Morning as published: the same with `ln N` below the line and the daylight of today in yesterday's Ts.
///
/// Between published curves of one night the hours of frost differ by 1.5 h: show such figures as a range. Not for
/// days on which the weather changes.
///
/// Reference: D. E. Linvill, Calculating chilling hours and chill units from daily maximum and minimum temperature
/// observations, HortScience 25 (1990) 14–16, in the form of the R package chillR.
pub fn temp_at_c(
    yesterday: &DayExtremes,
    today: &DayExtremes,
    tomorrow: &DayExtremes,
    hour: f64,
    night: Night,
) -> f64 {
    if hour < today.sunrise_h {
        let since_sunset_h = hour + 24.0 - yesterday.sunset_h;
        let night_h = 24.0 - yesterday.sunset_h + today.sunrise_h;
        match night {
            Night::AsPublished => {
                let length_h = today.day_length_h();
                let at_sunset_c = yesterday.sine_c(length_h, length_h);
                fall_c(at_sunset_c, today.min_c, since_sunset_h, night_h.max(1.001).ln())
            }
            Night::Continuous => {
                let length_h = yesterday.day_length_h();
                let at_sunset_c = yesterday.sine_c(length_h, length_h);
                fall_c(at_sunset_c, today.min_c, since_sunset_h, night_h.ln_1p())
            }
        }
    } else if hour <= today.sunset_h {
        today.sine_c(hour - today.sunrise_h, today.day_length_h())
    } else {
        let night_h = 24.0 - today.sunset_h + tomorrow.sunrise_h;
        let at_sunset_c = today.sine_c(today.day_length_h(), today.day_length_h());
        fall_c(at_sunset_c, tomorrow.min_c, hour - today.sunset_h, night_h.ln_1p())
    }
}

/// Logarithmic fall from `start_c` towards `end_c`.
fn fall_c(start_c: f64, end_c: f64, since_sunset_h: f64, log_of_night: f64) -> f64 {
    start_c - (start_c - end_c) / log_of_night * since_sunset_h.ln_1p()
}
