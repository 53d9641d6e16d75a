use hibernacle_contract::ErrorCode::{Invalid, UnknownCommand};
use hibernacle_contract::{COMMAND_NAMES, ErrorCode};
use hibernacle_service::{dispatch, dispatch_text};
use hibernacle_test_support::Garden;
use serde_json::{Value, json};

use crate::refused;

fn garden() -> Garden {
    Garden::at("2026-08-20T08:00:00Z")
}

#[test]
fn a_command_runs_by_its_name() {
    let garden = garden();
    let reply = dispatch(&garden.context, "overview", json!({ "site_id": garden.site.id })).unwrap();
    assert_eq!(reply["site"]["name"], "lower terrace");
    assert_eq!(dispatch(&garden.context, "overview", Value::Null).unwrap(), reply);
    let text = dispatch_text(&garden.context, "overview", Value::Null).unwrap();
    assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), reply);
}

#[test]
fn a_name_that_is_not_on_the_list_is_refused() {
    let message = refused(dispatch(&garden().context, "overveiw", json!({})), UnknownCommand, None);
    assert_eq!(message, "there is no command “overveiw”");
    refused(dispatch_text(&garden().context, "overveiw", json!({})), UnknownCommand, None);
}

#[test]
fn a_request_of_the_wrong_shape_is_refused_with_the_path_of_the_field() {
    let garden = garden();
    let mut planting = serde_json::to_value(&garden.lemon).unwrap();
    planting["container"]["volume_l"] = json!("thirty");
    let message = refused(dispatch(&garden.context, "planting_save", planting), Invalid, Some("container"));
    assert!(message.contains("container: invalid type"), "{message}");
    let mut site = serde_json::to_value(&garden.site).unwrap();
    site["units"]["length"] = json!("cubit");
    refused(dispatch(&garden.context, "site_save", site), Invalid, Some("units.length"));
    let date = json!({ "site_id": null, "on": "2026-02-30" });
    refused(dispatch(&garden.context, "today", date), Invalid, Some("on"));
}

#[test]
fn every_command_of_the_list_has_its_function() {
    let garden = garden();
    for name in COMMAND_NAMES {
        if let Err(failure) = dispatch(&garden.context, name, json!({})) {
            assert_ne!(failure.code, ErrorCode::UnknownCommand, "{name}");
        }
    }
}
