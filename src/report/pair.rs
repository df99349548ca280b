//! The screw in its nut as pictures side by side, one for each season: for the page in its own colours, for the drawing on
//! paper. Lengths in mm.

use std::fmt::Write;

use super::page::Panel;
use super::svg::{Anchor, At, Svg};
use crate::proof::pair::PairSection;
use crate::units::LengthUnit;

/// Size of one picture on the page, pixels, and the room for words below it.
const WIDE: f64 = 250.0;
const HIGH: f64 = 150.0;
const WORDS: f64 = 34.0;
/// Wood that is shown beyond crest and root, as a share of the thread's depth.
const BEYOND: f64 = 0.2;

/// The bounds of all sections together: places along the axis, and radii.
fn bounds(sections: &[PairSection]) -> ([f64; 2], [f64; 2]) {
    let all = || sections.iter().flat_map(|one| one.screw.iter().chain(&one.nut));
    let range = |index: usize| {
        let least = all().map(|point| point[index]).fold(f64::INFINITY, f64::min);
        let most = all().map(|point| point[index]).fold(f64::NEG_INFINITY, f64::max);
        [least, most]
    };
    let ([from, to], [low, high]) = (range(0), range(1));
    let beyond = BEYOND * (high - low);
    ([from, to], [low - beyond, high + beyond])
}

/// What stands under a picture.
fn words(section: &PairSection, unit: LengthUnit) -> [String; 2] {
    let gap = |mm: f64| unit.number(mm);
    [
        section.season.clone(),
        format!(
            "crest {}, root {}, flank {} {}",
            gap(section.crest_mm),
            gap(section.root_mm),
            gap(section.flank_mm),
            unit.name()
        ),
    ]
}

/// The panel of the page; `None` without a section.
pub fn panel(sections: &[PairSection], unit: LengthUnit) -> Option<Panel> {
    if sections.is_empty() {
        return None;
    }
    let ([from, to], [low, high]) = bounds(sections);
    let scale = (WIDE / (to - from)).min(HIGH / (high - low));
    let wide = (to - from) * scale;
    let mut picture = String::new();
    for section in sections {
        let at = |[z, r]: [f64; 2]| [(z - from) * scale, (high - r) * scale];
        let path = |points: &[[f64; 2]]| {
            points.iter().enumerate().fold(String::new(), |mut path, (index, &point)| {
                let [x, y] = at(point);
                let _ = write!(path, "{}{x:.1} {y:.1}", if index == 0 { 'M' } else { 'L' });
                path
            })
        };
        let (screw, nut) = (path(&section.screw), path(&section.nut));
        let bottom = (high - low) * scale;
        let ends = |points: &[[f64; 2]], y: f64| {
            let x = |point: Option<&[f64; 2]>| point.map_or(0.0, |&point| at(point)[0]);
            format!("L{:.1} {y:.1}L{:.1} {y:.1}Z", x(points.last()), x(points.first()))
        };
        let [name, gaps] = words(section, unit);
        let _ = write!(
            picture,
            "<svg class=\"pair\" viewBox=\"0 0 {wide:.0} {:.0}\" width=\"{wide:.0}\" role=\"img\" aria-label=\"screw in nut, \
             {name}: {gaps}\"><path class=\"cut-wood\" d=\"{screw}{}\"/><path class=\"nut-wood\" d=\"{nut}{}\"/><path \
             class=\"edge\" d=\"{screw}\"/><path class=\"edge\" d=\"{nut}\"/><text x=\"0\" y=\"{:.1}\" \
             class=\"pair-name\">{name}</text><text x=\"0\" y=\"{:.1}\">{gaps}</text></svg>",
            bottom + WORDS,
            ends(&section.screw, bottom),
            ends(&section.nut, 0.0),
            bottom + 13.0,
            bottom + 28.0,
        );
    }
    Some(Panel {
        title: "Screw in nut".to_owned(),
        says: vec![
            "both as their programs cut them, in the middle of the nut, the screw turned so that it stands nearest; the nut \
             above, the screw below"
                .to_owned(),
        ],
        picture,
        notes: vec!["`nut` proves the pair all round and in every state of the year.".to_owned()],
        ..Panel::default()
    })
}

/// The detail of the drawing, its left top corner at `at`, each picture in a room so wide and high. The scale is told by
/// whoever chose it.
pub(super) fn detail(
    svg: &mut Svg,
    sections: &[PairSection],
    at: At,
    scale: f64,
    apart: f64,
    unit: LengthUnit,
) {
    let ([from, _], [low, high]) = bounds(sections);
    for (index, section) in sections.iter().enumerate() {
        let left = at[0] + apart * index as f64;
        let place = |[z, r]: [f64; 2]| [left + (z - from) * scale, at[1] + (high - r) * scale];
        let bottom = at[1] + (high - low) * scale;
        for (class, points, y) in [("wood", &section.screw, bottom), ("nut", &section.nut, at[1])] {
            let outline: Vec<At> = points.iter().map(|&point| place(point)).collect();
            let ends = [outline.last(), outline.first()].map(|end| end.map(|&[x, _]| [x, y]));
            svg.polyline(class, outline.iter().copied().map(Some).chain(ends), true);
            svg.polyline("thin", outline.into_iter().map(Some), false);
        }
        for (line, text) in words(section, unit).iter().enumerate() {
            let y = bottom + 3.6 + 3.4 * line as f64;
            svg.text("words", [left, y], Anchor::Start, 0.0, text);
        }
    }
}

/// How wide and high the sections are together, mm.
pub(super) fn size_mm(sections: &[PairSection]) -> [f64; 2] {
    let ([from, to], [low, high]) = bounds(sections);
    [to - from, high - low]
}
