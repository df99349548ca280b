//! What is to be said of a press: that it backs off, that the hand is stronger than the timber, that a strength is not
//! known.

use super::{Holds, Press};
use crate::finding::{Finding, press as code};
use crate::job::{Job, Quantity};

/// Everything that is to be said.
pub(super) fn of(job: &Job, press: &Press) -> Vec<Finding> {
    [backs_off(job, press), overloaded(job, press), unknown(job, press)].into_iter().flatten().collect()
}

fn backs_off(job: &Job, press: &Press) -> Option<Finding> {
    let held = press.usually();
    if held.with_collar <= Holds::Just {
        return None;
    }
    let lock = press.lock_friction;
    let (least, most) = (held.condition.least.value, held.condition.most.value);
    let range = if least == most { format!("{least:.2}") } else { format!("{least:.2} to {most:.2}") };
    let message = format!(
        "{}, the screw {}: threads and collar rub with {range}, the threads alone stay put from {lock:.3} on",
        held.condition.name,
        held.with_collar.words(),
    );
    let keys = ["screw.lead", "screw.starts", "screw.pitch"];
    let mark = keys.into_iter().find_map(|key| job.marks.get(key));
    Some(
        Finding::new(&code::BACKS_OFF, message)
            .at_some(mark)
            .help("take fewer starts or a finer pitch, leave the threads dry, or give the handle a catch")
            .values(least, lock),
    )
}

fn overloaded(job: &Job, press: &Press) -> Option<Finding> {
    let weakest = press.weakest()?;
    let (factor, weak) = (weakest.factor()?, weakest.weak_factor()?);
    if weak >= 1.0 {
        return None;
    }
    let who = if factor < 1.0 { "an average piece" } else { "a weak piece (one in twenty)" };
    let pull = press.pull_at_most_n()?;
    let message = format!(
        "the hand can overload the timber: {}, at {:.0} % of this pull in {who} of {}",
        weakest.place,
        100.0 * if factor < 1.0 { factor } else { weak },
        weakest.wood
    );
    let mark = job.marks.get("press.hand_force").or_else(|| job.marks.get("press"));
    let unit = job.unit;
    let factor = Quantity::Pull.factor(unit);
    let say = Quantity::Pull.say((pull / factor).floor() * factor, unit);
    Some(
        Finding::new(&code::OVERLOADED, message)
            .at_some(mark.or_else(|| job.marks.get("screw")))
            .help(format!("pull no more than {say}, take a shorter handle, a thicker screw or a longer nut"))
            .values(press.works.hand_n.value, pull),
    )
}

fn unknown(job: &Job, press: &Press) -> Option<Finding> {
    let missing = press.checks.iter().filter(|check| check.bears.is_none() && check.in_tables);
    let mut words: Vec<String> =
        missing.map(|check| format!("{} of {}", check.strength, check.wood)).collect();
    words.sort();
    words.dedup();
    if words.is_empty() {
        return None;
    }
    let message = format!("no table has the {}: what it bears there is not said", words.join(", nor the "));
    Some(
        Finding::new(&code::STRENGTH_UNKNOWN, message)
            .at_some(job.marks.get("wood"))
            .help("name a wood that has been measured, or write its strength into a file of your own: woods = \"my-woods.toml\""),
    )
}
