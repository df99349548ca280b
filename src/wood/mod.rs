//! What is known about woods: a table of species, where each value comes from, and what follows from it when the air
//! changes. Knows no screw and no job; lends its numbers to whoever reckons with wood.

mod derive;
mod find;
mod property;
mod species;
mod table;

pub use derive::{movement_from_shrinkage, shrinkage_from_movement};
pub use find::{NearMisses, find};
pub use property::Property;
pub use species::{DustKnown, Known, Origin, Species};
pub use table::{all, source_words};
