//! Which pass follows which: by start or by depth, one way or both, the spring passes where they belong. Makes no
//! moves.

use super::{Pass, Towards};
use crate::job::{Cutting, Order, Travel};

/// The passes of a cut in order.
pub(super) fn passes(cutting: &Cutting, starts: u32, depths_mm: &[f64]) -> Vec<Pass> {
    let spring = if cutting.spring_pass { depths_mm.last() } else { None };
    let of = depths_mm.len() + usize::from(spring.is_some());
    let level = |number: usize, start: u32| Pass {
        start,
        number: number + 1,
        of,
        depth_mm: depths_mm.get(number).or(spring).copied().unwrap_or_default(),
        spring: number >= depths_mm.len(),
        towards: Towards::Head,
    };
    let mut passes: Vec<Pass> = match cutting.order {
        Order::ByStart => (0..starts).flat_map(|start| (0..of).map(move |n| (n, start))).collect::<Vec<_>>(),
        Order::ByDepth => (0..of).flat_map(|n| (0..starts).map(move |start| (n, start))).collect(),
    }
    .into_iter()
    .map(|(number, start)| level(number, start))
    .collect();
    if cutting.travel == Travel::BothWays {
        passes.iter_mut().skip(1).step_by(2).for_each(|pass| pass.towards = Towards::Nose);
    }
    passes
}
