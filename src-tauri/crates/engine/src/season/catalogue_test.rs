use super::*;

/// A rule in TOML with the lines that a test is about.
fn chore(key: &str, lines: &str) -> String {
    let scope = if lines.contains("scope =") { "" } else { "scope = \"zone\"\n" };
    let best = if lines.contains("when.best") {
        ""
    } else {
        "when.best = [{ from = \"calendar\", on = { month = 11, day = 1 } }]\n"
    };
    format!(
        "[[chore]]\nkey = \"{key}\"\ntitle = \"Do it\"\nphase = \"winter_round\"\nminutes = 5\nwhy = \"Because.\"\n\
         source = \"common practice, no source\"\n{scope}{best}{lines}\n"
    )
}

fn refusal(text: &str) -> String {
    ChoreCatalogue::parse("mine.toml", text).expect_err("the catalogue should be refused").to_string()
}

#[test]
fn the_built_in_catalogue_is_sound() {
    let catalogue = ChoreCatalogue::built_in().expect("built-in chores");
    assert!(catalogue.iter().count() >= 4);
}

#[test]
fn text_that_is_not_toml_is_refused_with_its_line() {
    let text = format!("{}oops\n", chore("a", ""));
    let message = refusal(&text);
    assert!(message.starts_with("mine.toml, line 11: "), "{message}");
}

#[test]
fn an_unknown_field_is_refused_with_its_line() {
    let message = refusal(&chore("a", "colour = \"red\""));
    assert!(message.starts_with("mine.toml, line 10: unknown field `colour`"), "{message}");
}

#[test]
fn a_wrong_value_inside_a_trigger_is_refused_with_its_line() {
    let message = refusal(&chore(
        "a",
        "when.latest = [\n  { from = \"freeze_date\", event = \"first_winter\", limit = { of = \"move_in\" }, chance = 0.5 },\n]",
    ));
    assert!(message.contains("first_winter"), "{message}");
    assert!(message.starts_with("mine.toml, line 1"), "{message}");
}

#[test]
fn a_key_that_stands_twice_is_refused_with_both_lines() {
    let text = chore("a", "") + &chore("b", "") + &chore("a", "");
    assert_eq!(
        refusal(&text),
        "mine.toml, line 22: the key “a” stands twice (first at mine.toml, line 2); rename one of the two chores"
    );
}

#[test]
fn unknown_chores_are_refused_by_field_and_line() {
    assert_eq!(
        refusal(&chore("a", "after = [\"b\"]")),
        "mine.toml, line 10, chore “a”: after[0]: names “b”, which is no chore; correct the key or add the chore"
    );
    assert_eq!(
        refusal(&chore("a", "when.best = [\n  { from = \"chore\", chore = \"c\" },\n]")),
        "mine.toml, line 10, chore “a”: when.best[0].chore: names “c”, which is no chore; \
         correct the key or add the chore"
    );
}

#[test]
fn a_date_cannot_be_counted_from_a_chore_with_many_dates() {
    let text = chore("inside", "scope = \"planting\"")
        + &chore("around", "when.best = [{ from = \"chore\", chore = \"inside\" }]");
    let message = refusal(&text);
    assert!(message.contains("chore “around”: when.best[0].chore: counts from “inside”"), "{message}");
}

#[test]
fn waiting_for_all_chores_inside_is_allowed() {
    let text = chore("inside", "scope = \"planting\"") + &chore("around", "after = [\"inside\"]");
    assert!(ChoreCatalogue::parse("mine.toml", &text).is_ok());
}

#[test]
fn chores_that_wait_for_each_other_are_named_along_the_circle() {
    let text = chore("b", "after = [\"c\"]")
        + &chore("c", "after = [\"a\", \"d\"]")
        + &chore("a", "after = [\"b\"]")
        + &chore("d", "");
    assert_eq!(
        refusal(&text),
        "mine.toml, line 22: the chores “a” → “c” → “b” → “a” wait for each other; \
         take one of them out of an `after`, or date it another way"
    );
}

#[test]
fn a_chore_that_waits_for_itself_is_refused() {
    assert!(refusal(&chore("a", "after = [\"a\"]")).contains("“a” → “a” wait for each other"));
}

#[test]
fn dates_counted_from_each_other_are_named_along_the_circle() {
    let text = chore("a", "when.best = [{ from = \"chore\", chore = \"b\" }]")
        + &chore("b", "when.latest = [{ from = \"chore\", chore = \"a\", anchor = \"latest\", days = 3 }]");
    assert!(
        refusal(&text).contains("the dates of the chores “a” → “b” → “a” are counted from each other"),
        "{}",
        refusal(&text)
    );
}

#[test]
fn a_chore_dated_before_another_cannot_wait_for_it() {
    let before = "when.best = [{ from = \"chore\", chore = \"move-out\", days = -14 }]";
    let sound = chore("harden-off", before) + &chore("move-out", "after = [\"harden-off\"]");
    assert!(ChoreCatalogue::parse("mine.toml", &sound).is_ok());
    let torn = chore("harden-off", &format!("{before}\nafter = [\"move-out\"]")) + &chore("move-out", "");
    assert!(refusal(&torn).contains("wait for each other"));
}

#[test]
fn a_chance_outside_zero_to_one_is_refused() {
    for chance in ["0.0", "1.0", "50.0", "-0.1", "nan"] {
        let message = refusal(&chore(
            "a",
            &format!(
                "when.best = [{{ from = \"low_reaches\", trend = \"falling\", limit = {{ of = \"move_in\" }}, chance = {chance} }}]"
            ),
        ));
        assert!(message.contains("when.best[0].chance: is "), "{message}");
    }
}

#[test]
fn an_impossible_day_is_refused() {
    let message =
        refusal(&chore("a", "when.best = [{ from = \"calendar\", on = { month = 11, day = 31 } }]"));
    assert!(message.contains("when.best[0].on: day 31 of month 11 does not exist"), "{message}");
    let message = refusal(&chore("a", "when.best = [{ from = \"calendar\", on = { month = 13, day = 1 } }]"));
    assert!(message.contains("month 13"), "{message}");
}

#[test]
fn a_killing_chore_needs_a_latest_date() {
    let message = refusal(&chore("a", "when.killing = true"));
    assert!(message.starts_with("mine.toml, line 10, chore “a”: when.killing: is set without"), "{message}");
}

#[test]
fn a_repeat_of_zero_days_is_refused() {
    let message = refusal(&chore(
        "a",
        "repeat = { every_days = 0, until = { from = \"calendar\", on = { month = 3, day = 1 } } }",
    ));
    assert!(message.contains("repeat.every_days: is 0, outside 1 to 366"), "{message}");
}

#[test]
fn plant_limits_need_plants() {
    let message = refusal(&chore(
        "a",
        "scope = \"site\"\nwhen.best = [{ from = \"low_reaches\", trend = \"falling\", limit = { of = \"move_in\" }, chance = 0.5 }]",
    ));
    assert!(message.contains("when.best[0].limit: asks for the limit of plants"), "{message}");
}

#[test]
fn a_closing_up_step_needs_a_proof() {
    let text = chore("a", "").replace("winter_round", "close_up");
    assert!(refusal(&text).contains("proof: is missing"));
}

#[test]
fn required_steps_are_steps_of_closing_up() {
    assert!(
        refusal(&chore("a", "required = true")).contains("required: is set on a chore that is on no zone")
    );
}

#[test]
fn own_rules_take_the_place_of_known_ones_and_are_checked_against_the_rest() {
    let base =
        ChoreCatalogue::parse("base.toml", &(chore("a", "") + &chore("b", "after = [\"a\"]"))).expect("base");
    let own = chore("a", "").replace("Do it", "Do it my way") + &chore("c", "after = [\"b\"]");
    let extended = base.clone().extended_with_text("own.toml", &own).expect("extended");
    assert_eq!(extended.get("a").map(|rule| rule.title.as_str()), Some("Do it my way"));
    assert_eq!(extended.iter().count(), 3);

    let mut torn = base.get("a").expect("a").clone();
    torn.after = vec!["b".into()];
    let message = base.extended_with([torn]).expect_err("circle").to_string();
    assert!(message.starts_with("your own chores: the chores “a” → “b” → “a”"), "{message}");
}
