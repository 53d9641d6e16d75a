use super::*;

#[test]
fn the_step_grows_with_the_risk() {
    for (risk, heated, bare) in [
        (0.0, NightStep::Rest, NightStep::Rest),
        (0.05, NightStep::Ready, NightStep::Ready),
        (0.1, NightStep::Heat, NightStep::Shield),
        (1.0, NightStep::Heat, NightStep::Shield),
    ] {
        assert_eq!((NightStep::of(risk, true), NightStep::of(risk, false)), (heated, bare), "{risk}");
    }
}

#[test]
fn the_sensor_hangs_where_the_warmest_air_is_needed() {
    let set = SetPoint::keeping(&[(0.0, Some(1.0)), (-1.5, Some(0.2)), (2.0, None)]).expect("a setting");
    assert_eq!((set.zone, set.set_c, set.air_c), (1, 0.5, 2.0));
    assert_eq!(SetPoint::keeping(&[(0.0, None)]), None);
}

#[test]
fn risk_follows_the_band() {
    let zone = ZoneNight {
        low_c: -4.0,
        low_10_c: -6.0,
        low_90_c: -2.0,
        hold_k: 3.0,
        limit_c: -3.0,
        risk: 0.7,
        heat_below_c: None,
        low_slope: 0.9,
    };
    for (limit_c, risk) in [(-6.0, 0.1), (-4.0, 0.5), (-2.0, 0.9)] {
        assert!((risk_at(&zone, limit_c) - risk).abs() < 1e-6);
    }
    let sharp = ZoneNight { low_10_c: -4.0, low_90_c: -4.0, ..zone };
    assert_eq!((risk_at(&sharp, -5.0), risk_at(&sharp, -3.0)), (0.0, 1.0));
}

/// UK Met Office, 36 months at 119 sites: 86.5 % of first-night minima within 2 °C.
#[test]
fn the_first_nights_error_is_that_of_the_published_share() {
    let within = 2.0 * Normal::standard().cdf(2.0 / forecast_error_k(0)) - 1.0;
    assert!((within - 0.865).abs() < 0.015, "{within}");
    assert!(forecast_error_k(5) > forecast_error_k(4));
}
