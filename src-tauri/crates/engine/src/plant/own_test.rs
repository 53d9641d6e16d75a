use super::{Hardiness, from_hardiness, key_for};
use crate::plant::{Evidence, Habit, MoveInPass};

const HABITS: [Habit; 6] = [
    Habit::Evergreen,
    Habit::Deciduous,
    Habit::SemiEvergreen,
    Habit::Tuber,
    Habit::Herbaceous,
    Habit::Succulent,
];

#[test]
fn every_class_and_habit_gives_an_entry_that_passes_its_check() {
    for class in Hardiness::ALL {
        for habit in HABITS {
            let plant = from_hardiness("Some plant", "", class, habit);
            plant.check().unwrap_or_else(|error| panic!("{class:?} {habit:?}: {error}"));
        }
    }
}

#[test]
fn classes_are_the_published_ranges_without_gaps() {
    // Royal Horticultural Society 2013, hardiness rating: H2 1 to 5 °C, H3 −5 to 1 °C, H4 −10 to −5 °C.
    assert_eq!(Hardiness::H2.minimum_c(), (Some(5.0), Some(1.0)));
    assert_eq!(Hardiness::H3.minimum_c(), (Some(1.0), Some(-5.0)));
    assert_eq!(Hardiness::H4.minimum_c(), (Some(-5.0), Some(-10.0)));
    for pair in Hardiness::ALL.windows(2) {
        assert_eq!(pair[0].minimum_c().1, pair[1].minimum_c().0, "{pair:?}");
    }
}

#[test]
fn pots_count_one_class_warmer_where_frost_is_in_play() {
    assert_eq!(Hardiness::H4.in_a_pot(), Hardiness::H3);
    assert_eq!(Hardiness::H3.in_a_pot(), Hardiness::H2);
    assert_eq!(Hardiness::H2.in_a_pot(), Hardiness::H2);
    let hardy = from_hardiness("Hardy shrub", "", Hardiness::H5, Habit::Deciduous);
    assert_eq!(hardy.shoot_dormant.temp_c, -10.0);
    assert_eq!((hardy.root_in_pot.temp_c, hardy.root_in_pot.likely_loss_c), (-5.0, Some(-10.0)));
}

#[test]
fn only_the_range_of_the_class_counts_as_published() {
    let plant = from_hardiness("Hardy shrub", "", Hardiness::H5, Habit::Deciduous);
    assert_eq!(plant.shoot_dormant.evidence, Evidence::Published);
    assert!(plant.shoot_dormant.source.contains("Royal Horticultural Society 2013"));
    assert_eq!(plant.root_in_pot.evidence, Evidence::Memory);
    assert_eq!(plant.evidence, Evidence::Memory);
}

#[test]
fn soft_growth_of_the_hardiest_class_still_dies_of_light_frost() {
    let plant = from_hardiness("Alpine", "", Hardiness::H7, Habit::Deciduous);
    assert_eq!(plant.shoot_in_leaf.temp_c, -2.0);
}

#[test]
fn tender_classes_come_in_first() {
    let pass = |class| from_hardiness("Plant", "", class, Habit::Evergreen).move_in_pass;
    assert_eq!(pass(Hardiness::H1b), MoveInPass::Early);
    assert_eq!(pass(Hardiness::H2), MoveInPass::BeforeFrost);
    assert_eq!(pass(Hardiness::H3), MoveInPass::LightFrost);
    assert_eq!(pass(Hardiness::H6), MoveInPass::LastIn);
}

#[test]
fn keys_never_collide_with_built_in_ones() {
    assert_eq!(key_for("  Öl-Weide 'Gilt' "), "own-l-weide-gilt");
    assert_eq!(key_for("棕榈"), "own-plant");
}
