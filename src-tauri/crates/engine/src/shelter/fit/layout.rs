//! Which parameters of the grey box are sought, what is believed of them beforehand, and how they are spelt.

use super::model::{Model, PeriodModel};
use super::points::{Course, Known};

/// A parameter that is sought, as a coordinate without bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Coordinate {
    /// Logarithm of the exchange between air and body.
    Exchange,
    /// Logarithm of the air's share of capacity.
    AirShare,
    /// Logarithm of the sun taken up.
    Aperture,
    /// Logit of the body's share of it.
    ToBody,
    /// Logarithm of the exchange with the ground.
    Ground,
    /// Logarithm of the latent heat.
    Latent,
    /// Share of the loss that sees the sky.
    Sky,
    /// Logarithm of the effect of heat.
    PerKw,
    /// Logarithm of a period's loss.
    Loss(usize),
    /// A period's growth of loss with wind.
    Wind(usize),
    /// Logarithm of a period's sun against the first.
    Shade(usize),
    /// Logarithms of the variances.
    Reading,
    /// See [`Self::Reading`].
    AirNoise,
    /// See [`Self::Reading`].
    BodyNoise,
    /// Logarithm of what an unknown sky is worth.
    SkyDoubt,
    /// Logarithm of the sun's share that goes with it.
    SunDoubt,
}

impl Coordinate {
    /// Mean and standard deviation beforehand: wide enough for a wrapped bed and a cellar (estimates of orders of
    /// magnitude; the deviations are factors of three to ten).
    pub(super) fn prior(self) -> (f64, f64) {
        match self {
            Self::Exchange => (0.15_f64.ln(), 1.5),
            Self::AirShare => (0.04_f64.ln(), 1.0),
            Self::Aperture => (5.0_f64.ln(), 2.0),
            Self::ToBody => (0.8, 1.0),
            Self::Ground => (0.015_f64.ln(), 1.5),
            Self::Latent => (25.0_f64.ln(), 1.5),
            Self::Sky => (0.15, 0.25),
            Self::PerKw => (1.0_f64.ln(), 3.0),
            Self::Loss(_) => (0.08_f64.ln(), 1.8),
            Self::Wind(_) => (0.05, 0.15),
            Self::Shade(_) => (0.0, 1.0),
            Self::Reading => (0.02_f64.ln(), 2.0),
            Self::AirNoise => (0.02_f64.ln(), 2.0),
            Self::BodyNoise => (0.002_f64.ln(), 2.0),
            Self::SkyDoubt => (0.7_f64.ln(), 1.5),
            Self::SunDoubt => (0.3_f64.ln(), 1.5),
        }
    }
}

/// The parameters sought for a log.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layout {
    pub(super) coordinates: Vec<Coordinate>,
    pub(super) periods: usize,
    known: Known,
}

impl Layout {
    /// What a log can speak of.
    ///
    /// * `periods` — the period of every night
    /// * `freezes` — whether it came near freezing inside
    pub(super) fn new(course: &Course, periods: usize, freezes: bool, sunlit: bool) -> Self {
        use Coordinate::{
            AirNoise, AirShare, Aperture, BodyNoise, Exchange, Ground, Latent, Loss, PerKw, Reading, Shade,
            Sky, SkyDoubt, SunDoubt, ToBody, Wind,
        };
        let known = course.known;
        let mut coordinates = vec![Exchange, AirShare, Ground, Sky];
        if sunlit {
            coordinates.extend([Aperture, ToBody]);
        }
        if freezes {
            coordinates.push(Latent);
        }
        if known.heat {
            coordinates.push(PerKw);
        }
        for period in 0..periods {
            coordinates.push(Loss(period));
            if known.wind {
                coordinates.push(Wind(period));
            }
            if period > 0 && sunlit {
                coordinates.push(Shade(period));
            }
        }
        coordinates.extend([Reading, AirNoise, BodyNoise, SkyDoubt]);
        if sunlit {
            coordinates.push(SunDoubt);
        }
        Self { coordinates, periods, known }
    }

    pub(super) fn len(&self) -> usize {
        self.coordinates.len()
    }

    pub(super) fn index(&self, coordinate: Coordinate) -> Option<usize> {
        self.coordinates.iter().position(|c| *c == coordinate)
    }

    /// The point believed most likely beforehand.
    pub(super) fn middle(&self) -> Vec<f64> {
        self.coordinates.iter().map(|c| c.prior().0).collect()
    }

    /// Minus twice the logarithm of the prior density, up to a constant.
    pub(super) fn prior_deviance(&self, theta: &[f64]) -> f64 {
        self.coordinates
            .iter()
            .zip(theta)
            .map(|(c, t)| {
                let (mean, sd) = c.prior();
                ((t - mean) / sd).powi(2)
            })
            .sum()
    }

    /// The grey box at a point; what is not sought takes its usual value, and what the log cannot show is left out.
    pub(super) fn model(&self, theta: &[f64]) -> Model {
        let usual = |c: Coordinate| c.prior().0;
        let get = |c: Coordinate| self.index(c).map_or_else(|| usual(c), |i| theta[i]);
        let sunlit = self.index(Coordinate::Aperture).is_some();
        let periods = (0..self.periods)
            .map(|k| PeriodModel {
                loss: get(Coordinate::Loss(k)).exp(),
                wind: if self.known.wind { get(Coordinate::Wind(k)) } else { 0.0 },
                shade: if k > 0 { get(Coordinate::Shade(k)).exp() } else { 1.0 },
            })
            .collect();
        let logit = get(Coordinate::ToBody);
        Model {
            exchange: get(Coordinate::Exchange).exp(),
            air_share: get(Coordinate::AirShare).exp(),
            aperture: if sunlit { get(Coordinate::Aperture).exp() } else { 0.0 },
            to_body: 1.0 / (1.0 + (-logit).exp()),
            ground: get(Coordinate::Ground).exp(),
            latent_k: if self.index(Coordinate::Latent).is_some() {
                get(Coordinate::Latent).exp()
            } else {
                0.0
            },
            sky: get(Coordinate::Sky),
            per_kw: if self.known.heat { get(Coordinate::PerKw).exp() } else { 0.0 },
            periods,
            reading_k2: get(Coordinate::Reading).exp(),
            air_k2: get(Coordinate::AirNoise).exp(),
            body_k2: get(Coordinate::BodyNoise).exp(),
            sky_doubt_k: get(Coordinate::SkyDoubt).exp(),
            sun_doubt: if sunlit { get(Coordinate::SunDoubt).exp() } else { 0.0 },
        }
    }
}
