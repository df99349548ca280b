//! The virtual nut: carves the motions of a program out of a block round an upright axis, as a field of inner radii over
//! height and angle. Knows the block, the cutter and where it goes; knows nothing of threads or of what was wanted.
//!
//! A ray goes out from the axis at each height and angle; the field holds how far it runs before it meets wood. That
//! tells a hole whole as long as every ray meets wood once. A cutter whose neck stays inside the hole keeps it so, and a
//! cut that begins beyond wood is told (see [`Trouble::Buried`]).

mod carve;
mod climb;
mod grid;
mod helix;
mod legs;
mod row;
mod tool;

pub use carve::{Astray, NutCarved, NutCut, NutFormer, NutRow, Trouble, carve};
pub use grid::NutGrid;
pub use legs::{Leg, legs};
pub use tool::{Body, Part, Solid, bodies, solids};
