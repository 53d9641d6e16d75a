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
        "What was taken for what was not said",
        "Handbook figures for glazing, walls and leaks, not measured here yet",
        "! Heater: fire",
        "no extension cord",
    ] {
        assert!(text.contains(part), "“{part}” is missing in {text}");
    }
    assert!(!text.contains("No clouds were given") && !text.contains("EUR"), "{text}");
    let priced = desk.done(&["tonight", "--low=-14", "--price", "0.3", "--bare"]);
    assert!(priced.contains("No clouds were given") && priced.contains(" EUR."), "{priced}");
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
    assert!(house["heating"]["cost"].is_null() && house["heating"]["heat_kwh"].is_number());
}

#[test]
fn mistakes_are_named() {
    let desk = Desk::new();
    assert!(desk.refused(1, &["tonight", "--low", "-12"]).contains("No place is set up yet"));
    let desk = Desk::with_station();
    assert!(desk.refused(1, &["tonight", "--low", "-12"]).contains("no shelter yet"));
    assert!(desk.refused(1, &["heat-loss"]).contains("No shelter is set up yet"));
    let desk = Desk::with_demo();
    desk.refused(2, &["tonight"]);
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
        "25.7 m³",
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
