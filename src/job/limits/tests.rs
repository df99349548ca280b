//! Every number that a file may hold has its row, and rows leave room.

use super::*;

#[test]
fn every_key_has_one_row_and_room_in_it() {
    let mut seen = std::collections::BTreeSet::new();
    for row in LIMITS {
        assert!(seen.insert(row.key), "{} has two rows", row.key);
        assert!(row.least < row.most, "{} leaves no room", row.key);
    }
}

#[test]
fn every_key_that_is_asked_for_has_a_row() {
    let rooms = [
        include_str!("../screw.rs"),
        include_str!("../cutting.rs"),
        include_str!("../cutter.rs"),
        include_str!("../machine.rs"),
        include_str!("../operations.rs"),
        include_str!("../season.rs"),
        include_str!("../nut.rs"),
        include_str!("../thread_mill.rs"),
        include_str!("../mill.rs"),
        include_str!("../woods.rs"),
        include_str!("../jig.rs"),
        include_str!("../press.rs"),
    ];
    let mut asked = 0;
    for room in rooms {
        for call in ["desk.number(", "desk.count(", "or_usual(", "optional("] {
            for rest in room.split(call).skip(1) {
                let mut parts = rest.split('"');
                // Only calls whose first argument is a literal, perhaps behind `&format!(`.
                let literal = parts.next().is_some_and(|before| !before.contains([',', ':', ')']));
                let Some(key) = parts.next().filter(|_| literal) else {
                    continue;
                };
                let key = key.replace("{index}", "0").replace("{prefix}", "woods.any");
                let whens: &[&str] = if key.contains("{when}") { &["dry", "wet", "cutting"] } else { &[""] };
                for when in whens {
                    let key = key.replace("{when}", when);
                    assert!(limit(&key).is_some(), "{key} has no row");
                    asked += 1;
                }
            }
        }
    }
    // The keys that operations share are asked for by table and leaf.
    assert!(asked + SHARED.len() >= LIMITS.len(), "only {asked} keys were found");
}

#[test]
fn values_are_said_without_needless_zeros() {
    assert_eq!(say(LengthUnit::Mm, 12.5), "12.5 mm");
    assert_eq!(say(LengthUnit::Inch, 6.35), "0.25 in");
    assert_eq!(Quantity::Speed.say(1500.0, LengthUnit::Mm), "1500 mm/min");
    assert_eq!(Quantity::Turns.say(1.0, LengthUnit::Mm), "1 turn");
    assert_eq!(tidy(100.0, 0), "100");
    assert_eq!(tidy(1e300, 4), "1e300");
    assert_eq!(tidy(-1.234e12, 0), "-1.23e12");
}
