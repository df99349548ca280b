//! From the rows of the carved blank to the thread it bears: starts, hand, lead and index, found by following the
//! grooves once round the blank. Works from stations and angles read off the wood and from nothing else. Lengths in
//! mm, angles in radians unless named.

use std::collections::BTreeMap;
use std::f64::consts::TAU;

use crate::drawing::Hand;

use super::rows::{Groove, RowSeen};

/// A groove with its place in the thread.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Placed<'a> {
    /// Which start, from 0.
    pub(crate) start: usize,
    /// Turns from the place where this start's first groove crosses angle zero.
    pub(crate) turns: f64,
    /// Angle on the blank.
    pub(crate) angle: f64,
    /// The groove.
    pub(crate) groove: &'a Groove,
    /// Station at which the next groove on the same row begins, at the crest.
    pub(crate) next_edge: Option<f64>,
}

/// The thread that the wood bears.
#[derive(Clone, Debug)]
pub(crate) struct Thread<'a> {
    /// Threads side by side.
    pub(crate) starts: usize,
    /// Which way it winds.
    pub(crate) hand: Hand,
    /// All grooves with their places.
    pub(crate) grooves: Vec<Placed<'a>>,
}

/// How well the grooves of a thread lie on true helices.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lay {
    /// Advance per turn, by least squares over every start.
    pub(crate) lead: f64,
    /// Largest distance of a stretch of groove, a quarter turn long, from a helix of the wanted lead.
    pub(crate) lead_error: f64,
    /// Station and angle of that groove.
    pub(crate) lead_error_at: [f64; 2],
    /// Largest difference between two starts' places, degrees from even spacing.
    pub(crate) index_error_deg: f64,
    /// The start that stands farthest out.
    pub(crate) index_start: usize,
}

/// Follows the grooves from row to row once round the blank. `None` if there are too few to follow, or if they do not
/// join up to one thread.
///
/// From one row to the next a groove moves by a small part of the lead, so the nearest groove is the same one. Once
/// round, each has moved on by as many places as the thread has starts, forwards for one hand and backwards for the
/// other.
pub(crate) fn follow(rows: &[RowSeen]) -> Option<Thread<'_>> {
    let first = rows.first()?;
    if first.grooves.len() < 2 {
        return None;
    }
    // A groove's label is its place in the first row, counted on to either side: for each row, what to add to the place
    // it has on its own row.
    let mut shifts = vec![0];
    for pair in rows.windows(2) {
        shifts.push(shifts[shifts.len() - 1] + shift_to(&pair[0], &pair[1])?);
    }
    let moved = shifts[shifts.len() - 1] + shift_to(&rows[rows.len() - 1], first)?;
    // Back at the first row, groove 0 now bears the label `moved`: its label fell by the number of starts if the
    // thread moves towards the head as the angle grows.
    let starts = moved.unsigned_abs() as usize;
    if starts == 0 {
        return None;
    }
    let hand = if moved < 0 { Hand::Right } else { Hand::Left };
    let mut grooves = Vec::with_capacity(rows.iter().map(|row| row.grooves.len()).sum());
    for (row, shift) in rows.iter().zip(shifts) {
        for (i, groove) in row.grooves.iter().enumerate() {
            let label = i as i64 + shift;
            grooves.push(Placed {
                start: label.rem_euclid(starts as i64) as usize,
                turns: label.div_euclid(starts as i64) as f64 + hand.sign() * row.angle / TAU,
                angle: row.angle,
                groove,
                next_edge: row.grooves.get(i + 1).and_then(|next| next.edges).map(|edges| edges[0]),
            });
        }
    }
    Some(Thread { starts, hand, grooves })
}

/// What to add to a groove's place on a row to get the place it had on the row before: the most common answer of its
/// nearest neighbours there.
fn shift_to(before: &RowSeen, row: &RowSeen) -> Option<i64> {
    let before = &before.grooves;
    let mut votes: BTreeMap<i64, usize> = BTreeMap::new();
    let mut after = 0;
    for (i, groove) in row.grooves.iter().enumerate() {
        let middle = groove.middle;
        while before.get(after).is_some_and(|other| other.middle < middle) {
            after += 1;
        }
        let away = |k: usize| before.get(k).map_or(f64::INFINITY, |other| (other.middle - middle).abs());
        let nearest = match after.checked_sub(1) {
            Some(under) if away(under) <= away(after) => under,
            _ => after,
        };
        if nearest < before.len() {
            *votes.entry(nearest as i64 - i as i64).or_default() += 1;
        }
    }
    let (shift, count) = votes.into_iter().max_by_key(|&(shift, count)| (count, -shift.abs()))?;
    // Where grooves run into each other there is no telling which is which.
    (2 * count > row.grooves.len()).then_some(shift)
}

/// Fits helices to the grooves that `counts` lets through. `None` if a start has too few.
pub(crate) fn lay(
    thread: &Thread<'_>,
    wanted_lead: f64,
    counts: impl Fn(&Placed<'_>) -> bool,
) -> Option<Lay> {
    let mut lead_sum = 0.0;
    let mut offsets = Vec::new();
    for start in 0..thread.starts {
        let points: Vec<(f64, f64)> = thread
            .grooves
            .iter()
            .filter(|placed| placed.start == start && counts(placed))
            .map(|placed| (placed.turns, placed.groove.middle))
            .collect();
        lead_sum += slope(&points)?;
        let total: f64 = points.iter().map(|&(turns, s)| s - wanted_lead * turns).sum();
        offsets.push(total / points.len() as f64);
    }
    let worst = worst_place(thread, wanted_lead, &offsets, counts);
    let lead = lead_sum / thread.starts as f64;
    let (index_error_deg, index_start) = index_error(&offsets, wanted_lead);
    Some(Lay { lead, lead_error: worst.0, lead_error_at: worst.1, index_error_deg, index_start })
}

/// Parts of a turn over which the places of a groove are averaged. A wandering lead shows in every one of them, a
/// wobble once a turn in opposite ones, while a nick in one flank, which is a fault of form, hardly moves the mean.
const PARTS_OF_A_TURN: f64 = 4.0;

/// Largest distance of a stretch of groove from the helix of its start, and the station and angle of the stretch.
fn worst_place(
    thread: &Thread<'_>,
    lead: f64,
    offsets: &[f64],
    counts: impl Fn(&Placed<'_>) -> bool,
) -> (f64, [f64; 2]) {
    let mut stretches: BTreeMap<(usize, i64), (f64, f64, &Placed<'_>)> = BTreeMap::new();
    for placed in thread.grooves.iter().filter(|placed| counts(placed)) {
        let off = placed.groove.middle - offsets[placed.start] - lead * placed.turns;
        let part = (placed.turns * PARTS_OF_A_TURN).floor() as i64;
        let (sum, count, _) = stretches.entry((placed.start, part)).or_insert((0.0, 0.0, placed));
        *sum += off;
        *count += 1.0;
    }
    let mut worst = (0.0_f64, [0.0, 0.0]);
    for (sum, count, placed) in stretches.values() {
        let off = (sum / count).abs();
        if off > worst.0 {
            worst = (off, [placed.groove.middle, placed.angle]);
        }
    }
    worst
}

/// The straight line through points, by least squares; `None` for fewer than three points or points all at one place.
pub(crate) fn straight_line(points: &[(f64, f64)]) -> Option<impl Fn(f64) -> f64 + use<>> {
    let (x, y) = mean(points)?;
    let slope = slope(points)?;
    Some(move |at: f64| y + slope * (at - x))
}

fn mean(points: &[(f64, f64)]) -> Option<(f64, f64)> {
    let n = points.len() as f64;
    let of = |f: fn(&(f64, f64)) -> f64| points.iter().map(f).sum::<f64>() / n;
    (3 <= points.len()).then(|| (of(|p| p.0), of(|p| p.1)))
}

/// Its slope.
fn slope(points: &[(f64, f64)]) -> Option<f64> {
    let (x, y) = mean(points)?;
    let spread: f64 = points.iter().map(|p| (p.0 - x).powi(2)).sum();
    let joint: f64 = points.iter().map(|p| (p.0 - x) * (p.1 - y)).sum();
    (spread > 0.0).then(|| joint / spread)
}

/// Largest difference between the starts' places and even spacing, in degrees, and the start that stands out most.
fn index_error(offsets: &[f64], lead: f64) -> (f64, usize) {
    let pitch = lead / offsets.len() as f64;
    let off: Vec<f64> = offsets.iter().enumerate().map(|(i, offset)| offset - pitch * i as f64).collect();
    let low = off.iter().copied().fold(f64::INFINITY, f64::min);
    let high = off.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut sorted = off.clone();
    sorted.sort_by(f64::total_cmp);
    let median = sorted[sorted.len() / 2];
    let out = (0..off.len()).max_by(|&a, &b| (off[a] - median).abs().total_cmp(&(off[b] - median).abs()));
    ((high - low) / lead * 360.0, out.unwrap_or(0))
}
