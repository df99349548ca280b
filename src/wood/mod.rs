//! What is known about woods: a table of species, where each value comes from, and what follows from it when the air
//! changes. Knows no screw and no job; lends its numbers to whoever reckons with wood.

mod derive;
pub mod dust;
mod find;
mod moisture;
mod movement;
mod property;
mod species;
pub mod strength;
mod table;
#[cfg(test)]
mod tests;

pub use derive::{movement_from_shrinkage, shrinkage_from_movement};
pub use find::{NearMisses, find};
pub use moisture::{Air, HUMIDITIES_PERCENT, Moisture, Season, TEMPERATURES_C};
pub use movement::{ALONG_PER_POINT, Board, Movement, PROPORTIONAL_PERCENT, SCATTER, change};
pub use property::Property;
pub use species::{DustKnown, Known, Origin, Species};
pub use table::{all, hardest};
