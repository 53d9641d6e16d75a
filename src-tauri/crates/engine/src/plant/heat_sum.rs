//! Heat that moves buds on: growing degree hours and growing degree days.

use std::f64::consts::{FRAC_PI_2, PI};

/// The three temperatures of the growing degree hour curve in °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatCurve {
    /// Below it nothing grows.
    pub base_c: f64,
    /// Growth is fastest.
    pub best_c: f64,
    /// At and above it growth stands still.
    pub critical_c: f64,
}

impl HeatCurve {
    /// Fruit trees: 4, 25 and 36 °C (Anderson et al. 1986).
    pub const FRUIT_TREES: Self = Self { base_c: 4.0, best_c: 25.0, critical_c: 36.0 };

    /// The same curve with another base temperature in °C, at most 20.
    pub fn with_base(base_c: f64) -> Self {
        Self { base_c: base_c.min(20.0), ..Self::FRUIT_TREES }
    }

    /// Growing degree hours of an hour.
    ///
    /// * `temp_c` — temperature in °C
    ///
    /// ```text
    /// base…best:      (best − base)/2 · (1 + cos(π + π (T − base)/(best − base)))
    /// best…critical:  (best − base) · (1 + cos(π/2 + π/2 · (T − best)/(critical − best)))
    /// ```
    ///
    /// 0 outside.
    ///
    /// Reference: J. L. Anderson, E. A. Richardson, C. D. Kesner, Acta Hort. 184 (1986) 71–78 (ASYMCUR).
    pub fn degree_hours(&self, temp_c: f64) -> f64 {
        let rise_k = self.best_c - self.base_c;
        if temp_c <= self.base_c || temp_c >= self.critical_c {
            0.0
        } else if temp_c <= self.best_c {
            rise_k / 2.0 * (1.0 + (PI + PI * (temp_c - self.base_c) / rise_k).cos())
        } else {
            let past = (temp_c - self.best_c) / (self.critical_c - self.best_c);
            rise_k * (1.0 + (FRAC_PI_2 + FRAC_PI_2 * past).cos())
        }
    }

    /// Growing degree hours by straight lines: `T − base` up to the best temperature, then level to the critical one.
    ///
    /// * `temp_c` — temperature in °C; 0 at or below the base and at or above the critical temperature
    ///
    /// Reference: J. L. Anderson, S. D. Seeley, Acta Hort. 313 (1992) 135–142, in the form of the R package
    /// fruclimadapt. Higher than [`Self::degree_hours`] between base and middle: the two are not interchangeable.
    pub fn linear_degree_hours(&self, temp_c: f64) -> f64 {
        if temp_c <= self.base_c || temp_c >= self.critical_c {
            0.0
        } else {
            temp_c.min(self.best_c) - self.base_c
        }
    }
}

/// Growing degree hours of hourly temperatures in °C; see [`HeatCurve::degree_hours`].
pub fn degree_hours(curve: HeatCurve, temps_c: &[f64]) -> f64 {
    temps_c.iter().map(|&temp_c| curve.degree_hours(temp_c)).sum()
}

/// Growing degree days of a day: `max(0, (min + max)/2 − base)`.
///
/// * `min_c`, `max_c` — extremes of the day in °C
/// * `base_c` — base temperature in °C
///
/// The minimum is not raised to the base: 6 to 20 °C over a base of 10 °C are 3 degree days (5 with that variant).
///
/// Reference: G. S. McMaster, W. W. Wilhelm, Agric. For. Meteorol. 87 (1997) 291–300, method 1.
pub fn degree_days(min_c: f64, max_c: f64, base_c: f64) -> f64 {
    ((min_c + max_c) / 2.0 - base_c).max(0.0)
}
