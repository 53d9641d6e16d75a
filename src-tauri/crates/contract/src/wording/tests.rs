use std::collections::BTreeSet;

use chrono::NaiveDate;
use fluent_bundle::{FluentBundle, FluentResource};
use hibernacle_engine::climate::Basis;
use hibernacle_engine::plant::Container;
use hibernacle_engine::season::{Caution, Figure, MESSAGES, Phase, Reason};
use hibernacle_engine::shelter::tonight::SHELTER_MESSAGES;
use hibernacle_engine::site::{LengthUnit, TemperatureUnit, Units, VolumeUnit};

use super::{LANGUAGES, Wording, listed};

const METRIC: Units =
    Units { temperature: TemperatureUnit::Celsius, length: LengthUnit::Metre, volume: VolumeUnit::Litre };
const AMERICAN: Units = Units {
    temperature: TemperatureUnit::Fahrenheit,
    length: LengthUnit::Foot,
    volume: VolumeUnit::UsGallon,
};

fn metric() -> Wording {
    Wording::new("en", METRIC)
}

fn american() -> Wording {
    Wording::new("en", AMERICAN)
}

/// The text with ordinary spaces, for reading in tests.
fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

#[test]
fn the_files_of_every_language_are_free_of_faults_and_of_doubles() {
    for language in LANGUAGES {
        let mut bundle = FluentBundle::new(vec![language.tag.parse().expect("a language tag")]);
        for (file, text) in language.files {
            let resource = FluentResource::try_new((*text).to_owned())
                .unwrap_or_else(|(_, faults)| panic!("{file}: {faults:?}"));
            bundle.add_resource(resource).unwrap_or_else(|faults| panic!("{file}: {faults:?}"));
        }
    }
}

#[test]
fn every_value_of_every_list_has_a_word() {
    let wording = metric();
    let keys = listed::all_keys();
    assert!(keys.contains(&"phase-close-up".to_owned()), "{keys:?}");
    let missing: Vec<&String> = keys.iter().filter(|key| !wording.bundle.has_message(key)).collect();
    assert!(missing.is_empty(), "no message for {missing:?}");
    let headless: Vec<String> = keys
        .iter()
        .filter(|key| key.starts_with("caution-"))
        .map(|key| format!("{key}-title"))
        .filter(|key| !wording.bundle.has_message(key))
        .collect();
    assert!(headless.is_empty(), "no message for {headless:?}");
}

#[test]
fn temperatures_in_fahrenheit_are_whole_degrees() {
    // The thresholds of the U.S. Climate Normals: 32, 28, 24 and 20 °F are 0, −2.2, −4.4 and −6.7 °C.
    for (temp_c, fahrenheit) in [(0.0, "32"), (-2.2, "28"), (-4.4, "24"), (-6.7, "20"), (-17.8, "0")] {
        assert_eq!(plain(&american().temperature(temp_c)), format!("{fahrenheit} °F"));
    }
    assert_eq!(plain(&american().temperature(-40.0)), "−40 °F");
}

#[test]
fn temperatures_in_celsius_have_a_decimal_only_where_it_says_something() {
    for (temp_c, shown) in
        [(-2.2, "−2.2 °C"), (5.0, "5 °C"), (-0.04, "0 °C"), (-17.25, "−17.3 °C"), (9.96, "10 °C")]
    {
        assert_eq!(plain(&metric().temperature(temp_c)), shown);
    }
}

#[test]
fn differences_are_scaled_without_the_offset() {
    assert_eq!(plain(&american().temperature_difference(5.0)), "9 °F");
    assert_eq!(plain(&american().temperature_difference(2.5)), "4.5 °F");
    assert_eq!(plain(&american().temperature_difference(-1.0)), "−1.8 °F");
    assert_eq!(plain(&metric().temperature_difference(2.5)), "2.5 °C");
}

#[test]
fn measures_follow_the_units_of_the_site() {
    // NIST Special Publication 811, appendix B.8: 1 gal = 3.785412 L, 1 ft = 0.3048 m, 1 ft² = 0.09290304 m².
    assert_eq!(plain(&american().volume(3.785_411_784)), "1 gal");
    assert_eq!(plain(&american().volume(1.0)), "0.26 gal");
    assert_eq!(plain(&metric().volume(12.5)), "12.5 L");
    assert_eq!(plain(&american().length(0.9144)), "3 ft");
    assert_eq!(plain(&american().area(0.092_903_04)), "1 ft²");
    assert_eq!(plain(&american().area(12.6)), "136 ft²");
    assert_eq!(plain(&metric().area(12.6)), "12.6 m²");
    assert_eq!(plain(&metric().air_volume(25.704)), "25.7 m³");
    assert_eq!(plain(&american().air_volume(0.028_316_846_592)), "1 ft³");
}

#[test]
fn heat_reads_as_on_the_plates_of_heaters() {
    assert_eq!(plain(&metric().energy(7.26)), "7.3 kWh");
    assert_eq!(plain(&metric().power(1274.0)), "1270 W");
    // 1 BTU/h is 0.2931 W (NIST Special Publication 811, appendix B.8): a 1,500 W heater gives 5,118 BTU/h.
    assert_eq!(plain(&american().heat_flow_btu_per_h(1500.0)), "5120 BTU/h");
    assert_eq!(plain(&metric().current(8.696)), "8.7 A");
    assert_eq!(plain(&metric().hours(3.64)), "3.6 h");
}

#[test]
fn a_small_risk_never_reads_as_none() {
    let wording = metric();
    for (share, shown) in [(0.1, "10%"), (0.005, "0.5%"), (0.997, "99.7%"), (0.0, "0%"), (1.0, "100%")] {
        assert_eq!(wording.share(share), shown);
    }
}

#[test]
fn dates_spans_and_times_read_naturally() {
    let wording = metric();
    let date = NaiveDate::from_ymd_opt(2026, 10, 28).expect("a date");
    assert_eq!(wording.date(date), "28 October 2026");
    assert_eq!(wording.date_short(date), "Wed 28 Oct");
    assert_eq!(wording.date_short_year(date), "28 Oct 2026");
    assert_eq!(wording.days(1), "1 day");
    assert_eq!(wording.days(10), "10 days");
    assert_eq!(plain(&wording.minutes(45)), "45 min");
    assert_eq!(plain(&wording.minutes(120)), "2 h");
    assert_eq!(plain(&wording.minutes(90)), "1 h 30 min");
}

#[test]
fn a_sentence_is_said_again_only_where_the_next_speaks_of_it() {
    let date = |day| Figure::Date(NaiveDate::from_ymd_opt(2026, 10, day).expect("a date"));
    let calendar = Reason::new("reason-calendar").with("date", date(14));
    let earlier = Reason::new("reason-days-before").with("days", Figure::Days(9));
    let latest = Reason::new("reason-latest").with("latest", date(14));
    let said = metric().reasons([&calendar, &latest, &calendar]);
    assert_eq!(said.len(), 2, "{said:?}");
    let said = metric().reasons([&calendar, &latest, &calendar, &earlier]);
    assert_eq!(said.len(), 4, "{said:?}");
}

#[test]
fn an_unknown_reason_shows_its_figures_instead_of_nothing() {
    let reason = Reason::new("reason-of-a-newer-program").with("limit", Figure::TempC(-2.2));
    assert_eq!(plain(&metric().reason(&reason)), "reason-of-a-newer-program (limit −2.2 °C)");
}

#[test]
fn an_unknown_language_falls_back_on_english() {
    assert_eq!(Wording::new("tlh", METRIC).word(Phase::WinterRound), "Winter rounds");
    assert_eq!(Wording::new("en-US", METRIC).word(Phase::WinterRound), "Winter rounds");
}

#[test]
fn states_containers_and_bases_are_worded() {
    let wording = american();
    assert_eq!(plain(&wording.container(Container::Pot { volume_l: 50.0 })), "pot of 13.2 gal");
    let basis = Basis::Measured { first_season: 1996, last_season: 2025, seasons: 29 };
    assert_eq!(wording.basis(&basis), "29 seasons of a station’s record, 1996 to 2025");
}

#[test]
fn the_heater_caution_says_what_keeps_people_alive() {
    let text = plain(&metric().word(Caution::Heater));
    for must in [
        "0.9 m (3 ft)",
        "no extension cord",
        "own circuit",
        "thermostat",
        "smoke",
        "electrician",
        "Local codes",
    ] {
        assert!(text.contains(must), "“{must}” is missing in: {text}");
    }
    let text = metric().word(Caution::FuelGas);
    for must in ["carbon monoxide alarm", "unvented flame", "gas"] {
        assert!(text.contains(must), "“{must}” is missing in: {text}");
    }
    assert!(metric().word(Caution::ToxicPlant).contains("poison centre"));
}

/// Figures that a message uses, from the text of its file.
fn figures_in(text: &str, key: &str) -> BTreeSet<String> {
    let start = text.find(&format!("\n{key} =")).unwrap_or_else(|| panic!("no message {key}")) + 1;
    let message: String = text[start..]
        .lines()
        .enumerate()
        .take_while(|(at, line)| *at == 0 || line.starts_with([' ', '}']))
        .map(|(_, line)| line)
        .collect();
    message
        .split("{ $")
        .skip(1)
        .filter_map(|rest| rest.split([' ', '}']).next())
        .map(ToOwned::to_owned)
        .collect()
}

#[test]
fn every_message_of_the_engine_is_worded_with_the_figures_it_has() {
    let (_, text) = LANGUAGES[0].files[0];
    for (key, figures) in MESSAGES.iter().chain(SHELTER_MESSAGES) {
        let known: BTreeSet<String> = figures.iter().map(|name| (*name).to_owned()).collect();
        assert_eq!(figures_in(text, key), known, "figures of {key}");
    }
    let planned: BTreeSet<&str> = MESSAGES.iter().chain(SHELTER_MESSAGES).map(|(key, _)| *key).collect();
    let stray: Vec<&str> = text
        .lines()
        .filter_map(|line| line.split_once(" =").map(|(key, _)| key))
        .filter(|key| {
            let of_the_engine = ["reason-", "problem-", "night-", "loss-", "winter-", "finding-"];
            of_the_engine.iter().any(|start| key.starts_with(start)) && !key.starts_with("night-step-")
        })
        .filter(|key| !planned.contains(key))
        .collect();
    assert!(stray.is_empty(), "the engine never says {stray:?}");
}

#[test]
fn reasons_read_as_sentences_in_the_units_of_the_site() {
    let date = NaiveDate::from_ymd_opt(2026, 10, 14).expect("a date");
    let reason = Reason::new("reason-freeze-first")
        .with("date", Figure::Date(date))
        .with("limit", Figure::TempC(-2.2))
        .with("chance", Figure::Share(0.1));
    assert_eq!(
        plain(&american().reason(&reason)),
        "By 14 October 2026 the first night of autumn at or below 28 °F has come in 10% of the years."
    );
    let late = |count| {
        Reason::new("problem-began-late")
            .with("count", Figure::Count(count))
            .with("began", Figure::Date(date))
    };
    assert_eq!(
        metric().reason(&late(1)),
        "One chore was over before you began on 14 October 2026 and is left out."
    );
    assert_eq!(
        metric().reason(&late(12)),
        "12 chores were over before you began on 14 October 2026 and are left out."
    );
    let days = |days| metric().reason(&Reason::new("reason-days-before").with("days", Figure::Days(days)));
    assert_eq!(days(1), "This is set a day earlier.");
    assert_eq!(days(7), "This is set 7 days earlier.");
}

#[test]
fn coordinates_name_their_half_of_the_globe() {
    let at = |latitude_deg, longitude_deg| {
        let site = hibernacle_engine::site::Site {
            id: String::new(),
            name: "Larch Bank".to_owned(),
            latitude_deg,
            longitude_deg,
            elevation_m: 470.0,
            time_zone: "Europe/Vienna".to_owned(),
            currency: "EUR".to_owned(),
            units: METRIC,
            work: hibernacle_engine::site::WorkTime { days: vec![], hours_per_day: 3.0 },
        };
        metric().coordinates(&site)
    };
    assert_eq!(at(47.7, 13.1), "47.7° north, 13.1° east");
    assert_eq!(at(-36.25, -71.5), "36.25° south, 71.5° west");
}
