//! Climate files: the GHCN-Daily layouts and plain tables, good and bad.
//!
//! Layouts: NOAA NCEI, "README FILE FOR DAILY GLOBAL HISTORICAL CLIMATOLOGY NETWORK (GHCN-DAILY)", section III for
//! the fixed width; the readme of the `by_year` folder for the CSV without header; the GHCN-Daily CSV
//! documentation for the access CSV. The records are written by hand from these descriptions; the values of
//! Buffalo, May 1938, are those of USW00014733 in the archive.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use hibernacle_engine::climate::{
    Climate, ClimateFileError, ClimateRecord, RecordSource, freeze::first_autumn, read_climate_file,
};
use hibernacle_engine::site::{Hemisphere, TemperatureUnit};

/// A line of a `.dly` file with the given groups of value and flags from day 1 on; the rest is missing.
fn dly(id: &str, month: &str, element: &str, groups: &[&str]) -> String {
    let mut line = format!("{id}{month}{element}");
    for day in 0..31 {
        line.push_str(groups.get(day).unwrap_or(&"-9999   "));
    }
    assert_eq!(line.len(), 269, "the readme's record length");
    line
}

fn read(text: &str) -> ClimateRecord {
    read_climate_file("test.csv", text, None).unwrap()
}

fn refuse(text: &str, unit: Option<TemperatureUnit>) -> ClimateFileError {
    read_climate_file("test.csv", text, unit).unwrap_err()
}

/// Date, minimum and maximum of each day.
fn days(record: &ClimateRecord) -> Vec<(String, Option<f64>, Option<f64>)> {
    record.days.iter().map(|day| (day.date.to_string(), day.min_c, day.max_c)).collect()
}

fn problems(record: &ClimateRecord) -> Vec<(u32, &str)> {
    record.problems.iter().map(|problem| (problem.line, &*problem.what)).collect()
}

/// Days of Buffalo in May 1938 as all three layouts must give them.
fn buffalo() -> Vec<(String, Option<f64>, Option<f64>)> {
    [(1, 3.9, 14.4), (2, 8.3, 21.1), (3, 7.2, 16.7), (5, 10.6, 31.1)]
        .map(|(day, min, max)| (format!("1938-05-0{day}"), Some(min), Some(max)))
        .to_vec()
}

#[test]
fn the_fixed_width_layout_gives_the_values_of_buffalo() {
    let id = "USW00014733";
    let text = [
        dly(id, "193805", "TMAX", &["  144  0", "  211  0", "  167  0", "-9999   ", "  311  0"]),
        dly(id, "193805", "TMIN", &["   39  0", "   83  0", "   72  0", "-9999   ", "  106  0"]),
        dly(id, "193805", "PRCP", &["    0T 0", "    0T 0", "   25  0"]),
    ]
    .join("\n");
    let record = read(&text);
    assert_eq!(record.source, RecordSource::GhcnFixedWidth);
    assert_eq!(record.station.id, id);
    assert_eq!(days(&record), buffalo());
    assert_eq!(problems(&record), []);
    assert_eq!(days(&read(&text.replace('\n', "\r\n"))), buffalo(), "line ends of Windows");
}

#[test]
fn the_csv_without_header_gives_the_values_of_buffalo() {
    let record = read(
        "USW00014733,19380501,TMAX,144,,,0,\nUSW00014733,19380501,TMIN,39,,,0,\n\
         USW00014733,19380501,PRCP,0,T,,0,\nUSW00014733,19380502,TMAX,211,,,0,\n\
         USW00014733,19380502,TMIN,83,,,0,\nUSW00014733,19380503,TMAX,167,,,0,2400\n\
         USW00014733,19380503,TMIN,72,,,0,2400\nUSW00014733,19380505,TMIN,106,,,0,\n\
         USW00014733,19380505,TMAX,311,,,0,\n",
    );
    assert_eq!(record.source, RecordSource::GhcnCsv);
    assert_eq!(days(&record), buffalo());
    let with_header = "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n\
                       USW00014733,19380501,TMAX,144,,,0,\nUSW00014733,19380501,TMIN,39,,,0,\n";
    assert_eq!(days(&read(with_header)), buffalo()[..1]);
    assert_eq!(read(with_header).station.id, "USW00014733");
}

const ACCESS_HEADER: &str = "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"PRCP\",\
                             \"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"";

fn access(rows: &[(&str, &str, &str, &str, &str)]) -> String {
    let rows = rows.iter().map(|(date, max, max_attributes, min, min_attributes)| {
        format!(
            "\"USW00014733\",\"{date}\",\"42.94083\",\"-78.73583\",\"218.2\",\"BUFFALO, NY US\",\"    0\",\"T,,0\",\
             \"{max}\",\"{max_attributes}\",\"{min}\",\"{min_attributes}\""
        )
    });
    [ACCESS_HEADER.to_string()].into_iter().chain(rows).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_access_csv_gives_the_values_of_buffalo_and_its_station() {
    let record = read(&access(&[
        ("1938-05-01", "  144", ",,0", "   39", ",,0"),
        ("1938-05-02", "  211", ",,0", "   83", ",,0,2400"),
        ("1938-05-03", "  167", ",,0", "   72", ",,0"),
        ("1938-05-04", "", "", "", ""),
        ("1938-05-05", "  311", ",,0", "  106", ",,0"),
    ]));
    assert_eq!(record.source, RecordSource::GhcnCsv);
    assert_eq!(days(&record), buffalo());
    assert_eq!(record.station.name, "BUFFALO, NY US");
    assert_eq!(record.station.latitude_deg, Some(42.94083));
    assert_eq!(record.station.longitude_deg, Some(-78.73583));
    assert_eq!(record.station.elevation_m, Some(218.2));
}

/// A value, a missing one and one that failed a check, as the readme lays flags out.
#[test]
fn flags_and_missing_values_are_honoured_in_every_layout() {
    let fixed = dly("USC00000000", "202601", "TMIN", &["  -56  S", "-9999   ", " -123 IS", "  -70H  "]);
    let expected =
        [("2026-01-01".to_string(), Some(-5.6), None), ("2026-01-04".to_string(), Some(-7.0), None)];
    let record = read(&fixed);
    assert_eq!(days(&record), expected);
    let told = [(1, "minimum of 2026-01-03 failed a quality check of the network (flag I): left out")];
    assert_eq!(problems(&record), told);

    let record = read(
        "USC00000000,20260101,TMIN,-56,,,S,\nUSC00000000,20260102,TMIN,-9999,,,S,\n\
         USC00000000,20260103,TMIN,-123,,I,S,0700\nUSC00000000,20260104,TMIN,-70,H,,,\n",
    );
    assert_eq!(days(&record), expected);
    assert_eq!(record.problems[0].line, 3);

    let record = read(&access(&[
        ("2026-01-01", "", "", "  -56", ",,S"),
        ("2026-01-02", "", "", "-9999", ",,S"),
        ("2026-01-03", "", "", " -123", ",I,S,0700"),
        ("2026-01-04", "", "", "  -70", "H,,"),
    ]));
    assert_eq!(days(&record), expected);
    assert_eq!(record.problems[0].line, 4);
}

#[test]
fn days_that_a_month_does_not_have_are_named() {
    let mut groups = vec!["  100  S"; 30];
    groups[29] = "   90  S";
    let record = read(&dly("USC00000000", "202602", "TMIN", &groups));
    assert_eq!(record.days.len(), 28);
    let told = [
        (1, "“2026-02-29” is not a date (year-month-day): left out"),
        (1, "“2026-02-30” is not a date (year-month-day): left out"),
    ];
    assert_eq!(problems(&record), told);
}

#[test]
fn a_damaged_line_costs_only_itself() {
    let good = dly("USC00000000", "202601", "TMIN", &["  -56  S"]);
    let cut = &dly("USC00000000", "202602", "TMIN", &["  -10  S", "  -20  S"])[..34];
    let record = read(&format!("{good}\n404 not found\n{cut}\n"));
    assert_eq!(
        days(&record),
        [
            ("2026-01-01".to_string(), Some(-5.6), None),
            ("2026-02-01".to_string(), Some(-1.0), None),
            ("2026-02-02".to_string(), Some(-2.0), None)
        ]
    );
    assert_eq!(record.problems.len(), 1);
    assert_eq!(record.problems[0].line, 2);
    let text = dly("USC00000000", "202601", "TMIN", &["  -x6  S", "  -56  S"]);
    assert_eq!(problems(&read(&text)), [(1, "the minimum of day 1 is not a whole number: left out")]);
}

#[test]
fn two_stations_are_refused() {
    let error = refuse("USC00000001,20260101,TMIN,-56,,,S,\nUSC00000002,20260101,TMIN,-56,,,S,\n", None);
    assert_eq!((error.line(), error.field()), (Some(2), Some("ID")));
    assert_eq!(
        error.to_string(),
        "“test.csv”, line 2, column “ID”: station USC00000002 follows on USC00000001; use a file of one station only"
    );
}

/// The archive stores tenths; its search service hands out the same columns in degrees.
#[test]
fn an_access_csv_in_degrees_asks_for_the_unit() {
    let text =
        access(&[("2026-01-01", "5.0", ",,S", "-5.6", ",,S"), ("2026-01-02", "41", ",,S", "23", ",,S")]);
    let error = refuse(&text, None);
    assert!(matches!(error, ClimateFileError::UnitMissing { .. }), "{error}");
    let record = read_climate_file(
        "a",
        &access(&[("2026-01-01", "", "", "28.0", ",,S")]),
        Some(TemperatureUnit::Fahrenheit),
    );
    assert_eq!(record.unwrap().days[0].min_c, Some(-2.2));
}

#[test]
fn plain_tables_are_read_with_several_habits() {
    let expected =
        [("2026-01-01".to_string(), Some(-2.2), Some(5.0)), ("2026-01-02".to_string(), Some(0.0), None)];
    for text in [
        "date,tmin_c,tmax_c\n2026-01-01,-2.2,5\n2026-01-02,0,\n",
        "date,tmin_f,tmax_f\n2026-01-01,28,41\n2026-01-02,32,NA\n",
        "# my garden\n# INVENTED\ndate,tmin_c,tmax_c\n2026-01-01,-2.2,5\n2026-01-02,-0.0,-999\n",
        "\u{feff}Date;Tmax (°C);Tmin (°C)\r\n01.01.2026;5,0;−2,2\r\n02.01.2026;;0\r\n",
        "TMIN C\tdate\tTMAX C\n-2.2\t20260101\t5\n0\t20260102\tM\n",
        "\"date\",\"min temp f\",\"max temp\"\n\"2026/01/01\",\"28.0\",\"41.0\"\n\"2026-01-02T00:00\",\"32\",\"\"\n",
    ] {
        let record = read_climate_file("test.csv", text, None).unwrap_or_else(|err| panic!("{err}\n{text}"));
        assert_eq!(days(&record), expected, "{text}");
        assert_eq!(record.source, RecordSource::PlainCsv);
        assert_eq!(problems(&record), []);
    }
    let text = "2026-01-01,-2.2,5\n2026-01-02,0\n";
    let record = read_climate_file("test.csv", text, Some(TemperatureUnit::Celsius)).unwrap();
    assert_eq!(days(&record), expected, "no header");
}

/// A header that names the unit stands against what the caller supposes.
#[test]
fn the_header_decides_on_the_unit() {
    let text = "date,tmin_f\n2026-01-01,28\n";
    let record = read_climate_file("test.csv", text, Some(TemperatureUnit::Celsius)).unwrap();
    assert_eq!(record.days[0].min_c, Some(-2.2));
}

/// Whole degrees Fahrenheit become the tenths that the archive stores, so that a threshold in either unit catches
/// the same nights (28 °F is −2.222 °C).
#[test]
fn fahrenheit_comes_back_from_tenths() {
    let mut text = "date,tmin_f\n".to_string();
    let first: chrono::NaiveDate = "2025-07-01".parse().unwrap();
    for (day, low_f) in first.iter_days().zip(-30..=60) {
        text += &format!("{day},{low_f}\n");
    }
    let record = read(&text);
    for (day, low_f) in record.days.iter().zip(-30..=60) {
        assert_eq!((day.min_c.unwrap() * 1.8 + 32.0).round() as i32, low_f);
    }
    for threshold_f in [20, 24, 28, 32] {
        let threshold_c = (f64::from(threshold_f) - 32.0) / 1.8;
        let published_c = (threshold_c * 10.0).round() / 10.0;
        let night = format!("date,tmin_f\n2025-10-01,{}\n2025-10-02,{threshold_f}\n", threshold_f + 1);
        let climate = Climate::from_record(&read(&night), Hemisphere::Northern);
        for threshold_c in [threshold_c, published_c] {
            let cold: Vec<_> = climate.seasons()[0].lows_c.iter().flatten().collect();
            assert_eq!(cold.len(), 2);
            let chance = |date: &str| {
                let day =
                    hibernacle_engine::climate::SeasonDay::of(date.parse().unwrap(), Hemisphere::Northern);
                climate.lows().chance_at_or_below(day, threshold_c)
            };
            let found = chance("2025-10-02");
            assert!(
                found > 0.5 && found < 1.0,
                "only the second night is at or below {threshold_f} °F: {found}"
            );
        }
        assert_eq!(first_autumn(&climate, threshold_c).days, first_autumn(&climate, published_c).days);
    }
}

#[test]
fn a_unit_that_is_not_given_is_asked_for() {
    let error = refuse("date,tmin,tmax\n2026-01-01,-2,5\n", None);
    assert_eq!(
        error.to_string(),
        "“test.csv”, line 1, column “tmin”: the unit of the temperatures is not given; say whether the file is in \
         °C or °F, or name the columns tmin_c, tmax_c or tmin_f, tmax_f"
    );
    assert_eq!((error.file(), error.line(), error.field()), ("test.csv", Some(1), Some("tmin")));
    let error = refuse("date,tmin,tmax\n2026-07-01,61,88\n", None);
    assert!(error.to_string().contains("61 in line 2 cannot be °C, so this looks like °F"), "{error}");
}

#[test]
fn a_unit_that_cannot_be_is_refused() {
    let error = refuse("date,tmin,tmax\n2026-07-01,61,88\n", Some(TemperatureUnit::Celsius));
    assert!(matches!(error, ClimateFileError::UnitImpossible { line: 2, .. }), "{error}");
    let first: chrono::NaiveDate = "2025-01-01".parse().unwrap();
    let year: String = first.iter_days().take(365).map(|day| format!("{day},12,27\n")).collect();
    let error = refuse(&format!("date,tmin,tmax\n{year}"), Some(TemperatureUnit::Fahrenheit));
    assert!(error.to_string().contains("looks like °C"), "{error}");
}

#[test]
fn bad_rows_are_named_and_left_out() {
    let record = read(
        "date,tmin_c,tmax_c\n2026-01-05,-2,5\n2026-02-30,-3,4\n2026-01-04,-1,3\n2026-01-05,-9,1\n2026-01-06,8,2\n\
         2026-01-07,-130,2\n2026-01-08,cold,2\nsometime,-4,2\n",
    );
    assert_eq!(
        days(&record),
        [
            ("2026-01-04".to_string(), Some(-1.0), Some(3.0)),
            ("2026-01-05".to_string(), Some(-2.0), Some(5.0)),
            ("2026-01-07".to_string(), None, Some(2.0)),
            ("2026-01-08".to_string(), None, Some(2.0)),
        ]
    );
    assert_eq!(
        problems(&record),
        [
            (3, "“2026-02-30” is not a date (year-month-day): left out"),
            (4, "2026-01-04 comes after a later day: put in order"),
            (5, "2026-01-05 is given twice: the first one stands"),
            (6, "2026-01-06 has the minimum 8.0 °C above the maximum 2.0 °C: both left out"),
            (7, "minimum of 2026-01-07 is -130.0 °C, outside −90 to 60: left out"),
            (8, "minimum of 2026-01-08 is “cold”, not a number: left out"),
            (9, "“sometime” is not a date (year-month-day): left out"),
        ]
    );
}

#[test]
fn a_lonely_jump_is_left_out() {
    let record =
        read("date,tmin_c\n2026-01-05,4\n2026-01-06,-31\n2026-01-07,5\n2026-01-08,-22\n2026-01-09,-21\n");
    assert_eq!(
        record.days.iter().map(|day| day.min_c.unwrap()).collect::<Vec<_>>(),
        [4.0, 5.0, -22.0, -21.0]
    );
    assert_eq!(record.problems[0].line, 3);
}

#[test]
fn files_that_are_no_record_say_so() {
    let cases = [
        ("", None, "“test.csv” is empty; choose the file again, or download it anew"),
        ("\n# only a remark\n", None, "“test.csv” is empty; choose the file again, or download it anew"),
        (
            "Dear grower,\nhello\n",
            Some(1),
            "“test.csv”, line 1: “Dear grower,” is not a daily climate record that is understood; use a \
             GHCN-Daily file of one station (.dly or .csv), or a table with the header date,tmin_c,tmax_c",
        ),
        (
            "date,rain\n2026-01-01,5\n",
            Some(1),
            "“test.csv”, line 1: there is no column “tmin”; name the columns date, tmin_c and tmax_c (or tmin_f and \
             tmax_f)",
        ),
        (
            "date,tmin_c,tmax_c\n2026-01-01,5,-2\n2026-01-02,6,-1\n",
            Some(2),
            "“test.csv”, line 2: the minimum is above the maximum on 2 days; check which column is which: date, \
             minimum, maximum",
        ),
        (
            "date,tmin_c\n2026-13-01,5\n",
            Some(2),
            "“test.csv”: no day has a minimum temperature that can be used (line 2: “2026-13-01” is not a date \
             (year-month-day): left out); choose a file with daily minimum temperatures (TMIN)",
        ),
    ];
    for (text, line, sentence) in cases {
        let error = refuse(text, None);
        assert_eq!(error.to_string(), sentence);
        assert_eq!(error.line(), line);
        assert!(sentence.ends_with(error.mend()));
    }
    let error = refuse("STATION,DATE,TMAX\nUSW00014733,2026-01-01,5\n", None);
    assert_eq!(error.field(), Some("TMIN"));
}

/// Nothing that arrives may stop the program: whatever the text, there is a record or a sentence.
#[test]
fn no_text_makes_the_reader_panic() {
    let line = dly("USW00014733", "193805", "TMIN", &["   39  0", "   83  0"]);
    let seeds = [
        line.clone() + "\n" + &line,
        access(&[("1938-05-01", "  144", ",,0", "   39", ",,0")]),
        "USW00014733,19380501,TMAX,144,,,0,\nUSW00014733,19380501,TMIN,39,,,0,\n".to_string(),
        "date;tmin_c;tmax_c\n2026-01-01;-2,5;3\n01.02.2026;\"4\";5\n".to_string(),
    ];
    let mut state = 7_u64;
    let mut below = |limit: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % limit
    };
    let odd = ['\n', '"', ',', ';', '\t', '−', '°', '9', '-', ' ', '\u{0}', '\u{feff}', '#', 'é', '.', '/'];
    for seed in &seeds {
        for _ in 0..3000 {
            let mut text: Vec<char> = seed.chars().collect();
            for _ in 0..=below(6) {
                let at = below(text.len());
                match below(3) {
                    0 => text[at] = odd[below(odd.len())],
                    1 => text.insert(at, odd[below(odd.len())]),
                    _ => text.truncate(at.max(1)),
                }
            }
            let text: String = text.into_iter().collect();
            match read_climate_file("test.csv", &text, None) {
                Ok(record) => assert!(record.days.is_sorted_by(|a, b| a.date < b.date)),
                Err(error) => assert!(error.to_string().starts_with("“test.csv”")),
            }
        }
    }
}
