//! How much wood a pass takes and how fast: depths, chips, forces, limits, and the plan that follows from them. Plans no
//! moves.

mod advice;
mod bounds;
mod depth;
mod engage;
mod ladder;
mod plan;
mod settle;
mod sheet;
mod trip;

pub use advice::{Advice, advice};
pub use bounds::{AXIS_SHARE, BENDS_MM, Bounds, CUTTER_BENDS_MM, Loads, Reason};
pub use depth::{depths, equal_area};
pub use engage::{Met, deepening, flank};
pub use plan::{Ask, LIGHT_MM, MOST_PASSES, Plan, Planned, Search};
pub use settle::{Even, STEADY_FROM, Settled, ask, even, opened, settle};
pub use sheet::{AxisBinds, Cell, Row, Table, Verdict, axis_binds, rows, table};
pub use trip::{Kind, Trip, section_mm2, trips};
