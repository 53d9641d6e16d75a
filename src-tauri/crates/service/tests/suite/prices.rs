use hibernacle_contract::ErrorCode::{Invalid, NotFound};
use hibernacle_contract::night::{NightHeat, TonightRequest};
use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::shelter::SitePrices;
use hibernacle_engine::shelter::fuel::Fuel;
use hibernacle_engine::shelter::{EnergyPrice, Heater};
use hibernacle_service::night::tonight;
use hibernacle_service::setup::{prices, prices_save};
use hibernacle_service::shelter::heater_save;
use hibernacle_test_support::{Garden, draft};

use crate::refused;

const WINTER: &str = "2027-01-15T17:00:00Z";

fn save(garden: &Garden, list: &[(Fuel, f64)]) -> Result<SitePrices, hibernacle_contract::Failure> {
    let prices = list.iter().map(|(fuel, per_unit)| EnergyPrice { fuel: *fuel, per_unit: *per_unit });
    prices_save(&garden.context, SitePrices { site_id: garden.site.id.clone(), prices: prices.collect() })
}

fn heating(garden: &Garden, price_per_kwh: Option<f64>) -> NightHeat {
    let request = TonightRequest {
        site_id: None,
        low_c: Some(-16.0),
        cloud: None,
        wind_m_per_s: None,
        lead_days: None,
        covered: None,
        price_per_kwh,
    };
    let call = tonight(&garden.context, request).unwrap();
    let night = call.shelters.into_iter().find(|night| night.shelter_id == garden.greenhouse.id);
    night.unwrap().heating.unwrap()
}

#[test]
fn prices_are_kept_and_take_the_place_of_those_before() {
    let garden = Garden::at(WINTER);
    let read = || prices(&garden.context, SiteRef::default()).unwrap();
    assert_eq!(read().prices, []);
    let saved = save(&garden, &[(Fuel::Electricity, 0.31), (Fuel::Propane, 0.9)]).unwrap();
    assert_eq!(read(), saved);
    let saved = save(&garden, &[(Fuel::Kerosene, 1.6)]).unwrap();
    assert_eq!(read(), saved);
}

#[test]
fn what_is_no_price_is_refused_by_field() {
    let garden = Garden::at(WINTER);
    refused(save(&garden, &[(Fuel::Propane, -0.1)]), Invalid, Some("per_unit"));
    refused(save(&garden, &[(Fuel::Propane, f64::NAN)]), Invalid, Some("per_unit"));
    let twice = [(Fuel::Propane, 1.0), (Fuel::Electricity, 0.3), (Fuel::Propane, 2.0)];
    let message = refused(save(&garden, &twice), Invalid, Some("prices[2].fuel"));
    assert!(message.contains("twice"), "{message}");
    let nowhere = SitePrices { site_id: "nowhere".to_owned(), prices: Vec::new() };
    refused(prices_save(&garden.context, nowhere), NotFound, None);
}

#[test]
fn a_night_costs_what_the_heaters_fuel_does() {
    let garden = Garden::at(WINTER);
    assert_eq!(heating(&garden, None).cost, None);
    save(&garden, &[(Fuel::Electricity, 0.31), (Fuel::Propane, 0.9)]).unwrap();
    let assumed = heating(&garden, None);
    assert!((assumed.cost.unwrap() - 0.31 * assumed.heat_kwh).abs() < 1e-9);
    let dearer = heating(&garden, Some(0.5));
    assert!((dearer.cost.unwrap() - 0.5 * dearer.heat_kwh).abs() < 1e-9, "the request's price counts first");

    let burner =
        Heater { key: "propane-vented".to_owned(), circuit: None, ..draft::heater(&garden.greenhouse.id) };
    let burner = heater_save(&garden.context, burner).unwrap();
    let flame = heating(&garden, Some(0.5));
    // Propane: 91 333 BTU per US gallon are 7.07 kWh/L (US Energy Information Administration); 65 % of it heats.
    let [used] = flame.fuels[..] else { panic!("{flame:?}") };
    assert_eq!(used.fuel, Fuel::Propane);
    assert!((used.units - flame.heat_kwh / 0.65 / 7.071).abs() < 1e-3 * used.units, "{flame:?}");
    assert!((flame.cost.unwrap() - 0.9 * used.units).abs() < 1e-9, "a price of electricity is not propane's");

    // Half of the heat each.
    heater_save(&garden.context, draft::heater(&garden.greenhouse.id)).unwrap();
    let both = heating(&garden, None);
    assert!((both.rating_w - 4000.0).abs() < 1e-9);
    assert_eq!(both.fuels.len(), 2);
    let units = |fuel: Fuel| both.fuels.iter().find(|used| used.fuel == fuel).unwrap().units;
    assert!((units(Fuel::Electricity) - both.heat_kwh / 2.0).abs() < 1e-9);
    let cost = 0.31 * units(Fuel::Electricity) + 0.9 * units(Fuel::Propane);
    assert!((both.cost.unwrap() - cost).abs() < 1e-9);
    save(&garden, &[(Fuel::Electricity, 0.31)]).unwrap();
    assert_eq!(heating(&garden, None).cost, None, "the price of propane is missing");
    assert_eq!(burner.circuit, None);
}
