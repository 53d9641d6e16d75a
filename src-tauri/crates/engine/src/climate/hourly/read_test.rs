use super::*;

fn read(text: &str) -> Result<Vec<WeatherReport>, HourlyFileError> {
    read_hourly_file("terrace.csv", text)
}

fn close(found: Option<f64>, expected: f64) {
    assert!((found.unwrap() - expected).abs() < 1e-9, "{found:?}, expected {expected}");
}

#[test]
fn columns_are_found_by_their_trade_terms_and_units() {
    let text = "# a remark\nStation,Time UTC,Temperature (°F),Dew point (F),Relative humidity [%] pct,Wind speed mph,\
                Wind dir,Cloud okta,Solar W/m2\nx,2026-01-31 05:00,28,10.04,50,10,270,4,12\n";
    let text = text.replace("Solar W/m2", "Solar W per m2");
    let report = read(&text).unwrap()[0];
    assert_eq!(report.at.to_rfc3339(), "2026-01-31T05:00:00+00:00");
    // 28 °F is −2.2 °C in the tenths in which stations report.
    close(report.temp_c, -2.2);
    close(report.dew_point_c, -12.2);
    close(report.relative_humidity, 0.5);
    // One mile an hour is 0.44704 m/s by definition.
    close(report.wind_m_per_s, 4.4704);
    close(report.cloud_fraction, 0.5);
    close(report.ghi_w_per_m2, 12.0);
}

#[test]
fn times_carry_their_offset_or_the_column_says_utc() {
    let text = "time;temp_c;wind_kn\n2026-01-31T06:00+01:00;−3,5;3,6\n2026-01-31T05:30:00Z;;NA\n";
    let reports = read(text).unwrap();
    assert_eq!(reports[0].at.to_rfc3339(), "2026-01-31T05:00:00+00:00");
    close(reports[0].temp_c, -3.5);
    close(reports[0].wind_m_per_s, 1.852);
    assert_eq!(reports[1].at.to_rfc3339(), "2026-01-31T05:30:00+00:00");
    assert_eq!((reports[1].temp_c, reports[1].wind_m_per_s), (None, None));
}

#[test]
fn what_cannot_be_used_is_named_by_line_and_column() {
    for (text, line, field, said) in [
        ("", None, None, "is empty"),
        ("# only a remark\n", None, None, "is empty"),
        ("time_utc,wind_mph\n", Some(1), Some("temp_c"), "there is no column “temp_c”; begin the table"),
        ("hour,temp_c\n", Some(1), Some("time_utc"), "there is no column “time_utc”"),
        ("time_utc,temp\n", Some(1), Some("temp"), "its unit is not given; name it temp_c or temp_f"),
        ("time_utc,temp_c,wind\n", Some(1), Some("wind"), "wind_m_per_s"),
        ("time_utc,temp_c,temp_f\n", Some(1), Some("temp_f"), "“temp_c” and “temp_f” give the same quantity"),
        ("time_utc,temp_c\n2026-01-31 05:00,cold\n", Some(2), Some("temp_c"), "“cold” is not a number"),
        ("time_utc,temp_c\n31.1.2026,4\n", Some(2), Some("time_utc"), "is not a date with a time"),
        ("time,temp_c\n2026-01-31 05:00,4\n", Some(2), Some("time"), "no offset from UTC"),
        ("time_utc,temp_c\n2026-01-31 05:00,\n", None, None, "holds no temperature"),
    ] {
        let error = read(text).unwrap_err();
        assert!(error.to_string().contains(said), "{error}");
        assert!(error.to_string().contains("terrace.csv"), "{error}");
        assert_eq!((error.line(), error.field()), (line, field), "{error}");
    }
}
