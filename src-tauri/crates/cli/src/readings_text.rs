//! Readings as texts for people.

use chrono::{DateTime, Utc};
use hibernacle_contract::readings::{
    FileSensor, ReadingsList, ReadingsReport, ReadingsUndone, SensorHealth, SensorPlace,
};
use hibernacle_contract::records::{DateOrder, LogNote, LogQuestion, LogUnit, Quantity};
use hibernacle_contract::wording::{FluentArgs, Wording};

use crate::layout::{Table, heading, marked, paragraph};

/// Refused rows that are shown one by one.
const ROWS_SHOWN: usize = 10;

/// What was understood of a file, and what came of it.
///
/// * `zone` — name of a zone, for an example
pub(crate) fn report(report: &ReadingsReport, zone: &str, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("file", report.file_name.as_str());
    let key = if report.import_id.is_some() { "cli-readings-imported" } else { "cli-readings-preview" };
    let mut text = heading(&wording.message(key, &figures));
    text += &format(report, wording);
    text += &format!("\n{}", series(report, wording).text("  "));
    for sensor in &report.sensors {
        text += &paragraph(&place(sensor, zone, wording), "");
    }
    for unused in &report.understood.unused {
        let mut figures = FluentArgs::new();
        figures.set("column", unused.column.as_str());
        figures.set("why", unused.why.as_str());
        text += &paragraph(&wording.message("cli-readings-unused", &figures), "");
    }
    text += &refused(report, wording);
    for note in &report.notes {
        text += &paragraph(&self::note(note, wording), "");
    }
    for question in &report.questions {
        text += &format!("\n{}", self::question(question, wording));
    }
    if report.import_id.is_none() {
        if let Some(before) = report.imported_before_utc {
            let mut figures = FluentArgs::new();
            figures.set("date", wording.date(before.date_naive()));
            text += &paragraph(&wording.message("cli-readings-before", &figures), "");
        }
        if report.is_ready {
            text += &paragraph(&wording.text("cli-readings-ready"), "");
        }
    }
    text
}

fn format(report: &ReadingsReport, wording: &Wording) -> String {
    let understood = &report.understood;
    let mut figures = FluentArgs::new();
    figures.set("encoding", wording.word(understood.encoding));
    figures.set("delimiter", wording.word(understood.delimiter));
    figures.set(
        "decimal",
        understood.decimal.map_or_else(|| wording.text("cli-none"), |mark| wording.word(mark)),
    );
    figures.set("line", understood.first_line.to_string());
    figures.set("column", understood.time_columns.join(" + "));
    figures.set("zone", understood.zone.as_str());
    figures.set("zone_from", wording.word(understood.zone_from));
    figures.set("order_from", wording.word(understood.order_from));
    let times = match understood.order {
        Some(order) => {
            figures.set("order", wording.word(order));
            "cli-readings-times"
        }
        None => "cli-readings-times-counted",
    };
    ["cli-readings-format", times].map(|key| paragraph(&wording.message(key, &figures), "")).concat()
}

fn value(quantity: Quantity, value: Option<f64>, wording: &Wording) -> String {
    let Some(value) = value else { return wording.text("cli-none") };
    match quantity {
        Quantity::Temperature => wording.temperature(value),
        Quantity::Humidity => wording.share(value),
        Quantity::Power => wording.power(value),
    }
}

fn instant(at_utc: DateTime<Utc>) -> String {
    at_utc.format("%Y-%m-%d %H:%M").to_string()
}

fn series(report: &ReadingsReport, wording: &Wording) -> Table {
    let headings = [
        "cli-readings-sensor",
        "cli-readings-quantity",
        "cli-readings-unit",
        "cli-readings-new",
        "cli-readings-known",
        "cli-readings-doubled",
        "cli-readings-rejected",
        "cli-readings-missing",
        "cli-readings-flagged",
        "cli-readings-gaps",
        "cli-readings-first",
        "cli-readings-last",
        "cli-readings-lowest",
        "cli-readings-highest",
    ];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    for one in &report.series {
        let figures = &one.figures;
        let flagged = &figures.flagged;
        let doubtful = flagged.impossible + flagged.spike + flagged.stuck + flagged.doubtful_time;
        table.row([
            figures.sensor.clone(),
            wording.word(figures.quantity),
            figures.unit.map_or_else(String::new, |unit| wording.word(unit)),
            one.added.to_string(),
            one.known.to_string(),
            figures.duplicates.to_string(),
            figures.rejected.to_string(),
            figures.missing.to_string(),
            doubtful.to_string(),
            figures.gaps.to_string(),
            instant(figures.first_utc),
            instant(figures.last_utc),
            value(figures.quantity, figures.min, wording),
            value(figures.quantity, figures.max, wording),
        ]);
    }
    table
}

fn place(sensor: &FileSensor, zone: &str, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("name", sensor.name.as_str());
    figures.set("place", sensor.place_name.clone().unwrap_or_default());
    figures.set("zone", zone);
    let key = match sensor.place {
        SensorPlace::Sensor { .. } => "cli-readings-place-sensor",
        SensorPlace::Zone { .. } => "cli-readings-place-zone",
        SensorPlace::Outdoors => "cli-readings-place-outdoors",
        SensorPlace::LeftOut => "cli-readings-place-out",
        SensorPlace::Unknown => "cli-readings-place-unknown",
    };
    wording.message(key, &figures)
}

fn refused(report: &ReadingsReport, wording: &Wording) -> String {
    let mut text = String::new();
    for reason in &report.rejections.reasons {
        let mut figures = FluentArgs::new();
        figures.set("count", reason.count.to_string());
        figures.set("reason", wording.word(reason.reason));
        text += &paragraph(&wording.message("cli-readings-refused", &figures), "");
    }
    for row in report.rejections.rows.iter().take(ROWS_SHOWN) {
        let mut figures = FluentArgs::new();
        figures.set("line", row.line.to_string());
        figures.set("what", row.what.as_str());
        let key = match &row.column {
            Some(column) => {
                figures.set("column", column.as_str());
                "cli-readings-refused-cell"
            }
            None => "cli-readings-refused-row",
        };
        text += &marked(&wording.message(key, &figures), "  ", "    ");
    }
    text
}

fn note(note: &LogNote, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    let key = match note {
        LogNote::SkippedHour { rows, line } => {
            figures.set("rows", rows.to_string());
            figures.set("line", line.to_string());
            "cli-readings-note-skipped"
        }
        LogNote::RepeatedHour { rows, line } => {
            figures.set("rows", rows.to_string());
            figures.set("line", line.to_string());
            "cli-readings-note-repeated"
        }
        LogNote::SameInstant { readings } => {
            figures.set("rows", readings.to_string());
            "cli-readings-note-same"
        }
    };
    wording.message(key, &figures)
}

fn question(question: &LogQuestion, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    match question {
        LogQuestion::Order { written, line, choices } => {
            figures.set("written", written.as_str());
            figures.set("line", line.to_string());
            let mut text = paragraph(&wording.message("cli-readings-ask-order", &figures), "");
            for choice in choices {
                let order = match choice.order {
                    DateOrder::DayMonthYear => "dmy",
                    DateOrder::MonthDayYear => "mdy",
                    DateOrder::YearMonthDay => "ymd",
                };
                figures.set("order", order);
                figures.set("first", wording.date(choice.first.date()));
                figures.set("last", wording.date(choice.last.date()));
                text += &marked(&wording.message("cli-readings-ask-order-choice", &figures), "  ", "    ");
            }
            text
        }
        LogQuestion::Unit { columns, choices, .. } => {
            figures.set("columns", columns.join(", "));
            for (name, choice) in ["unit", "other"].into_iter().zip(choices) {
                figures.set(name, wording.word(choice.unit));
            }
            let mut text = paragraph(&wording.message("cli-readings-ask-unit", &figures), "");
            for choice in choices {
                let unit = match choice.unit {
                    LogUnit::Celsius => "c",
                    LogUnit::Fahrenheit => "f",
                    LogUnit::Kelvin => "k",
                };
                figures.set("unit", unit);
                figures.set("low", wording.temperature(choice.low_c));
                figures.set("high", wording.temperature(choice.high_c));
                text += &marked(&wording.message("cli-readings-ask-unit-choice", &figures), "  ", "    ");
            }
            text
        }
        LogQuestion::Zone { line, choices, .. } => {
            figures.set("line", line.to_string());
            for (name, choice) in ["one", "other"].into_iter().zip(choices) {
                figures.set(name, choice.as_str());
            }
            paragraph(&wording.message("cli-readings-ask-zone", &figures), "")
        }
    }
}

/// The sensors with what is stored of them.
pub(crate) fn list(stored: &ReadingsList, wording: &Wording) -> String {
    if stored.sensors.is_empty() {
        return paragraph(&wording.text("cli-readings-none"), "");
    }
    let headings = [
        "cli-readings-sensor",
        "cli-night-zone",
        "cli-readings-quantity",
        "cli-readings-count",
        "cli-readings-flagged",
        "cli-readings-gaps",
        "cli-readings-last",
        "cli-readings-silent",
        "cli-readings-lowest",
        "cli-readings-highest",
    ];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    for sensor in &stored.sensors {
        rows(&mut table, sensor, wording);
    }
    table.text("")
}

fn rows(table: &mut Table, sensor: &SensorHealth, wording: &Wording) {
    let none = || wording.text("cli-none");
    let place = sensor.zone_name.clone().unwrap_or_else(|| wording.text("cli-readings-outdoors"));
    let name = sensor.sensor.name.clone();
    if sensor.series.is_empty() {
        let empty = String::new;
        table.row([name, place, none(), empty(), empty(), empty(), empty(), empty(), empty(), empty()]);
        return;
    }
    for series in &sensor.series {
        table.row([
            name.clone(),
            place.clone(),
            wording.word(series.quantity),
            series.readings.to_string(),
            series.flagged.to_string(),
            series.gaps.to_string(),
            instant(series.last_utc),
            sensor.silent_h.map_or_else(none, |hours| wording.hours(hours)),
            value(series.quantity, series.min, wording),
            value(series.quantity, series.max, wording),
        ]);
    }
}

/// What an undo took away.
pub(crate) fn undone(reply: &ReadingsUndone, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("file", reply.import.file_name.as_str());
    figures.set("removed", reply.removed.to_string());
    let mut text = paragraph(&wording.message("cli-readings-undone", &figures), "");
    if !reply.removed_sensors.is_empty() {
        figures.set("sensors", reply.removed_sensors.join(", "));
        text += &paragraph(&wording.message("cli-readings-undone-sensors", &figures), "");
    }
    text
}
