//! Forecasts.

use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::weather::{ForecastFile, ForecastView, WeatherSettings};
use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

fn missing() -> Failure {
    Failure::new(ErrorCode::Internal, "forecasts are being written")
}

pub fn weather_settings(_context: &Context, _request: SiteRef) -> Result<WeatherSettings, Failure> {
    Err(missing())
}

pub fn weather_choose(_context: &Context, _settings: WeatherSettings) -> Result<ForecastView, Failure> {
    Err(missing())
}

pub fn forecast(_context: &Context, _request: SiteRef) -> Result<ForecastView, Failure> {
    Err(missing())
}

pub fn forecast_file(_context: &Context, _file: ForecastFile) -> Result<ForecastView, Failure> {
    Err(missing())
}
