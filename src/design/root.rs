//! One root search for the whole room: halving an interval until it cannot be halved. Slow beside cleverer ways and
//! never wrong, and no formula here is searched often enough for that to matter.

/// Halvings after which an f64 interval of any length met here has shrunk to neighbouring numbers.
const HALVINGS: u32 = 70;

/// The place in `low..=high` where `f` changes from negative to positive. `f` must grow through zero once; when it
/// is positive throughout the answer is `low`, when negative throughout `high`.
pub(super) fn bisect(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if f(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
