//! From the rows of the carved blank to the thread it bears: starts, hand, lead and index, found by following the
//! grooves once round the blank. Works from stations and angles read off the wood and from nothing else. Lengths in
//! mm, angles in radians unless named.

use std::collections::BTreeMap;
use std::f64::consts::TAU;

use crate::drawing::Hand;

use super::rows::{Groove, RowSeen};

/// A groove with its place in the thread.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Placed {
    /// Which start, from 0.
    pub(crate) start: usize,
    /// Turns from the place where this start's first groove crosses angle zero.
    pub(crate) turns: f64,
    /// Angle on the blank.
    pub(crate) angle: f64,
    /// The groove.
    pub(crate) groove: Groove,
    /// Station at which the next groove on the same row begins, at the crest.
    pub(crate) next_edge: Option<f64>,
}

/// The thread that the wood bears.
#[derive(Clone, Debug)]
pub(crate) struct Thread {
    /// Threads side by side.
    pub(crate) starts: usize,
    /// Which way it winds.
    pub(crate) hand: Hand,
    /// All grooves with their places.
    pub(crate) grooves: Vec<Placed>,
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
pub(crate) fn follow(rows: &[RowSeen]) -> Option<Thread> {
    let first = rows.first()?;
    if first.grooves.len() < 2 {
        return None;
    }
    // Labels of the grooves on the row before; a label is the place in the first row, counted on to either side.
    let mut before: Vec<(i64, f64)> =
        first.grooves.iter().enumerate().map(|(i, groove)| (i as i64, groove.middle)).collect();
    let mut labelled: Vec<(i64, f64, Groove, Option<f64>)> = Vec::new();
    label_row(first, 0, &mut labelled);
    for row in &rows[1..] {
        let shift = shift_to(&before, row)?;
        label_row(row, shift, &mut labelled);
        before =
            row.grooves.iter().enumerate().map(|(i, groove)| (i as i64 + shift, groove.middle)).collect();
    }
    let moved = shift_to(&before, first)?;
    // Back at the first row, groove 0 now bears the label `moved`: its label fell by the number of starts if the
    // thread moves towards the head as the angle grows.
    let starts = moved.unsigned_abs() as usize;
    if starts == 0 {
        return None;
    }
    let hand = if moved < 0 { Hand::Right } else { Hand::Left };
    let grooves = labelled
        .into_iter()
        .map(|(label, angle, groove, next_edge)| Placed {
            start: label.rem_euclid(starts as i64) as usize,
            turns: label.div_euclid(starts as i64) as f64 + hand.sign() * angle / TAU,
            angle,
            groove,
            next_edge,
        })
        .collect();
    Some(Thread { starts, hand, grooves })
}

fn label_row(row: &RowSeen, shift: i64, out: &mut Vec<(i64, f64, Groove, Option<f64>)>) {
    for (i, groove) in row.grooves.iter().enumerate() {
        let next_edge = row.grooves.get(i + 1).and_then(|next| next.edges).map(|edges| edges[0]);
        out.push((i as i64 + shift, row.angle, *groove, next_edge));
    }
}

/// What to add to a groove's place on a row to get its label: the most common answer of its nearest neighbours on
/// the row before.
fn shift_to(before: &[(i64, f64)], row: &RowSeen) -> Option<i64> {
    let mut votes: BTreeMap<i64, usize> = BTreeMap::new();
    for (i, groove) in row.grooves.iter().enumerate() {
        let after = before.partition_point(|&(_, middle)| middle < groove.middle);
        let nearest = [after.checked_sub(1), Some(after)]
            .into_iter()
            .flatten()
            .filter_map(|k| before.get(k))
            .min_by(|a, b| (a.1 - groove.middle).abs().total_cmp(&(b.1 - groove.middle).abs()));
        if let Some((label, _)) = nearest {
            *votes.entry(label - i as i64).or_default() += 1;
        }
    }
    let (shift, count) = votes.into_iter().max_by_key(|&(shift, count)| (count, -shift.abs()))?;
    // Where grooves run into each other there is no telling which is which.
    (2 * count > row.grooves.len()).then_some(shift)
}

/// Fits helices to the grooves that `counts` lets through. `None` if a start has too few.
pub(crate) fn lay(thread: &Thread, wanted_lead: f64, counts: impl Fn(&Placed) -> bool) -> Option<Lay> {
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
    thread: &Thread,
    lead: f64,
    offsets: &[f64],
    counts: impl Fn(&Placed) -> bool,
) -> (f64, [f64; 2]) {
    let mut stretches: BTreeMap<(usize, i64), (f64, f64, &Placed)> = BTreeMap::new();
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
