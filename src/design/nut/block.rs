//! The block of a nut: how large, how it lies, and with which bits its hole can be bored. What a trade does and no book says
//! is marked so.

use serde::Serialize;

use crate::job::{Job, NutAsked};
use crate::units::LengthUnit;

/// Wood beside the thread across the grain, over the major diameter, on each side (common practice, no source).
const WALL_ACROSS: f64 = 0.5;
/// Wood beyond the thread along the grain, over the major diameter, on each side: short grain splits (common practice, no
/// source).
const WALL_ALONG: f64 = 1.0;
/// Blocks are sawn to whole ones of these.
const SAWN_MM: f64 = 5.0;
/// The same in a job in inches.
const SAWN_INCH: f64 = 0.25;

/// The block.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BlockAdvice {
    /// Along the grain: the job's, or the trade's.
    pub along_grain_mm: f64,
    /// Across the grain.
    pub across_grain_mm: f64,
    /// What the trade would take along the grain.
    pub usual_along_mm: f64,
    /// What the trade would take across the grain.
    pub usual_across_mm: f64,
    /// Along the axis: the length of the nut.
    pub thickness_mm: f64,
}

pub(super) fn advice(job: &Job, asked: &NutAsked, major_mm: f64) -> BlockAdvice {
    let step_mm = match job.unit {
        LengthUnit::Mm => SAWN_MM,
        LengthUnit::Inch => SAWN_INCH * job.unit.mm(),
    };
    let sawn = |wall: f64| (major_mm * (1.0 + 2.0 * wall) / step_mm).ceil() * step_mm;
    let (usual_along_mm, usual_across_mm) = (sawn(WALL_ALONG), sawn(WALL_ACROSS));
    BlockAdvice {
        along_grain_mm: asked.along_grain_mm.unwrap_or(usual_along_mm),
        across_grain_mm: asked.across_grain_mm.unwrap_or(usual_across_mm),
        usual_along_mm,
        usual_across_mm,
        thickness_mm: asked.length_mm,
    }
}

/// Bits next to a bore.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Bits {
    /// The bore.
    pub bore_mm: f64,
    /// The widest common bit that is not wider.
    pub below_mm: Option<f64>,
    /// The narrowest common bit that is not narrower.
    pub above_mm: Option<f64>,
}

/// Diameters, mm, in which a shop has bits for wood (common practice, no source).
const BITS_MM: &[f64] = &[
    10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0, 24.0, 25.0, 26.0, 28.0, 30.0, 32.0, 34.0, 35.0, 36.0,
    38.0, 40.0, 42.0, 45.0, 48.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0, 90.0, 100.0,
];
/// Steps in an inch of the bits of an inch shop: up to an inch, up to two, above; and the widest, inches (common practice,
/// no source).
const BITS_PER_INCH: [f64; 3] = [16.0, 16.0, 8.0];
const WIDEST_BIT_INCH: f64 = 4.0;
const NARROWEST_BIT_INCH: f64 = 0.375;
/// A bit whose diameter differs by less than this is the bore: no bit cuts closer.
const SAME_MM: f64 = 0.05;

/// The common bits next to a bore, in the sizes that a shop of this unit has.
pub fn bits(bore_mm: f64, unit: LengthUnit) -> Bits {
    let sizes: Vec<f64> = match unit {
        LengthUnit::Mm => BITS_MM.to_vec(),
        LengthUnit::Inch => inch_bits_mm(),
    };
    Bits {
        bore_mm,
        below_mm: sizes.iter().copied().filter(|bit| *bit <= bore_mm + SAME_MM).reduce(f64::max),
        above_mm: sizes.iter().copied().filter(|bit| *bit >= bore_mm - SAME_MM).reduce(f64::min),
    }
}

fn inch_bits_mm() -> Vec<f64> {
    let mm = LengthUnit::Inch.mm();
    let mut sizes = Vec::new();
    let mut bit = NARROWEST_BIT_INCH;
    while bit <= WIDEST_BIT_INCH {
        sizes.push(bit * mm);
        let band = if bit < 1.0 {
            0
        } else if bit < 2.0 {
            1
        } else {
            2
        };
        bit += 1.0 / BITS_PER_INCH[band];
    }
    sizes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bore_lies_between_its_bits() {
        let metric = bits(37.3, LengthUnit::Mm);
        assert_eq!((metric.below_mm, metric.above_mm), (Some(36.0), Some(38.0)));
        let inch = bits(32.8, LengthUnit::Inch);
        assert_eq!((inch.below_mm, inch.above_mm), (Some(1.25 * 25.4), Some(1.3125 * 25.4)));
        let exact = bits(20.0, LengthUnit::Mm);
        assert_eq!((exact.below_mm, exact.above_mm), (Some(20.0), Some(20.0)));
        assert_eq!(bits(300.0, LengthUnit::Mm).above_mm, None);
    }
}
