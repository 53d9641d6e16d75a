use super::*;

fn surface(zone: &str, kind: SurfaceKind, light: Light, clear_m: f64, from_door_m: f64) -> Surface {
    Surface {
        id: String::new(),
        zone_id: zone.to_owned(),
        name: "Surface".to_owned(),
        kind,
        length_m: 2.0,
        width_m: 0.8,
        clear_m,
        light,
        from_door_m,
    }
}

fn house() -> Vec<Surface> {
    vec![
        surface("house", SurfaceKind::Bench, Light::Bright, 1.0, 1.0),
        surface("house", SurfaceKind::Floor, Light::Bright, 2.2, 3.0),
        surface("house", SurfaceKind::Floor, Light::Dark, 0.7, 1.0),
        surface("cellar", SurfaceKind::Floor, Light::Dark, 2.0, 6.0),
    ]
}

const ZONES: [ZoneFor<'static>; 2] =
    [ZoneFor { zone_id: "house", coldest_c: Some(1.0) }, ZoneFor { zone_id: "cellar", coldest_c: Some(4.0) }];

fn plant(id: &str, count: u32, diameter_m: f64, height_m: f64, light: Light) -> ToPlace<'_> {
    ToPlace {
        planting_id: id,
        count,
        zone_id: Some("house"),
        diameter_m,
        height_m,
        mass_kg: 10.0,
        light,
        limit_c: -3.0,
        may_stack: false,
    }
}

fn count_on(layout: &Layout, id: &str, surface: usize) -> u32 {
    layout.placed.iter().filter(|p| p.planting_id == id && p.surface == surface).map(|p| p.stacked).sum()
}

#[test]
fn light_height_and_weight_find_their_places() {
    let heavy = ToPlace { mass_kg: 60.0, ..plant("olive", 1, 0.6, 0.9, Light::Bright) };
    let plants = [
        plant("lemon", 2, 0.5, 1.6, Light::Bright),
        plant("pelargonium", 6, 0.2, 0.4, Light::Bright),
        plant("fuchsia", 4, 0.3, 0.5, Light::Dark),
        heavy,
    ];
    let layout = lay_out(&house(), &ZONES, &plants);
    assert!(layout.left_over.is_empty(), "{:?}", layout.left_over);
    assert_eq!(count_on(&layout, "lemon", 1), 2, "too tall for the bench");
    assert_eq!(count_on(&layout, "pelargonium", 0), 6);
    assert_eq!(count_on(&layout, "fuchsia", 2), 4, "needs no light and takes none");
    assert_eq!(count_on(&layout, "olive", 1), 1, "too heavy for the bench");
    assert!(layout.used_share.iter().all(|share| (0.0..0.91).contains(share)));
}

#[test]
fn what_does_not_fit_says_why_and_where_else_it_could_go() {
    let why = |plant: ToPlace<'_>| {
        let id = plant.planting_id.to_owned();
        let layout = lay_out(&house(), &ZONES, &[plant]);
        let left = layout.left_over.into_iter().find(|left| left.planting_id == id).unwrap();
        (left.why, left.count, left.elsewhere)
    };
    let (reason, count, other) = why(plant("dahlia", 60, 0.35, 0.6, Light::Dark));
    assert_eq!(reason, WhyNot::Full);
    assert!(count > 10);
    assert_eq!(other[0].zone_id, "cellar");
    assert!(other[0].room_for > 0 && other[0].room_for <= count);
    let (reason, _, other) = why(plant("palm", 1, 0.9, 2.6, Light::Dim));
    assert_eq!((reason, other), (WhyNot::TooTall, Vec::new()));
    let tender = ToPlace { limit_c: 2.0, ..plant("canna", 1, 0.3, 0.4, Light::Dark) };
    let (reason, _, other) = why(tender);
    assert_eq!((reason, other[0].zone_id.as_str()), (WhyNot::TooCold, "cellar"));
    let bright = ToPlace { zone_id: Some("cellar"), ..plant("lemon", 1, 0.4, 1.0, Light::Bright) };
    let (reason, _, other) = why(bright);
    assert_eq!((reason, other[0].zone_id.as_str()), (WhyNot::TooDark, "house"));
    let (reason, ..) = why(ToPlace { zone_id: None, ..plant("bay", 1, 0.4, 1.0, Light::Dim) });
    assert_eq!(reason, WhyNot::NoZone);
}

#[test]
fn crates_stand_on_each_other() {
    let crates = ToPlace { may_stack: true, ..plant("dahlia", 9, 0.5, 0.3, Light::Dark) };
    let layout = lay_out(&house(), &ZONES, &[ToPlace { zone_id: Some("cellar"), ..crates }]);
    assert!(layout.left_over.is_empty());
    assert_eq!(layout.placed.iter().map(|placed| placed.stacked).collect::<Vec<_>>(), [6, 3]);
}

#[test]
fn the_same_plants_are_laid_out_the_same_in_any_order() {
    let mut plants = vec![
        plant("a", 5, 0.3, 0.5, Light::Dim),
        plant("b", 5, 0.3, 0.5, Light::Dim),
        plant("c", 2, 0.5, 0.9, Light::Bright),
    ];
    let layout = lay_out(&house(), &ZONES, &plants);
    plants.reverse();
    assert_eq!(lay_out(&house(), &ZONES, &plants), layout);
}

#[test]
fn carrying_goes_from_far_to_near_and_urgent_first() {
    let plants = [
        plant("lemon", 2, 0.5, 1.6, Light::Bright),
        plant("pelargonium", 3, 0.2, 0.4, Light::Bright),
        ToPlace { mass_kg: 40.0, ..plant("fuchsia", 2, 0.3, 0.5, Light::Dark) },
    ];
    let surfaces = house();
    let layout = lay_out(&surfaces, &ZONES, &plants);
    let order = |urgent: &[&str]| -> Vec<String> {
        carrying_order(&layout, &surfaces, &plants, urgent).into_iter().map(|step| step.planting_id).collect()
    };
    assert_eq!(order(&[]), ["lemon", "fuchsia", "pelargonium"]);
    assert_eq!(order(&["pelargonium"]), ["pelargonium", "lemon", "fuchsia"]);
    let steps = carrying_order(&layout, &surfaces, &plants, &[]);
    assert_eq!((steps[0].count, steps[0].two_people), (2, false));
    assert!(steps[1].two_people);
}

#[test]
fn two_thousand_pots_are_laid_out_in_no_time() {
    let mut surfaces = house();
    surfaces.iter_mut().for_each(|surface| (surface.length_m, surface.width_m) = (20.0, 4.0));
    let plants = [plant("many", 2000, 0.3, 0.5, Light::Dark)];
    let layout = lay_out(&surfaces, &ZONES, &plants);
    let placed: u32 = layout.placed.iter().map(|placed| placed.stacked).sum();
    let left: u32 = layout.left_over.iter().map(|left| left.count).sum();
    assert_eq!(placed + left, 2000);
}

#[test]
fn surfaces_that_cannot_be_are_refused() {
    let good = surface("house", SurfaceKind::Shelf, Light::Dim, 0.4, 1.0);
    good.check().unwrap();
    assert_eq!(Surface { width_m: 0.0, ..good.clone() }.check().unwrap_err().field, "width_m");
    assert_eq!(Surface { clear_m: f64::NAN, ..good.clone() }.check().unwrap_err().field, "clear_m");
    assert_eq!(Surface { zone_id: String::new(), ..good }.check().unwrap_err().field, "zone_id");
    assert!((usual_diameter_m(14.2, Leaves::None, None) - 0.315).abs() < 0.003);
    assert!((usual_diameter_m(14.2, Leaves::Leafy, Some(0.25)) - 0.564).abs() < 0.001);
}
