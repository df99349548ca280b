//! The depths of the passes: each takes away the same area, and the last one is thick enough to cut instead of
//! rubbing. Depths count from the crest inwards, mm.

use crate::design::Screw;
use crate::design::shape::Shape;
use crate::finding::{Finding, design as code};
use crate::job::{Job, Passes};

/// The depths of one start's passes, the spring pass not counted, and a note when they are fewer than asked. None while the
/// wood still has to decide.
/// A list of depths is taken as it is, save that its last is the full depth exactly.
pub fn depths(job: &Job, screw: &Screw) -> (Vec<f64>, Option<Finding>) {
    match &job.cutting.passes {
        Passes::Depths(depths) => {
            let mut depths = depths.clone();
            if let Some(last) = depths.last_mut() {
                *last = screw.depth_mm;
            }
            (depths, None)
        }
        Passes::EqualArea(count) => {
            let least = job.cutting.least_step_mm;
            let depths = equal_area(screw.shape(), screw.depth_mm, *count, least);
            let note = (depths.len() < *count as usize).then(|| passes_dropped(job, *count, depths.len()));
            (depths, note)
        }
        Passes::ByWood(_) => (Vec::new(), None),
    }
}

/// Fewer passes than asked, for the least step.
pub(super) fn passes_dropped(job: &Job, asked: u32, cut: usize) -> Finding {
    let least = job.unit.show(job.cutting.least_step_mm);
    let (are, passes) = if cut == 1 { ("is", "pass") } else { ("are", "passes") };
    Finding::new(
        &code::PASSES_DROPPED,
        format!("{asked} passes would cut thinner than {least}; {cut} {are} cut"),
    )
    .at_some(job.marks.get("cutting.passes"))
    .also_at(job.marks.get("cutting.least_step"), "the least step")
    .help(format!("ask for {cut} {passes}, or give a smaller least step"))
    .values(f64::from(asked), cut as f64)
}

/// Depths of at most `count` passes down to `full_mm`, each taking away the same area of the cutter's outline.
///
/// When the last step would be thinner than `least_step_mm`, the pass before stops that much short of the full depth
/// and the ones before it share the rest evenly, fewer of them if they too would cut thinner than that. For a flat
/// tip of radius t and half angle a the depth of pass k of N is (-t + sqrt(t² + tan a · A k / N)) / tan a, A being
/// the area at full depth; derived from A(d) = 2 t d + d² tan a.
pub fn equal_area(shape: Shape, full_mm: f64, count: u32, least_step_mm: f64) -> Vec<f64> {
    let even = share(shape, full_mm, count.max(1));
    if thinnest(&even) >= least_step_mm || even.len() < 2 {
        return even;
    }
    let inner = full_mm - least_step_mm;
    let mut depths = (1..count)
        .rev()
        .map(|fewer| share(shape, inner, fewer))
        .find(|former| thinnest(former) >= least_step_mm)
        .unwrap_or_default();
    depths.push(full_mm);
    depths
}

/// Depths down to `full_mm` in `count` steps of equal area.
fn share(shape: Shape, full_mm: f64, count: u32) -> Vec<f64> {
    let area = shape.area_mm2(full_mm);
    (1..=count)
        .map(
            |k| {
                if k == count {
                    full_mm
                } else {
                    shape.depth_for_area(area * f64::from(k) / f64::from(count))
                }
            },
        )
        .collect()
}

/// The smallest step: the last one, since the outline widens upwards; the first one when there is no other.
fn thinnest(depths: &[f64]) -> f64 {
    match depths {
        [.., before, last] => last - before,
        [only] => *only,
        [] => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::Tip;

    const FLAT: Tip = Tip::Flat { diameter_mm: 1.0 };

    #[test]
    fn passes_take_equal_areas_and_end_at_the_full_depth() {
        for tip in [FLAT, Tip::Ball { radius_mm: 2.0 }] {
            let shape = Shape::new(60.0, tip);
            let depths = equal_area(shape, 7.0, 5, 0.1);
            assert_eq!((depths.len(), depths[4]), (5, 7.0));
            let fifth = shape.area_mm2(7.0) / 5.0;
            let mut before = 0.0;
            for depth in depths {
                let area = shape.area_mm2(depth);
                assert!((area - before - fifth).abs() < 1e-9, "{tip:?} at {depth}: {}", area - before);
                before = area;
            }
        }
    }

    #[test]
    fn a_thin_last_pass_is_made_thicker() {
        let shape = Shape::new(60.0, FLAT);
        // Seven even passes end with a step of 0.54 mm.
        let depths = equal_area(shape, 7.0, 7, 0.6);
        let last = depths.len() - 1;
        assert!((depths[last] - depths[last - 1] - 0.6).abs() < 1e-12, "{depths:?}");
        assert!(depths.windows(2).all(|pair| pair[1] - pair[0] >= 0.6 - 1e-12), "{depths:?}");
        let inner = shape.area_mm2(6.4) / last as f64;
        assert!((shape.area_mm2(depths[0]) - inner).abs() < 1e-9, "{depths:?}");
    }

    #[test]
    fn passes_that_would_rub_are_dropped() {
        let shape = Shape::new(60.0, FLAT);
        let depths = equal_area(shape, 7.0, 40, 0.3);
        assert!(depths.len() < 40 && depths.len() > 10, "{depths:?}");
        assert!(depths.windows(2).all(|pair| pair[1] - pair[0] >= 0.3 - 1e-12), "{depths:?}");
        assert_eq!(equal_area(shape, 0.5, 3, 0.4), vec![0.5], "two steps of 0.4 do not fit into 0.5");
    }
}
