use super::*;

#[test]
fn built_in_tables_are_sound() {
    let materials = Materials::built_in().unwrap();
    assert!(materials.glazing.len() >= 9 && materials.walls.len() >= 8);
    assert!(materials.covers.len() >= 5 && materials.heaters.len() >= 6);
    for glazing in materials.glazing.values() {
        assert!(glazing.resistance_m2_k_per_w() > 0.0, "{}", glazing.key);
    }
}

#[test]
fn a_wrong_row_is_named_with_line_and_field() {
    let mut materials = Materials::default();
    let text = "\n[[wall]]\nkey = \"x\"\nname = \"X\"\nu_w_per_m2_k = 0.0\nheat_capacity_j_per_m2_k = 1000.0\n\
                solar_absorptance = 0.5\nair_changes_per_h = 1.0\nevidence = \"own\"\nsource = \"\"\n";
    let error = materials.extend_walls("mine.toml", text).unwrap_err().to_string();
    assert!(error.contains("mine.toml, line 2, “x”: u_w_per_m2_k: is 0, outside 0.05 to 8"), "{error}");
    let twice = text.replace("= 0.0", "= 1.0").repeat(2);
    let error = materials.extend_walls("mine.toml", &twice).unwrap_err().to_string();
    assert!(error.contains("line 12: the key “x” stands twice"), "{error}");
    let unsupported = text.replace("= 0.0", "= 1.0").replace("\"own\"", "\"published\"");
    let error = materials.extend_walls("mine.toml", &unsupported).unwrap_err().to_string();
    assert!(error.contains("source: is empty"), "{error}");
    let error = materials.extend_walls("mine.toml", "[[door]]\n").unwrap_err().to_string();
    assert!(error.contains("mine.toml"), "{error}");
}

#[test]
fn own_rows_take_the_place_of_built_in_ones() {
    let mut materials = Materials::built_in().unwrap();
    let text = include_str!("../../catalogue/walls.toml").replace("= 2.8", "= 2.2");
    materials.extend_walls("mine.toml", &text).unwrap();
    assert_eq!(materials.walls["board-25"].u_w_per_m2_k, 2.2);
}
