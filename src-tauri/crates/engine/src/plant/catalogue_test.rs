use super::{CatalogueError, PlantCatalogue};

/// A complete entry; the tests spoil it.
const FERN: &str = r#"
[[plant]]
key = "tree-fern"
name = "Tree fern"
botanical_name = "Dicksonia antarctica"
habit = "evergreen"
shoot_dormant = { temp_c = -3.0, likely_loss_c = -7.0, evidence = "memory" }
shoot_in_leaf = { temp_c = -1.0, evidence = "memory" }
root_in_pot = { temp_c = -3.0, evidence = "memory" }
store_low_c = 2.0
store_high_c = 8.0
winter_light = "dim"
winter_water = "moist"
move_in_pass = "light_frost"
move_in_at_c = 0.0
move_out_above_c = 0.0
evidence = "memory"
"#;

fn refusal(text: &str) -> CatalogueError {
    PlantCatalogue::parse("own-plants.toml", text).expect_err("the text is faulty")
}

fn spoiled(from: &str, to: &str) -> String {
    assert!(FERN.contains(from), "nothing to spoil: {from}");
    FERN.replace(from, to)
}

#[test]
fn a_complete_entry_is_read() {
    let catalogue = PlantCatalogue::parse("own-plants.toml", FERN).expect("entry is sound");
    let fern = catalogue.get("tree-fern").expect("entry is there");
    assert_eq!(fern.shoot_dormant.likely_loss_c, Some(-7.0));
    assert_eq!(catalogue.iter().count(), 1);
}

#[test]
fn a_word_that_is_no_habit_is_refused_with_file_line_and_choices() {
    let message = refusal(&spoiled("\"evergreen\"", "\"ever-green\"")).to_string();
    assert!(message.contains("own-plants.toml"), "{message}");
    assert!(message.contains("line 6"), "{message}");
    assert!(message.contains("ever-green") && message.contains("semi_evergreen"), "{message}");
}

#[test]
fn a_misspelt_field_is_refused_by_name() {
    let message = refusal(&spoiled("store_low_c", "store_lowest_c")).to_string();
    assert!(message.contains("line 10") && message.contains("store_lowest_c"), "{message}");
}

#[test]
fn a_misspelt_field_of_a_temperature_is_refused_by_name() {
    let message = refusal(&spoiled("likely_loss_c", "loss_c")).to_string();
    assert!(message.contains("line 7") && message.contains("loss_c"), "{message}");
}

#[test]
fn a_figure_out_of_range_names_file_line_plant_field_and_mend() {
    let text = FERN.to_owned() + &spoiled("tree-fern", "palm").replace("temp_c = -1.0", "temp_c = 99.0");
    let message = refusal(&text).to_string();
    assert_eq!(
        message,
        "own-plants.toml, line 19, plant “palm”: shoot_in_leaf.temp_c: is 99, outside -45 to 20; \
         enter a temperature in °C"
    );
}

#[test]
fn soft_growth_that_stands_more_than_dormant_wood_is_refused() {
    let message =
        refusal(&spoiled("shoot_in_leaf = { temp_c = -1.0", "shoot_in_leaf = { temp_c = -9.0")).to_string();
    assert!(message.contains("shoot_in_leaf.temp_c: is -9, colder than the dormant limit"), "{message}");
}

#[test]
fn a_loss_warmer_than_the_alarm_is_refused() {
    let message = refusal(&spoiled("likely_loss_c = -7.0", "likely_loss_c = -2.0")).to_string();
    assert!(message.contains("shoot_dormant.likely_loss_c"), "{message}");
}

#[test]
fn a_store_range_upside_down_is_refused() {
    let message = refusal(&spoiled("store_high_c = 8.0", "store_high_c = 1.0")).to_string();
    assert!(message.contains("store_high_c: is 1, outside 2 to 35"), "{message}");
}

#[test]
fn a_published_figure_without_its_publication_is_refused() {
    let message = refusal(&spoiled(
        "root_in_pot = { temp_c = -3.0, evidence = \"memory\"",
        "root_in_pot = { temp_c = -3.0, evidence = \"published\"",
    ))
    .to_string();
    assert!(message.contains("root_in_pot.source: is empty; name the publication"), "{message}");
}

#[test]
fn a_value_from_memory_with_a_source_is_refused() {
    let text = FERN.to_owned() + "source = \"somewhere\"\n";
    let message = refusal(&text).to_string();
    assert!(message.contains("source: names a source for a value from memory"), "{message}");
}

#[test]
fn a_figure_supported_twice_is_refused() {
    let text = FERN.to_owned()
        + "support = [\n  { figure = \"store\", evidence = \"memory\", source = \"\" },\n  \
           { figure = \"store\", evidence = \"memory\", source = \"\" },\n]\n";
    let message = refusal(&text).to_string();
    assert!(message.contains("support[1].figure: stands twice"), "{message}");
}

#[test]
fn a_key_that_stands_twice_is_refused_with_the_line_of_the_second() {
    let text = FERN.to_owned() + FERN;
    assert_eq!(
        refusal(&text),
        CatalogueError::Twice { file: "own-plants.toml".to_owned(), line: 19, key: "tree-fern".to_owned() }
    );
}

#[test]
fn a_key_with_capitals_is_refused() {
    let message = refusal(&spoiled("\"tree-fern\"", "\"Tree fern\"")).to_string();
    assert!(message.contains("key: “Tree fern” is not a key"), "{message}");
}

#[test]
fn own_entries_take_the_place_of_entries_with_their_key() {
    let catalogue = PlantCatalogue::parse("own-plants.toml", FERN).expect("entry is sound");
    let mut own = catalogue.get("tree-fern").expect("entry is there").clone();
    own.name = "Grandmother's fern".to_owned();
    let extended = catalogue.extended_with([own]);
    assert_eq!(extended.iter().count(), 1);
    assert_eq!(extended.get("tree-fern").expect("entry is there").name, "Grandmother's fern");
}
