//! The whole schema, so that no table changes by accident: a change belongs in a new step.

use rusqlite::Connection;

#[test]
fn the_schema_is_the_one_on_record() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    drop(hibernacle_store::Store::open(&file).unwrap());
    let connection = Connection::open(&file).unwrap();
    let mut statement = connection
        .prepare(
            "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY name",
        )
        .unwrap();
    let parts: Vec<String> = statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    let format: u32 = connection.pragma_query_value(None, "user_version", |row| row.get(0)).unwrap();
    let text = parts.join(";\n").lines().map(str::trim).collect::<Vec<_>>().join("\n");
    insta::assert_snapshot!(format!("format {format}\n{text}"));
}
