use super::{Evidence, PlantFigure};
use crate::plant::own::{Hardiness, from_hardiness};
use crate::plant::{Habit, Support};

#[test]
fn a_figure_without_its_own_support_rests_on_that_of_the_entry() {
    let mut plant = from_hardiness("Shrub", "", Hardiness::H4, Habit::Evergreen);
    plant.support.push(Support {
        figure: PlantFigure::Store,
        evidence: Evidence::Published,
        source: "A bulletin".to_owned(),
    });
    assert_eq!(plant.support_of(PlantFigure::Store), (Evidence::Published, "A bulletin"));
    assert_eq!(plant.support_of(PlantFigure::MoveIn), (Evidence::Memory, ""));
}

#[test]
fn an_empty_list_of_supports_is_left_out_and_read_back() {
    let plant = from_hardiness("Shrub", "", Hardiness::H4, Habit::Evergreen);
    let text = toml::to_string(&plant).expect("plant can be written");
    assert!(!text.contains("support"), "{text}");
    assert_eq!(toml::from_str::<crate::plant::Plant>(&text).expect("plant can be read"), plant);
}
