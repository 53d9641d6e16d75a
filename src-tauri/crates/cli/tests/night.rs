//! The night call and the heat loss, run as real processes.

mod support;

use support::Desk;

#[test]
fn what_to_do_comes_first_and_why_after_it() {
    let desk = Desk::with_demo();
    let text = desk.done(&["tonight", "--low", "-14", "--cloud", "clear", "--wind", "1.5", "--bare"]);
    let todo = text.lines().take_while(|line| !line.is_empty()).collect::<Vec<_>>().join(" ");
    assert!(todo.contains("Heat greenhouse: thermostat at "), "{text}");
    for part in [
        "Larch Bank, night of ",
        "−14 °C outdoors",
        "greenhouse – heat",
        "north corner",
        "Most tender there: ",
        "needs heat or more cover when it gets colder than ",
        "Cheaper or safer",
        "Handbook figures for glazing, walls and leaks, not measured here yet",
        "! Heater: fire",
        "no extension cord",
    ] {
        assert!(text.contains(part), "“{part}” is missing in {text}");
    }
    // Everything was said: no heading over nothing.
    assert!(!text.contains("What was taken for what was not said"), "{text}");
    let cost = |text: &str| -> f64 {
        let (_, after) = text.split_once("That costs about ").unwrap();
        after.split_once(" EUR.").unwrap().0.parse().unwrap()
    };
    let usual = desk.done(&["tonight", "--low=-14", "--bare"]);
    assert!(usual.contains("What was taken for what was not said"), "{usual}");
    assert!(usual.contains("No clouds were given"), "{usual}");
    let dear = desk.done(&["tonight", "--low=-14", "--price", "0.93", "--bare"]);
    assert!(cost(&dear) > 2.0 * cost(&usual), "{dear}");
}

#[test]
fn a_mild_night_asks_for_nothing() {
    let desk = Desk::with_demo();
    let text = desk.done(&["tonight", "--low", "50F", "--cloud", "overcast"]);
    assert!(text.starts_with("Nothing to do: with a low of 10 °C outdoors"), "{text}");
}

#[test]
fn the_call_is_json_for_scripts() {
    let desk = Desk::with_demo();
    let call = desk.json(&["tonight", "--low", "-12", "--covered", "--in-days", "3"]);
    let house = call["shelters"].as_array().unwrap().iter().find(|shelter| shelter["name"] == "greenhouse");
    let house = house.unwrap();
    assert_eq!((&house["is_covered"], call["outlook"]["low_c"].as_f64()), (&true.into(), Some(-12.0)));
    assert_eq!(house["zones"].as_array().unwrap().len(), 4);
    assert!(house["heating"]["cost"].is_number() && house["heating"]["heat_kwh"].is_number());
}

/// Hours of a compact Locationforecast document (schema of MET Norway's data model) from now on, with a low of −9 °C.
fn saved_forecast() -> String {
    let now = hibernacle_service::Clock::now_utc(&hibernacle_service::SystemClock);
    // From yesterday on, so that the night under way before dawn is told whole.
    let begin = now - chrono::TimeDelta::hours(12);
    let series: Vec<serde_json::Value> = (0..72)
        .map(|hour| {
            let at = begin + chrono::TimeDelta::hours(hour);
            let hour = f64::from(chrono::Timelike::hour(&at));
            let details = serde_json::json!({
                "air_temperature": -9.0 + (hour - 5.0).abs().min(24.0 - (hour - 5.0).abs()),
                "cloud_area_fraction": 40.0,
                "wind_speed": 2.5
            });
            serde_json::json!({ "time": at.to_rfc3339(), "data": { "instant": { "details": details } } })
        })
        .collect();
    let units =
        serde_json::json!({ "air_temperature": "celsius", "cloud_area_fraction": "%", "wind_speed": "m/s" });
    let meta = serde_json::json!({ "updated_at": now.to_rfc3339(), "units": units });
    serde_json::json!({ "properties": { "meta": meta, "timeseries": series } }).to_string()
}

#[test]
fn a_saved_forecast_stands_in_for_a_typed_low() {
    let desk = Desk::with_demo();
    assert!(desk.done(&["forecast"]).contains("Forecasts are off: nothing is fetched."));
    let usual = desk.done(&["tonight"]);
    assert!(usual.contains("No low was given and no fresh forecast is at hand"), "{usual}");
    let file = desk.file("saved.json", &saved_forecast());
    let text = desk.done(&["forecast", "--file", &file]);
    assert!(text.contains("Nights ahead at Larch Bank, from the document you saved"), "{text}");
    assert!(text.contains("40%") && text.contains("2.5 m/s"), "{text}");
    let call = desk.json(&["tonight"]);
    assert_eq!(call["low_from"], "forecast");
    let cloud_fraction = call["outlook"]["cloud_fraction"].as_f64().unwrap();
    assert!((cloud_fraction - 0.4).abs() < 1e-9, "{cloud_fraction}");
    assert!(desk.done(&["tonight"]).contains("The low is that of the forecast you saved"));
    let page = desk.file("page.json", "<html></html>");
    assert!(desk.refused(1, &["forecast", "--file", &page]).contains("page.json: this is a web page"));
    let off = desk.json(&["forecast", "--source", "off", "--contact", "me@example.org"]);
    assert_eq!((&off["settings"]["source"], off["nights"].as_array().unwrap().len()), (&"off".into(), 0));
    desk.refused(2, &["forecast", "--source", "oracle"]);
}

#[test]
fn the_morning_after_is_entered_in_words() {
    let desk = Desk::with_demo();
    assert!(desk.done(&["night-result"]).contains("No night of yours is on record yet"));
    let entered = desk.done(&[
        "night-result",
        "--outside",
        "20F",
        "--zone",
        "north corner=-3.5",
        "--zone",
        "Stone Cellar, cellar shelf=4",
        "--heated",
        "greenhouse",
    ]);
    for part in ["Entered for the night of ", "−6.7 °C", "greenhouse, north corner", "−3.5 °C"] {
        assert!(entered.contains(part), "“{part}” is missing in {entered}");
    }
    let record = desk.json(&["night-result"]);
    assert_eq!(record["nights"][0]["outside_low_c"].as_f64(), Some(-6.7));
    assert!(
        desk.refused(1, &["night-result", "--zone", "attic=3"]).contains("names no zone; these are set up: ")
    );
    assert!(desk.refused(1, &["night-result", "--zone", "attic"]).contains("no low of a zone"));
    assert!(desk.refused(1, &["night-result", "--outside", "44"]).contains("outside_low_c: is 44"));
    let future = ["night-result", "--night", "2199-01-01", "--outside", "-3"];
    assert!(desk.refused(1, &future).contains("is not over yet"));
}

#[test]
fn the_hold_is_shown_night_by_night() {
    let desk = Desk::with_demo();
    let text = desk.done(&["hold", "greenhouse", "--low", "-12", "--nights", "5", "--bare"]);
    assert!(text.starts_with("The hold of greenhouse without heat"), "{text}");
    assert!(text.contains("the hold lives on") && text.contains("restore it"), "{text}");
    let ahead = desk.json(&["hold", "greenhouse", "--low", "-12", "--nights", "5", "--covered"]);
    assert_eq!(ahead["nights"].as_array().unwrap().len(), 5);
    assert!(desk.refused(1, &["hold", "--nights", "20"]).contains("nights: is 20"));
    assert!(desk.refused(1, &["hold", "ballroom"]).contains("There is no shelter “ballroom”"));
}

#[test]
fn mistakes_are_named() {
    let desk = Desk::new();
    assert!(desk.refused(1, &["tonight", "--low", "-12"]).contains("No place is set up yet"));
    let desk = Desk::with_station();
    assert!(desk.refused(1, &["tonight", "--low", "-12"]).contains("no shelter yet"));
    assert!(desk.refused(1, &["heat-loss"]).contains("No shelter is set up yet"));
    let desk = Desk::with_demo();
    desk.refused(2, &["tonight", "--low", "-12", "--cloud", "pink"]);
    assert!(desk.refused(1, &["tonight", "--low", "cold"]).contains("low: “cold” is no temperature"));
    assert!(desk.refused(1, &["tonight", "--low", "-99"]).contains("low_c: is -99"));
    let said = desk.refused(1, &["heat-loss", "ballroom"]);
    assert!(said.contains("There is no shelter “ballroom”; these are set up: "), "{said}");
}

#[test]
fn the_heat_loss_gives_the_heater_first() {
    let desk = Desk::with_demo();
    let text = desk.done(&["heat-loss", "--low", "-16", "--inside", "2", "--heater", "4000"]);
    let first = text.lines().next().unwrap();
    assert!(
        first.starts_with("Heater for greenhouse: ") && first.contains(" W (") && first.contains("BTU/h)")
    );
    assert!(first.contains("under its winter cover"), "{first}");
    for part in [
        "Not like this: 17.4 A",
        "roof, S",
        "25.2 m³",
        "air that leaks",
        "in all",
        "W/K bare",
        "! Heater: fire",
    ] {
        assert!(text.contains(part), "“{part}” is missing in {text}");
    }
    let view = desk.json(&["heat-loss", "stone cellar", "--low", "-16"]);
    assert!(view["covered"].is_null() && view["bare"]["loss_w"].is_number());
}
