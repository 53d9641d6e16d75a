//! The built-in plant catalogue against the publications it cites.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of a test file")]

use hibernacle_engine::plant::{Evidence, MoveInPass, Plant, PlantCatalogue, PlantFigure, Temperature};
use hibernacle_engine::shelter::Light;

fn catalogue() -> PlantCatalogue {
    PlantCatalogue::built_in().expect("the built-in catalogue is sound")
}

fn plant(key: &str) -> Plant {
    catalogue().get(key).unwrap_or_else(|| panic!("no plant {key}")).clone()
}

fn temperatures(plant: &Plant) -> [(&'static str, &Temperature); 3] {
    [
        ("shoot_dormant", &plant.shoot_dormant),
        ("shoot_in_leaf", &plant.shoot_in_leaf),
        ("root_in_pot", &plant.root_in_pot),
    ]
}

/// A temperature limit as a publication gives it.
struct Pinned {
    key: &'static str,
    figure: &'static str,
    temp_c: f64,
    likely_loss_c: Option<f64>,
    evidence: Evidence,
    source: &'static str,
}

const fn pin(
    key: &'static str,
    figure: &'static str,
    temp_c: f64,
    likely_loss_c: Option<f64>,
    evidence: Evidence,
    source: &'static str,
) -> Pinned {
    Pinned { key, figure, temp_c, likely_loss_c, evidence, source }
}

use Evidence::{Memory, Published, Trade};

/// Each row is one statement of the publication named in its last column.
const PINNED: &[Pinned] = &[
    // Unprotected wood killed below −7 °C.
    pin("ficus-carica", "shoot_dormant", -7.0, Some(-12.0), Published, "University of Maryland Extension"),
    // −1.1 to −2.8 °C (“high 20s °F”) kill or badly hurt; protect below −3.3 °C.
    pin("citrus-limon", "shoot_dormant", -1.1, Some(-3.3), Published, "LSU AgCenter"),
    // Spring flush.
    pin("citrus-limon", "shoot_in_leaf", -0.6, None, Published, "UF/IFAS FAWN"),
    // Mature and dormant.
    pin("citrus-meyeri", "shoot_dormant", -6.7, None, Published, "UF/IFAS Northwest District"),
    // Threshold −6.7 °C (LSU AgCenter) against mature and dormant −9.4 °C; young or not dormant −3.3 °C.
    pin("citrus-satsuma", "shoot_dormant", -6.7, Some(-9.4), Published, "UF/IFAS Northwest District"),
    pin("citrus-satsuma", "shoot_in_leaf", -0.6, Some(-3.3), Published, "UF/IFAS Northwest District"),
    pin("citrus-japonica", "shoot_dormant", -6.7, None, Published, "LSU AgCenter"),
    // Acclimated leaf, half killed, tenderest cultivar; 30 % of trees hit in the field.
    pin("olea-europaea", "shoot_dormant", -5.7, Some(-9.5), Published, "HortScience 40:558"),
    pin("olea-europaea", "shoot_dormant", -5.7, Some(-9.5), Published, "Climate 2025, 13:156"),
    // Deep dormancy, ornamental cultivars, −17.7 to −24.0 °C.
    pin("punica-granatum", "shoot_dormant", -9.0, Some(-17.7), Trade, "Acta Horticulturae 1190:53"),
    pin("nerium-oleander", "shoot_dormant", -5.0, Some(-9.0), Trade, "kurier.at"),
    // Returns from the root.
    pin("brugmansia", "shoot_dormant", -2.2, Some(-5.0), Published, "LSU Extension"),
    pin("strelitzia-reginae", "shoot_dormant", -3.9, Some(-5.0), Published, "LSU Extension"),
    pin("callistemon", "shoot_dormant", -5.0, Some(-9.4), Published, "LSU Extension"),
    pin("agapanthus", "shoot_dormant", -2.0, Some(-9.4), Trade, "LSU Extension"),
    pin("laurus-nobilis", "shoot_dormant", -5.0, Some(-10.0), Published, "Bayerische Gartenakademie"),
    pin(
        "salvia-rosmarinus",
        "root_in_pot",
        -6.0,
        Some(-8.0),
        Memory,
        "twenty-three container-grown perennials",
    ),
    pin("camellia-japonica", "shoot_in_leaf", -1.0, Some(-5.0), Published, "frost tolerance of ornamental"),
    // White root tips −4 to −7 °C; tops −20 to −23 °C.
    pin("buxus", "root_in_pot", -4.0, Some(-9.4), Published, "Dirr & Smith 1988"),
    pin("buxus", "shoot_dormant", -20.0, Some(-23.0), Published, "Dirr & Smith 1988"),
    // Young roots of four kinds.
    pin("rhododendron-azalea", "root_in_pot", -6.7, Some(-12.2), Published, "Dirr & Smith 1988"),
    pin("rhododendron-hardy", "root_in_pot", -17.8, Some(-22.8), Published, "Dirr & Smith 1988"),
    // Growing tips and bud break of V. vinifera; greatest hardiness, Sangiovese and Riesling.
    pin("vitis-vinifera", "shoot_in_leaf", -1.2, Some(-2.2), Published, "10.5344/ajev.2013.13098"),
    pin("vitis-vinifera", "shoot_dormant", -21.9, Some(-26.1), Published, "10.5344/ajev.2013.13098"),
    pin("hibiscus-rosa-sinensis", "shoot_in_leaf", 5.0, None, Published, "Gartenakademie Rheinland-Pfalz"),
];

#[test]
fn limits_are_those_of_the_publications() {
    for row in PINNED {
        let entry = plant(row.key);
        let (_, found) = temperatures(&entry)
            .into_iter()
            .find(|(name, _)| *name == row.figure)
            .unwrap_or_else(|| panic!("no figure {}", row.figure));
        assert_eq!(found.temp_c, row.temp_c, "{} {}", row.key, row.figure);
        assert_eq!(found.likely_loss_c, row.likely_loss_c, "{} {}", row.key, row.figure);
        assert_eq!(found.evidence, row.evidence, "{} {}", row.key, row.figure);
        assert!(found.source.contains(row.source), "{} {}: {}", row.key, row.figure, found.source);
    }
}

#[test]
fn store_ranges_are_those_of_the_publications() {
    let rows = [
        // Missouri Botanical Garden, question 1372 (and, for dahlia and canna, a county handout).
        ("dahlia", 4.0, 7.0, "Missouri Botanical Garden"),
        ("canna", 7.0, 10.0, "Missouri Botanical Garden"),
        ("caladium", 13.0, 16.0, "Missouri Botanical Garden"),
        ("begonia-tuberous", 4.0, 10.0, "Missouri Botanical Garden"),
        // Gartenakademie Rheinland-Pfalz, table of pruning and overwintering.
        ("punica-granatum", 5.0, 10.0, "Gartenakademie Rheinland-Pfalz"),
        ("bougainvillea", 10.0, 15.0, "Gartenakademie Rheinland-Pfalz"),
        ("fuchsia", 5.0, 10.0, "Gartenakademie Rheinland-Pfalz"),
        ("lycianthes-rantonnetii", 5.0, 20.0, "Gartenakademie Rheinland-Pfalz"),
        // Iowa State University Extension: 13 °C at night in a pot, 7 to 10 °C bare-rooted.
        ("pelargonium-zonal", 7.0, 13.0, "Iowa State University Extension"),
        // RHS citrus profile: calamondin 13 °C at night, kumquat at least 7 °C.
        ("citrus-calamondin", 13.0, 18.0, "RHS"),
        ("citrus-japonica", 7.0, 10.0, "RHS"),
    ];
    for (key, low_c, high_c, source) in rows {
        let entry = plant(key);
        assert_eq!((entry.store_low_c, entry.store_high_c), (low_c, high_c), "{key}");
        let (evidence, named) = entry.support_of(PlantFigure::Store);
        assert_eq!(evidence, Published, "{key}");
        assert!(named.contains(source), "{key}: {named}");
    }
}

#[test]
fn chill_and_growth_bases_are_those_of_the_publications() {
    // Ghasemi-Soloklui et al. 2017, HortScience 52:560: 233 to 633 h over 20 pomegranate cultivars.
    let pomegranate = plant("punica-granatum");
    assert_eq!(pomegranate.chill_hours, Some((233.0, 633.0)));
    assert!(pomegranate.support_of(PlantFigure::Chill).1.contains("HortScience 52:560"));
    // UF/IFAS Extension St. Lucie County: citrus 0 to 100 h.
    assert_eq!(plant("citrus-sinensis").chill_hours, Some((0.0, 100.0)));
    // UF/IFAS Extension, Citrus Industry 2021: growth slows at 12.8 °C.
    for key in ["citrus-limon", "citrus-satsuma", "citrus-japonica", "citrus-aurantiifolia"] {
        let citrus = plant(key);
        assert_eq!(citrus.growth_base_c, Some(12.8), "{key}");
        assert_eq!(citrus.support_of(PlantFigure::Growth).0, Published, "{key}");
    }
    // Convention of the grape literature, Ferguson et al. 2014: 10 °C.
    assert_eq!(plant("vitis-vinifera").growth_base_c, Some(10.0));
}

#[test]
fn the_order_of_bringing_in_is_that_of_the_published_lists() {
    // Gartenakademie Rheinland-Pfalz, Bayerische Gartenakademie, Landwirtschaftskammer Österreich and Swiss trade
    // guidance agree on these groups.
    let groups = [
        (MoveInPass::Early, &["citrus-calamondin", "hibiscus-rosa-sinensis", "caladium"][..]),
        (
            MoveInPass::BeforeFrost,
            &[
                "brugmansia",
                "bougainvillea",
                "lantana-camara",
                "fuchsia",
                "pelargonium-scented",
                "argyranthemum",
                "ensete-musa",
            ][..],
        ),
        (
            MoveInPass::LightFrost,
            &[
                "citrus-limon",
                "plumbago-auriculata",
                "abutilon",
                "agapanthus",
                "cycas-revoluta",
                "nerium-oleander",
            ][..],
        ),
        (
            MoveInPass::LastIn,
            &[
                "ficus-carica",
                "olea-europaea",
                "laurus-nobilis",
                "salvia-rosmarinus",
                "punica-granatum",
                "chamaerops-humilis",
                "trachycarpus-fortunei",
                "camellia-japonica",
                "eriobotrya-japonica",
            ][..],
        ),
    ];
    for (pass, keys) in groups {
        for key in keys {
            assert_eq!(plant(key).move_in_pass, pass, "{key}");
        }
    }
    // Bayerische Gartenakademie: fig, olive, bay and rosemary only when −5 °C persists.
    for key in ["ficus-carica", "olea-europaea", "laurus-nobilis", "salvia-rosmarinus"] {
        let entry = plant(key);
        assert_eq!(entry.move_in_at_c, -5.0, "{key}");
        assert!(entry.support_of(PlantFigure::MoveIn).1.contains("Bayerische Gartenakademie"), "{key}");
    }
}

#[test]
fn every_plant_known_to_be_dangerous_says_so_and_where_to_ask() {
    // ASPCA Animal Poison Control list: oleander, rhododendron, cycads; doi 10.1201/b16160-24: brugmansia;
    // field guide to plants poisonous to livestock: lantana.
    for (key, source) in [
        ("nerium-oleander", "ASPCA"),
        ("rhododendron-azalea", "ASPCA"),
        ("rhododendron-hardy", "ASPCA"),
        ("cycas-revoluta", "ASPCA"),
        ("brugmansia", "10.1201/b16160-24"),
        ("lantana-camara", "livestock"),
    ] {
        let entry = plant(key);
        assert!(entry.toxicity.contains("all a poison centre"), "{key}: {}", entry.toxicity);
        let (evidence, named) = entry.support_of(PlantFigure::Toxicity);
        assert_eq!(evidence, Published, "{key}");
        assert!(named.contains(source), "{key}: {named}");
    }
    for entry in catalogue().iter().filter(|entry| !entry.toxicity.is_empty()) {
        let text = &entry.toxicity;
        let says_what_to_do = ["poison centre", "vet", "wear gloves"].iter().any(|word| text.contains(word));
        assert!(says_what_to_do, "{}: {text}", entry.key);
    }
}

#[test]
fn the_catalogue_is_whole_and_every_figure_is_marked() {
    let catalogue = catalogue();
    assert!(catalogue.iter().count() >= 45, "{} entries", catalogue.iter().count());
    for entry in catalogue.iter() {
        entry.check().unwrap_or_else(|error| panic!("{}: {error}", entry.key));
        assert!(!entry.botanical_name.is_empty(), "{}", entry.key);
        let named = temperatures(entry).map(|(figure, t)| (figure.to_owned(), t.evidence, t.source.as_str()));
        let figures = [
            PlantFigure::Store,
            PlantFigure::Light,
            PlantFigure::Water,
            PlantFigure::MoveIn,
            PlantFigure::MoveOut,
            PlantFigure::Chill,
            PlantFigure::Growth,
            PlantFigure::Toxicity,
        ]
        .map(|figure| (format!("{figure:?}"), entry.support_of(figure).0, entry.support_of(figure).1));
        for (figure, evidence, source) in named.iter().chain(&figures) {
            assert_ne!(*evidence, Evidence::Own, "{} {figure}", entry.key);
            if *evidence != Memory {
                assert!(source.len() > 8, "{} {figure}: {source:?}", entry.key);
            }
        }
        for (figure, temperature) in temperatures(entry) {
            let of_memory = temperature.evidence == Memory && temperature.likely_loss_evidence.is_none();
            assert_eq!(temperature.source.is_empty(), of_memory, "{} {figure}", entry.key);
        }
    }
}

#[test]
fn figures_of_each_plant_agree_with_each_other() {
    for entry in catalogue().iter() {
        let key = &entry.key;
        assert!(
            entry.shoot_in_leaf.temp_c >= entry.shoot_dormant.temp_c,
            "{key}: soft growth hardier than wood"
        );
        for (figure, temperature) in temperatures(entry) {
            assert!(temperature.likely_loss_c.is_none_or(|loss| loss < temperature.temp_c), "{key} {figure}");
        }
        assert!(entry.store_low_c < entry.store_high_c, "{key}: store range");
        assert!(entry.store_high_c <= 25.0, "{key}: no winter place is as warm as {}", entry.store_high_c);
        assert!(
            entry.store_low_c >= entry.shoot_dormant.temp_c.max(entry.root_in_pot.temp_c),
            "{key}: stored colder than it stands"
        );
        assert!(entry.move_in_at_c >= entry.shoot_dormant.temp_c, "{key}: brought in after the damage");
        if let Some((low, high)) = entry.chill_hours {
            assert!(low <= high && high <= 2000.0, "{key}: chill");
        }
    }
}

#[test]
fn tenderness_and_pass_go_together() {
    let mean_low = |pass: MoveInPass| {
        let lows: Vec<f64> = catalogue()
            .iter()
            .filter(|entry| entry.move_in_pass == pass)
            .map(|entry| entry.move_in_at_c)
            .collect();
        lows.iter().sum::<f64>() / lows.len() as f64
    };
    let means = [MoveInPass::Early, MoveInPass::BeforeFrost, MoveInPass::LightFrost, MoveInPass::LastIn]
        .map(mean_low);
    assert!(means.windows(2).all(|pair| pair[0] > pair[1] + 1.0), "{means:?}");
}

#[test]
fn only_plants_without_winter_leaves_may_stand_in_the_dark() {
    use hibernacle_engine::plant::Habit::{Evergreen, Succulent};
    for entry in catalogue().iter().filter(|entry| matches!(entry.habit, Evergreen | Succulent)) {
        let stands_dark = entry.winter_light == Light::Dark;
        // Gartenakademie Rheinland-Pfalz: leadwort may be kept dark; it then drops its leaves.
        assert!(!stands_dark || entry.key == "plumbago-auriculata", "{} is evergreen", entry.key);
    }
}
