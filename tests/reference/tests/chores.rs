//! The built-in chores as a text: that they cover the year, fit a list and name the dangers.

#![expect(clippy::expect_used, reason = "helpers of a test file")]

use hibernacle_engine::season::{Caution, ChoreCatalogue, ChoreRule, Need, Phase, Scope};

fn rules() -> Vec<ChoreRule> {
    ChoreCatalogue::built_in().expect("chores").iter().cloned().collect()
}

#[test]
fn the_catalogue_covers_the_year() {
    let rules = rules();
    assert!(rules.len() >= 65, "{} rules", rules.len());
    for phase in [
        Phase::LateSummer,
        Phase::Cuttings,
        Phase::MoveIn,
        Phase::CloseUp,
        Phase::WinterRound,
        Phase::Uncover,
        Phase::WarmUp,
        Phase::HardenOff,
        Phase::MoveOut,
        Phase::SeasonEnd,
    ] {
        let count = rules.iter().filter(|rule| rule.phase == phase).count();
        assert!(count >= 4, "{phase:?}: {count}");
    }
}

#[test]
fn texts_fit_a_list_and_carry_no_figures() {
    for rule in rules() {
        assert!(rule.title.chars().count() <= 60, "{}", rule.key);
        let texts = [Some(&rule.title), Some(&rule.why), rule.proof.as_ref()];
        for text in texts.into_iter().flatten() {
            assert!(!text.contains(|c: char| c.is_ascii_digit() || c == '°'), "{}: {text}", rule.key);
        }
        let names_target = rule.title.contains("{target}");
        let for_site = rule.scope == Scope::Site;
        assert_eq!(names_target, !for_site, "{}: {}", rule.key, rule.title);
    }
}

#[test]
fn dangers_are_named_where_they_are() {
    for rule in rules() {
        let title = rule.title.to_lowercase();
        let warns = |caution: Caution| rule.cautions.contains(&caution);
        if rule.applies.needs.contains(&Need::Heater) {
            assert!(warns(Caution::Heater), "{}: a heater is at work", rule.key);
        }
        for (word, caution) in [
            ("snow", Caution::SnowLoad),
            ("knives", Caution::SharpEdge),
            ("carbon monoxide", Caution::FuelGas),
            ("spray", Caution::PestControl),
            ("trolley", Caution::HeavyLift),
        ] {
            assert!(!title.contains(word) || warns(caution), "{}: {word}", rule.key);
        }
        let lifts = matches!(rule.phase, Phase::MoveIn | Phase::MoveOut)
            && rule.key.starts_with("move-")
            && rule.applies.needs.contains(&Need::Pot);
        assert!(!lifts || warns(Caution::HeavyLift), "{}: pots are heavy", rule.key);
        if ["wake-prune", "cuttings-softwood", "cuttings-semi-ripe", "strip-deciduous"]
            .contains(&rule.key.as_str())
        {
            assert!(warns(Caution::ToxicPlant) && warns(Caution::SharpEdge), "{}: sap and blades", rule.key);
        }
    }
}
