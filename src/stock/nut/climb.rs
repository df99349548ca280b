//! Finds the moment at which a moving cutter reaches farthest along a ray: a climb by the sign of the slope.

/// What is known of one moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    /// How far the ray is cut, mm; of no meaning where the cutter misses the ray.
    pub(crate) reach: f64,
    /// How the reach grows with the moment; where the cutter misses, how it comes nearer to the ray.
    pub(crate) slope: f64,
    /// Whether the ray is met.
    pub(crate) meets: bool,
}

/// A climb ends when going on could win no more than this, mm: a hundredth of what a proof tells.
const WON_MM: f64 = 1e-6;
/// Steps after which a climb ends in any case; halving alone gets 60 binary digits nearer.
const MOST_STEPS: usize = 60;
/// Two moments as near as this are one, as a share of the move.
const SAME_MOMENT: f64 = 1e-12;

/// The highest reach between two moments and its moment; `None` if the ray is missed throughout.
///
/// The reach must rise and then fall (of a straight move and a cutter that is convex in its section it does, since
/// `sqrt(a^2 - b^2)` of a concave `a` and a straight `b` is concave). What the answer lacks is at most [`WON_MM`].
pub(crate) fn highest(from: f64, to: f64, look: impl Fn(f64) -> Look) -> Option<(f64, f64)> {
    let told = |at: f64, seen: Look| seen.meets.then_some((seen.reach, at));
    let (mut low, mut high) = (from, to);
    let mut below = look(low);
    if below.slope <= 0.0 {
        return told(low, below);
    }
    let mut above = look(high);
    if above.slope >= 0.0 {
        return told(high, above);
    }
    // A secant that keeps one end for long creeps; halving the slope that it keeps mends that.
    let (mut low_weight, mut high_weight) = (1.0, 1.0);
    for _ in 0..MOST_STEPS {
        let width = high - low;
        let at = if below.meets && above.meets {
            let (rise, fall) = (below.slope * low_weight, -above.slope * high_weight);
            low + width * rise / (rise + fall)
        } else {
            f64::midpoint(low, high)
        };
        let seen = look(at);
        if seen.meets && seen.slope.abs() * width <= WON_MM || width <= SAME_MOMENT {
            return told(at, seen);
        }
        if seen.slope > 0.0 {
            (low, below) = (at, seen);
            (low_weight, high_weight) = (1.0, high_weight / 2.0);
        } else {
            (high, above) = (at, seen);
            (low_weight, high_weight) = (low_weight / 2.0, 1.0);
        }
    }
    let (better, at) = if above.meets && above.reach > below.reach { (above, high) } else { (below, low) };
    told(at, better)
}
