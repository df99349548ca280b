//! The cutter of a nut as solids of revolution about its upright axis: what cuts, and what must not touch. Heights count
//! from its lowest end. Lengths in mm.

use crate::setup::{NutTool, Tip};

/// A convex piece of a cutter: a ring that tapers both ways from its widest part, or a ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solid {
    /// Height of its lowest part.
    pub low_mm: f64,
    /// Height of its highest part.
    pub high_mm: f64,
    /// Its greatest radius.
    pub radius_mm: f64,
    shape: Shape,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Shape {
    /// As wide as can be within half a flat of the middle; beyond it loses `taper` for each millimetre of height.
    Ring { middle: f64, half_flat: f64, taper: f64 },
    /// A ball whose lowest point is the cutter's end.
    Ball,
}

impl Solid {
    /// A cylinder between two heights.
    pub(crate) fn cylinder(low: f64, high: f64, radius: f64) -> Solid {
        let shape = Shape::Ring { middle: 0.0, half_flat: f64::INFINITY, taper: 0.0 };
        Solid { low_mm: low, high_mm: high, radius_mm: radius, shape }
    }

    /// The widest that it is below a height, which lies above its lowest part.
    pub fn widest_below(&self, height: f64) -> f64 {
        match self.shape {
            Shape::Ring { middle, half_flat, .. } if height < middle - half_flat => self.at(height).0,
            Shape::Ball => self.at(height.min(self.high_mm)).0,
            Shape::Ring { .. } => self.radius_mm,
        }
    }

    /// The widest that it is between two heights.
    #[inline]
    pub(crate) fn widest(&self, low: f64, high: f64) -> f64 {
        match self.shape {
            Shape::Ring { middle, half_flat, taper } => {
                let off = (low - middle).max(middle - high).max(0.0);
                self.radius_mm - (off - half_flat).max(0.0) * taper
            }
            Shape::Ball => self.at(high.clamp(self.low_mm, self.high_mm)).0,
        }
    }

    /// Its radius at a height between its ends, and how that grows with the height.
    #[inline]
    pub(crate) fn at(&self, height: f64) -> (f64, f64) {
        match self.shape {
            Shape::Ring { middle, half_flat, taper } => {
                let off = height - middle;
                let past = off.abs() - half_flat;
                if past <= 0.0 {
                    (self.radius_mm, 0.0)
                } else {
                    (self.radius_mm - past * taper, -taper * off.signum())
                }
            }
            Shape::Ball => {
                let below = self.radius_mm - height;
                let radius = (self.radius_mm * self.radius_mm - below * below).max(0.0).sqrt();
                (radius, if radius > 0.0 { below / radius } else { f64::MAX })
            }
        }
    }
}

/// Which part of a cutter touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The neck that carries the teeth.
    Neck,
    /// The shank.
    Shank,
    /// Collet and nut.
    Collet,
}

impl Part {
    /// What the shop calls it.
    pub fn name(self) -> &'static str {
        match self {
            Part::Neck => "neck",
            Part::Shank => "shank",
            Part::Collet => "collet nut",
        }
    }
}

/// A part of the cutter that does not cut: a cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Which.
    pub part: Part,
    /// Where and how wide.
    pub solid: Solid,
}

/// What cuts: a ring for each row of teeth, a cylinder (on a ball, if its end is one) for a boring cutter.
///
/// A tooth ends where it meets its neck.
pub fn solids(tool: &NutTool) -> Vec<Solid> {
    match tool {
        NutTool::Thread(mill) => mill
            .teeth
            .iter()
            .map(|tooth| {
                let (radius, half_flat) = (tooth.diameter_mm / 2.0, tooth.tip_flat_mm / 2.0);
                let spread = (tooth.included_angle_deg / 2.0).to_radians().tan();
                let half = half_flat + (radius - mill.neck_diameter_mm / 2.0).max(0.0) * spread;
                let shape = Shape::Ring { middle: tooth.middle_mm, half_flat, taper: spread.recip() };
                let (low_mm, high_mm) = (tooth.middle_mm - half, tooth.middle_mm + half);
                Solid { low_mm, high_mm, radius_mm: radius, shape }
            })
            .collect(),
        NutTool::Boring(cutter) => {
            let radius = cutter.cutting_diameter_mm / 2.0;
            match cutter.tip {
                Tip::Flat { .. } => vec![Solid::cylinder(0.0, cutter.cutting_length_mm, radius)],
                Tip::Ball { radius_mm } => vec![
                    Solid { low_mm: 0.0, high_mm: radius_mm, radius_mm, shape: Shape::Ball },
                    Solid::cylinder(radius_mm, cutter.cutting_length_mm, radius),
                ],
            }
        }
    }
}

/// What must touch nothing. The collet nut has no upper end.
pub fn bodies(tool: &NutTool) -> Vec<Body> {
    let body =
        |part, low, high, diameter: f64| Body { part, solid: Solid::cylinder(low, high, diameter / 2.0) };
    match tool {
        NutTool::Thread(mill) => vec![
            body(Part::Neck, 0.0, mill.neck_length_mm, mill.neck_diameter_mm),
            body(Part::Shank, mill.neck_length_mm, mill.stick_out_mm, mill.shank_diameter_mm),
            body(Part::Collet, mill.stick_out_mm, f64::INFINITY, mill.collet_diameter_mm),
        ],
        NutTool::Boring(cutter) => vec![
            body(Part::Shank, cutter.cutting_length_mm, cutter.stick_out_mm, cutter.shank_diameter_mm),
            body(Part::Collet, cutter.stick_out_mm, f64::INFINITY, cutter.collet_diameter_mm),
        ],
    }
}
