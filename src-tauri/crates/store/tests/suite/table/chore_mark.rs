use hibernacle_engine::season::{Mark, MarkKind};
use hibernacle_store::StoreError;

use crate::sample::{date, garden, instant, write};

fn marks() -> [Mark; 3] {
    [
        MarkKind::Moved { to: date("2026-11-07") },
        MarkKind::Done { on: date("2026-11-06") },
        MarkKind::Skipped { on: date("2026-11-08"), reason: "the tape is used up".to_owned() },
    ]
    .map(|kind| Mark {
        chore_key: "tape-gaps/z".to_owned(),
        kind,
        at_utc: instant("2026-11-06T17:04:05.678Z"),
    })
}

#[test]
fn entries_of_every_kind_come_back_in_order_and_undone_ones_stay_in_the_history() {
    let store = garden();
    write(&store, |data| data.begin_season("s", 2026, date("2026-08-20")));
    write(&store, |data| marks().iter().try_for_each(|mark| data.add_mark("s", 2026, mark)));
    assert_eq!(store.read(|data| data.standing_marks("s", 2026)).unwrap(), marks());

    let history = store.read(|data| data.chore_history("s", 2026, "tape-gaps/z")).unwrap();
    let undone_at = instant("2026-11-09T08:00:00Z");
    write(&store, |data| data.undo_mark(history[1].number, undone_at));

    let [moved, _, skipped] = marks();
    assert_eq!(store.read(|data| data.standing_marks("s", 2026)).unwrap(), [moved, skipped]);
    let history = store.read(|data| data.chore_history("s", 2026, "tape-gaps/z")).unwrap();
    assert_eq!(history.iter().map(|entry| entry.mark.clone()).collect::<Vec<_>>(), marks());
    assert_eq!(history[1].undone_at_utc, Some(undone_at));
}

#[test]
fn seasons_and_chores_are_kept_apart() {
    let store = garden();
    write(&store, |data| data.begin_season("s", 2026, date("2026-08-20")));
    write(&store, |data| data.begin_season("s", 2027, date("2027-08-20")));
    write(&store, |data| data.add_mark("s", 2026, &marks()[0]));
    assert!(store.read(|data| data.standing_marks("s", 2027)).unwrap().is_empty());
    assert!(store.read(|data| data.chore_history("s", 2026, "tape-gaps/y")).unwrap().is_empty());
}

#[test]
fn an_entry_for_a_season_that_never_began_is_refused_by_the_table_itself() {
    let store = garden();
    let result: Result<(), StoreError> = store.write(|data| data.add_mark("s", 2026, &marks()[0]));
    assert!(result.is_err());
}
