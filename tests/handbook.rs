//! The generating half against the outside: tables and worked examples that others have printed, and values derived
//! by hand beside them. Every value has its source; every wrong row is reported, not only the first.

// The demo job and its machine speak of `crate::drawing` and the like; here they come from the library.
use threadwright::{drawing, job, units};

mod setup {
    pub(crate) use crate::sample_machine as sample;
    pub(crate) use threadwright::setup::*;
}

#[path = "handbook/acme.rs"]
mod acme;
#[path = "handbook/change_gears.rs"]
mod change_gears;
#[path = "handbook/cutting.rs"]
mod cutting;
#[path = "handbook/depths.rs"]
mod depths;
#[path = "handbook/feed.rs"]
mod feed;
#[path = "handbook/groove.rs"]
mod groove;
#[path = "handbook/helix.rs"]
mod helix;
#[path = "handbook/nut_groove.rs"]
mod nut_groove;
#[path = "handbook/plain_v.rs"]
mod plain_v;
#[path = "handbook/power_screws.rs"]
mod power_screws;
#[path = "handbook/practice.rs"]
mod practice;
#[path = "handbook/round_bars.rs"]
mod round_bars;
#[path = "../src/design/sample.rs"]
mod sample;
#[path = "../src/setup/sample.rs"]
mod sample_machine;
#[path = "handbook/sheet.rs"]
mod sheet;
#[path = "handbook/stiffness.rs"]
mod stiffness;
#[path = "handbook/trapezoidal.rs"]
mod trapezoidal;
#[path = "handbook/stick.rs"]
mod stick;
#[path = "handbook/v_threads.rs"]
mod v_threads;
#[path = "handbook/wood.rs"]
mod wood;

use sheet::{Known, Sheet};

/// Half of the last digit of a value printed with so many decimals, and a hair for the rounding of f64.
fn printed(decimals: i32) -> f64 {
    0.5 * 10_f64.powi(-decimals) + 1e-12
}
