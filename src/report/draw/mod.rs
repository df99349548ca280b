//! The shop drawing: one A3 sheet in first-angle projection with the screw as thread symbol (ISO 6410-1) and in true
//! form, its section enlarged with drawing and carved wood together, the end with its starts, the steps of depth, and the
//! unrolled blank with the path. Lines after ISO 128, dimensions after ISO 129, scales after ISO 5455 (from memory).

mod ends;
pub(in crate::report) mod form;
mod lines;
mod parts;
mod section;
mod sheet;
mod unrolled;
mod views;

use crate::design::Screw;
use crate::drawing::Drawing;
use crate::job::Job;
use crate::proof::pair::PairSection;
use crate::proof::{Measured, Story};
use crate::setup::Setup;
use crate::units::LengthUnit;

use super::svg::{At, Svg};
use form::Form;

/// All that a sheet shows.
#[derive(Clone, Copy, Debug)]
pub struct Sheet<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its screw.
    pub screw: &'a Screw,
    /// The shop.
    pub setup: &'a Setup,
    /// The finished screw.
    pub drawing: &'a Drawing,
    /// Depths of the passes of one start, below the crest.
    pub depths_mm: &'a [f64],
    /// Name of the last program that was carved.
    pub program: &'a str,
    /// How many were carved.
    pub programs: usize,
    /// Whether nothing speaks against cutting them.
    pub proved: bool,
    /// What the proof of the last measured.
    pub measured: &'a Measured,
    /// Stations and radii of the carved wood at angle 0, over a pitch or two.
    pub carved: &'a [[f64; 2]],
    /// The screw in its nut through the year; empty without a nut that is milled.
    pub pair: &'a [PairSection],
    /// The course of the cut.
    pub story: &'a Story,
    /// The motions of the program that cuts the thread, from and to (not included).
    pub thread_motions: [usize; 2],
}

/// Size of the sheet, mm: A3 (ISO 216).
const PAPER: At = [420.0, 297.0];

/// Axes of the two views of the whole screw, mm from the top of the sheet.
const SYMBOL_Y: f64 = 56.0;
const TRUE_Y: f64 = 136.0;

/// The sheet as SVG.
pub fn svg(sheet: &Sheet<'_>) -> String {
    let mut svg = Svg::default();
    let form = Form::with(sheet.drawing, parts::parts(sheet.job, sheet.drawing));
    let scale = sheet::scale_of(sheet);
    let axis = views::Axis::new(sheet, scale);
    sheet::frame(&mut svg);
    views::symbol(&mut svg, sheet, &form, &axis, SYMBOL_Y);
    parts::names(&mut svg, sheet, &form, &axis, SYMBOL_Y);
    ends::symbol(&mut svg, sheet, &axis, SYMBOL_Y);
    views::true_form(&mut svg, sheet, &form, &axis, TRUE_Y);
    ends::starts(&mut svg, sheet, &form, &axis, TRUE_Y);
    section::enlarged_section(&mut svg, sheet, &form);
    section::steps(&mut svg, sheet);
    section::pair(&mut svg, sheet);
    unrolled::draw(&mut svg, sheet);
    sheet::notes(&mut svg, sheet);
    sheet::title_block(&mut svg, sheet, scale);
    svg.finish(PAPER, lines::STYLE, &format!("{}: shop drawing", sheet.job.title))
}

impl Sheet<'_> {
    /// What was carved, in a few words.
    fn carved_by(&self) -> String {
        match self.programs {
            1 => self.program.to_owned(),
            count => format!("{count} programs up to {}", self.program),
        }
    }
}

/// A length as a drawing has it: without its unit, and without needless zeros.
fn size(unit: LengthUnit, length_mm: f64) -> String {
    let text = unit.number(length_mm);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
