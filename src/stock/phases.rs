//! A section sampled at the grid step, once for each of several places between two grid lines, so that a row is cut by
//! minima of slices and nothing else. Lengths in mm; radii in single precision, as rows have them.

use super::section::Section;

/// The samples of a section.
#[derive(Debug)]
pub(crate) struct Phases {
    stretches: Vec<Stretch>,
    /// The ends of a wide floor, of which no samples are needed: all columns between them are cut alike.
    pub(crate) flat: Option<[f64; 2]>,
    /// No sample cuts below this.
    pub(crate) floor: f32,
}

/// A stretch of a section within which samples may be mixed: not across the corner in the middle of a sharp groove.
#[derive(Debug)]
pub(crate) struct Stretch {
    /// Its ends, stations less that of the crossing.
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// Whether a column exactly at its end belongs to it.
    pub(crate) keeps_end: bool,
    /// For each place between two grid lines, the radii from the first column inside on.
    places: Vec<Vec<f32>>,
}

/// Places between two grid lines. Between them the samples are mixed linearly: flanks are nearly straight, and even
/// across a ball of one millimetre and a grid of a tenth this is good to a few millionths.
const PLACES: usize = 16;

/// Columns of a level floor from which on it is wide.
const WIDE_FLOOR: f64 = 64.0;

impl Phases {
    /// Samples a section between two ends. Where a floor covers the corner in the middle, the whole is one stretch.
    pub(crate) fn sample(section: &Section, [from, to]: [f64; 2], step: f64) -> Phases {
        let floor = section.level_floor() as f32;
        let wide = |&[from, to]: &[f64; 2]| WIDE_FLOOR * step < to - from;
        if let Some([left, right]) = section.floor_ends().filter(wide) {
            let nose = Stretch::sample(from, left, false, step, |v| section.flank(v, true));
            let head = Stretch::sample(right, to, true, step, |v| section.flank(v, false));
            return Phases { stretches: vec![nose, head], flat: Some([left, right]), floor };
        }
        let near = step / PLACES as f64;
        let covered = |v: f64| [true, false].iter().all(|&left| section.flank(v, left) as f32 <= floor);
        let stretches = if [-near, 0.0, near].into_iter().all(covered) {
            let flank = |v: f64| section.flank(v, v < 0.0);
            vec![Stretch::sample(from, to, true, step, flank)]
        } else {
            let left = Stretch::sample(from, 0.0, false, step, |v| section.flank(v, true));
            vec![left, Stretch::sample(0.0, to, true, step, |v| section.flank(v, false))]
        };
        Phases { stretches, flat: None, floor }
    }

    /// The stretches, from the nose towards the head.
    pub(crate) fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }
}

impl Stretch {
    fn sample(from: f64, to: f64, keeps_end: bool, step: f64, flank: impl Fn(f64) -> f64) -> Stretch {
        let cells = ((to - from) / step).ceil() as usize + 1;
        let place = |place: usize| {
            let shift = place as f64 / PLACES as f64;
            (0..cells).map(|i| flank(from + (i as f64 + shift) * step) as f32).collect()
        };
        Stretch { from, to, keeps_end, places: (0..=PLACES).map(place).collect() }
    }

    /// The two nearest samples and the share of the second, for a first column that lies `share` of a step inside.
    pub(crate) fn near(&self, share: f64) -> (&[f32], &[f32], f32) {
        let at = share * PLACES as f64;
        let place = (at as usize).min(PLACES - 1);
        (&self.places[place], &self.places[place + 1], (at - place as f64) as f32)
    }
}
