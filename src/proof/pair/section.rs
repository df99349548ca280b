//! Screw and nut cut along their axis, in one half plane: what stands beside what in the middle of the nut. Lengths in mm.

use serde::Serialize;

use crate::drawing::{Drawing, NutDrawing};
use crate::proof::nut::{self, NutBefore};
use crate::proof::{Before, section as of_screw};
use crate::rs274::{self, Motion};
use crate::setup::Season;
use crate::stock::nut::{NutFormer, NutGrid, carve};

/// Half of what is shown, in pitches: a ridge with the valleys beside it, and half of the next.
const SHOWN_PITCHES: f64 = 0.9;
/// Half of what is carved, in pitches: the screw has to be shifted into the nut's grooves.
const CARVED_PITCHES: f64 = 2.0;
/// Distance between the heights of the nut, mm: finer than a drawing shows.
const STEP_MM: f64 = 0.02;
/// Points that lie so near the line between their neighbours are left out, mm.
const STRAIGHT_MM: f64 = 0.004;
/// Radii at which the flanks are compared.
const LEVELS: usize = 30;

/// A screw in its nut in one season, where the two come nearest: the screw turned so that its wide way lies in the nut's
/// narrow one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PairSection {
    /// The season.
    pub season: String,
    /// Outline of the screw: place along the axis from the middle of the nut, distance from the axis.
    pub screw: Vec<[f64; 2]>,
    /// Outline of the nut.
    pub nut: Vec<[f64; 2]>,
    /// From crest to groove, on the radius.
    pub crest_mm: f64,
    /// From root to the nut's crest, on the radius.
    pub root_mm: f64,
    /// At the nearer flank, along the axis, the screw in the middle of its room.
    pub flank_mm: f64,
}

/// Carves both pieces from the texts of their programs, and lays them into each other in each season. Empty when one of them
/// has no thread there.
pub fn section(
    screws: &[Before<'_>],
    drawing: &Drawing,
    nuts: &[NutBefore<'_>],
    nut_drawing: &NutDrawing,
    seasons: &[Season],
) -> Vec<PairSection> {
    let pitch = drawing.lead_mm / f64::from(drawing.starts.max(1));
    let middle = f64::midpoint(drawing.full_from_s_mm, drawing.full_to_s_mm);
    let around = CARVED_PITCHES * pitch;
    let from_middle = |points: Vec<[f64; 2]>, middle: f64| -> Vec<[f64; 2]> {
        points.into_iter().map(|[place, radius]| [place - middle, radius]).collect()
    };
    let screw = from_middle(of_screw(screws, [middle - around, middle + around]), middle);
    let heights = [-nut_drawing.length_mm / 2.0 - around, -nut_drawing.length_mm / 2.0 + around];
    let nut = from_middle(nut_row(nuts, heights), -nut_drawing.length_mm / 2.0);
    seasons.iter().filter_map(|season| laid(&screw, &nut, pitch, season)).collect()
}

/// The nut's outline at angle 0, over the heights that lie in the block.
fn nut_row(programs: &[NutBefore<'_>], [from, to]: [f64; 2]) -> Vec<[f64; 2]> {
    let Some((last, earlier)) = programs.split_last() else { return Vec::new() };
    let read = |one: &NutBefore<'_>| rs274::run(one.program, &nut::control(one.setup)).motions;
    let runs: Vec<Vec<Motion>> = earlier.iter().map(read).collect();
    let formers: Vec<NutFormer<'_>> =
        earlier.iter().zip(&runs).map(|(one, motions)| NutFormer { motions, setup: one.setup }).collect();
    let from = from.max(-last.setup.block.thickness_mm);
    let count = ((to.min(0.0) - from) / STEP_MM).floor();
    if count < 1.0 {
        return Vec::new();
    }
    let grid = NutGrid { from_z_mm: from, step_mm: STEP_MM, heights: count as usize + 1, rows: 1 };
    let carved = carve(&formers, &read(last), last.setup, grid, |row| Some(row.radii_mm.to_vec()));
    let radii = carved.rows.into_iter().next().unwrap_or_default();
    radii.into_iter().enumerate().map(|(index, radius)| [from + STEP_MM * index as f64, radius]).collect()
}

fn laid(screw: &[[f64; 2]], nut: &[[f64; 2]], pitch: f64, season: &Season) -> Option<PairSection> {
    let wide = 1.0 + season.screw.radial.max(season.screw.tangential);
    let narrow = 1.0 + season.nut.along.min(season.nut.across);
    let grown = |points: &[[f64; 2]], along: f64, across: f64| -> Vec<[f64; 2]> {
        points.iter().map(|[place, radius]| [place * (1.0 + along), radius * across]).collect()
    };
    let screw = grown(screw, season.screw.along, wide);
    let nut = grown(nut, season.nut.through, narrow);
    let high = |points: &[[f64; 2]]| points.iter().map(|point| point[1]).fold(0.0, f64::max);
    let low = |points: &[[f64; 2]]| points.iter().map(|point| point[1]).fold(f64::INFINITY, f64::min);
    let (crest, root, major, bore) = (high(&screw), low(&screw), high(&nut), low(&nut));
    let half_way = f64::midpoint(root.max(bore), crest.min(major));
    // The groove of the nut nearest the middle, and the ridge nearest to it, put into the middle of its room.
    let groove = nearest(&nut, half_way, 0.0)?;
    let ridge = nearest(&screw, half_way, f64::midpoint(groove[0], groove[1]))?;
    let shift = (groove[0] + groove[1] - ridge[0] - ridge[1]) / 2.0;
    let screw: Vec<[f64; 2]> = screw.into_iter().map(|[place, radius]| [place + shift, radius]).collect();
    let middle = f64::midpoint(groove[0], groove[1]);
    let [from, to] = [root.max(bore), crest.min(major)];
    let flank_mm = (1..LEVELS)
        .filter_map(|index| {
            let level = from + (to - from) * index as f64 / LEVELS as f64;
            let (room, ridge) = (nearest(&nut, level, middle)?, nearest(&screw, level, middle)?);
            Some((ridge[0] - room[0]).min(room[1] - ridge[1]))
        })
        .fold(f64::INFINITY, f64::min);
    let shown = |points: &[[f64; 2]]| -> Vec<[f64; 2]> {
        let reach = SHOWN_PITCHES * pitch;
        let near: Vec<[f64; 2]> =
            points.iter().copied().filter(|[place, _]| (place - middle).abs() <= reach).collect();
        thinned(&near)
    };
    Some(PairSection {
        season: season.name.clone(),
        screw: shown(&screw),
        nut: shown(&nut),
        crest_mm: major - crest,
        root_mm: bore - root,
        flank_mm,
    })
}

/// The stretch above a level that is whole and nearest to a place: where it begins and ends.
fn nearest(points: &[[f64; 2]], level: f64, place: f64) -> Option<[f64; 2]> {
    let mut best: Option<[f64; 2]> = None;
    let mut begins = None;
    for pair in points.windows(2) {
        let [[z0, r0], [z1, r1]] = [pair[0], pair[1]];
        if (r0 < level) == (r1 < level) {
            continue;
        }
        let crossing = z0 + (z1 - z0) * (level - r0) / (r1 - r0);
        if r0 < level {
            begins = Some(crossing);
        } else if let Some(begin) = begins.take() {
            let away = |[a, b]: [f64; 2]| (f64::midpoint(a, b) - place).abs();
            if best.is_none_or(|best| away([begin, crossing]) < away(best)) {
                best = Some([begin, crossing]);
            }
        }
    }
    best
}

/// The same line with fewer points.
fn thinned(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = points.first().copied().into_iter().collect();
    let mut from = 0;
    for end in 2..points.len() {
        let (a, b) = (points[from], points[end]);
        let straight = points[from + 1..end].iter().all(|p| {
            let on = a[1] + (b[1] - a[1]) * (p[0] - a[0]) / (b[0] - a[0]);
            (p[1] - on).abs() <= STRAIGHT_MM
        });
        if !straight {
            from = end - 1;
            kept.push(points[from]);
        }
    }
    kept.extend(points.last().copied().filter(|_| points.len() > 1));
    kept
}
