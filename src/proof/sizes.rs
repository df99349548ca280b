//! The carved wood against the drawing: every size the drawing states, each with its place and how sure it is.

use crate::drawing::{Drawing, Threading};
use crate::finding::{Finding, Spot, proof as code};
use crate::setup::{BlankShape, Cutter};
use crate::source::Mark;
use crate::stock::{self, Grid};

use super::length::full_end;
use super::motions::TOUCH_MM;
use super::rows::{Reader, RowSeen, Wanted};
use super::sure::{SINGLE_PRECISION_MM, Sure};
use super::thread::{Lay, Placed, Thread, follow, lay};
use super::turned::Outlines;
use super::{Case, Measured, Uncertainty, outside};

/// Most rows that are read on one turn: one a degree shows every groove some dozens of times.
const ROWS_SEEN: usize = 360;
/// Of these, one in so many is compared with the drawn section station by station.
pub(super) const FORM_EVERY: usize = 4;

/// Share of what a blank stands over the crests that tells, where it is still there, that nobody turned it: the rows that
/// are read may pass beside its very corners.
const UNTURNED_SHARE: f64 = 0.9;

/// How many rows of a grid are read.
pub(super) fn rows_seen(grid: Grid) -> usize {
    grid.rows.min(ROWS_SEEN)
}

/// Which of the rows that are read a row of the grid is, from 0; `None` if it is not read. They are spread evenly.
pub(super) fn nth_seen(row: usize, grid: Grid) -> Option<usize> {
    let nth = |row: usize| row * rows_seen(grid) / grid.rows;
    (row == 0 || nth(row) != nth(row - 1)).then(|| nth(row))
}

/// Makes the reader of rows for a case.
pub(super) fn reader<'a>(threader: &Cutter, drawing: &'a Drawing, grid: Grid) -> Reader<'a> {
    let bottom = Sure::of(grid, threader, drawing).bottom();
    Reader { drawing, grid, wanted: Wanted::of(drawing), outlines: Outlines::of(drawing, &grid), bottom }
}

/// Measures the wood and says what differs from the drawing.
pub(super) fn check(case: &Case<'_>, measured: &mut Measured, uncertainty: &mut Uncertainty) -> Vec<Finding> {
    let removed: f64 = case.carved.cuts.iter().map(|cut| cut.removed_mm3).sum();
    measured.removed_mm3 = Some(removed);
    // Each edge of a groove cuts a cell at some place; what that adds and takes away is second order in the cells.
    let cells = case.carved.grid.step_mm / case.setup.cutter.cutting_diameter_mm;
    uncertainty.removed_mm3 = Some(removed * cells * cells);
    if case.drawing.thread == Threading::Air {
        return super::air::check(case);
    }
    if removed <= NOTHING_MM3 {
        return vec![
            Finding::new(&code::NOTHING_CUT, "the program removes no wood")
                .help("check Z zero, the depth of the passes and that the program was made for this blank"),
        ];
    }
    let rows = &case.carved.rows;
    let mut findings = Vec::new();
    if case.drawing.thread == Threading::Later {
        outside::parted(case, rows, &mut findings);
        return findings;
    }
    let Some(thread) = follow(rows) else {
        findings.push(
            Finding::new(
                &code::STARTS_WRONG,
                "the wood bears no thread that can be followed round the blank",
            )
            .help("see the sizes of the job and the depth of the passes"),
        );
        return findings;
    };
    let gauge = Gauge::of(case, &thread);
    gauge.kind(measured, &mut findings);
    gauge.place(measured, uncertainty, &mut findings);
    gauge.depth(measured, uncertainty, &mut findings);
    gauge.crest(rows, measured, uncertainty, &mut findings);
    gauge.form(measured, uncertainty, &mut findings);
    gauge.flanks(measured, uncertainty);
    gauge.length(rows, measured, uncertainty, &mut findings);
    outside::plain(case, rows, &mut findings);
    outside::parted(case, rows, &mut findings);
    findings
}

/// Less wood than this is nothing, mm³.
const NOTHING_MM3: f64 = 1.0;

pub(super) struct Gauge<'a> {
    pub(super) case: &'a Case<'a>,
    pub(super) thread: &'a Thread<'a>,
    /// Station of the last groove at full depth of each start, if it has any.
    pub(super) ends: Vec<Option<f64>>,
    sure: Sure<'a>,
}

impl<'a> Gauge<'a> {
    fn of(case: &'a Case<'a>, thread: &'a Thread<'a>) -> Gauge<'a> {
        let end_of = |start: usize| full_end(case.drawing, thread, start);
        let sure = Sure::of(case.carved.grid, case.threader, case.drawing);
        Gauge { case, thread, ends: (0..thread.starts).map(end_of).collect(), sure }
    }

    pub(super) fn drawing(&self) -> &Drawing {
        self.case.drawing
    }

    /// Grooves that must be at full depth: inside the full thread by four degrees' worth of lead at the head, since
    /// the cutter has cut a groove to its depth only a moment after it has crossed a row. Where a start ends too soon,
    /// up to its end: the length tells the rest.
    fn full(&self) -> impl Fn(&Placed<'_>) -> bool {
        let from = self.drawing().full_from_s_mm;
        let drawing = self.drawing();
        // A groove that runs into the relief is no whole groove.
        let half = drawing.section.last().map_or(0.0, |point| point.half_width_mm);
        let into_relief = if drawing.ends_in_relief { half + self.case.carved.grid.step_mm } else { 0.0 };
        let to = drawing.full_to_s_mm - (drawing.lead_mm / 90.0).max(into_relief);
        move |placed| {
            let end = self.ends[placed.start].unwrap_or(to).min(to);
            (from..=end).contains(&placed.groove.middle)
        }
    }

    fn kind(&self, measured: &mut Measured, findings: &mut Vec<Finding>) {
        let starts = self.thread.starts as u32;
        measured.starts = Some(starts);
        measured.hand = Some(self.thread.hand);
        let wanted = self.drawing();
        if self.thread.hand != wanted.hand {
            let (hand, want) = (self.thread.hand.name(), wanted.hand.name());
            findings.push(
                Finding::new(
                    &code::HAND_WRONG,
                    format!("the thread is {hand}-hand, the drawing wants {want}-hand"),
                )
                .help(
                    "check which way A turns the blank on this machine (headstock.a_plus) and jog it by hand",
                ),
            );
        }
        if starts != wanted.starts {
            findings.push(
                Finding::new(
                    &code::STARTS_WRONG,
                    format!(
                        "the wood bears {starts} thread(s) side by side, the drawing wants {}",
                        wanted.starts
                    ),
                )
                .values(f64::from(starts), f64::from(wanted.starts))
                .help("a start is missing, or two run in the same groove"),
            );
        }
    }

    fn place(&self, measured: &mut Measured, uncertainty: &mut Uncertainty, findings: &mut Vec<Finding>) {
        let wanted = self.drawing();
        let Some(found) = lay(self.thread, wanted.lead_mm, self.full()) else {
            return;
        };
        let error = self.sure.place();
        measured.lead_mm = Some(found.lead);
        measured.lead_error_max_mm = Some(found.lead_error);
        measured.index_error_max_deg = Some(found.index_error_deg);
        let turns = ((wanted.full_to_s_mm - wanted.full_from_s_mm) / wanted.lead_mm).max(1.0);
        uncertainty.lead_mm = Some(2.0 * error / turns);
        uncertainty.lead_error_max_mm = Some(2.0 * error);
        uncertainty.index_error_max_deg = Some(2.0 * error / wanted.lead_mm * 360.0);
        self.judge_place(&found, findings);
    }

    fn judge_place(&self, found: &Lay, findings: &mut Vec<Finding>) {
        let wanted = self.drawing();
        let passes = wanted.passes;
        if (found.lead - wanted.lead_mm).abs() > passes.lead_mm || found.lead_error > passes.lead_mm {
            let [s, theta] = found.lead_error_at;
            let place = wanted.unit.show(found.lead_error);
            let message = if (found.lead - wanted.lead_mm).abs() > passes.lead_mm {
                let (lead, want) = (wanted.unit.show(found.lead), wanted.unit.show(wanted.lead_mm));
                format!(
                    "the lead is {lead}, the drawing wants {want}; a groove stands {place} from its place"
                )
            } else {
                format!("the lead is right, but a groove stands {place} from its place on the helix")
            };
            findings.push(
                Finding::new(&code::LEAD_OFF, message)
                    .values(found.lead, wanted.lead_mm)
                    .spot(on_wood(s, theta, None))
                    .help("X and A of every pass must keep the same ratio"),
            );
        }
        if found.index_error_deg > passes.index_deg {
            findings.push(
                Finding::new(
                    &code::INDEX_OFF,
                    format!(
                        "start {} stands {:.2} degrees from its place among the starts",
                        found.index_start + 1,
                        found.index_error_deg
                    ),
                )
                .values(found.index_error_deg, 0.0)
                .help(format!("turn the blank by exactly 360 / {} degrees between starts", wanted.starts)),
            );
        }
    }

    fn depth(&self, measured: &mut Measured, uncertainty: &mut Uncertainty, findings: &mut Vec<Finding>) {
        let full = self.full();
        let grooves = || self.thread.grooves.iter().filter(|placed| full(placed));
        let by_root = |a: &&Placed<'_>, b: &&Placed<'_>| a.groove.root.total_cmp(&b.groove.root);
        let (Some(deepest), Some(shallowest)) = (grooves().min_by(by_root), grooves().max_by(by_root)) else {
            return;
        };
        let wanted = self.drawing();
        let root = wanted.root_diameter_mm / 2.0;
        measured.root_diameter_mm = Some(2.0 * deepest.groove.root);
        measured.root_variation_mm = Some(shallowest.groove.root - deepest.groove.root);
        uncertainty.root_variation_mm = Some(2.0 * self.sure.root());
        uncertainty.root_diameter_mm = Some(2.0 * self.sure.root());
        let spot =
            |placed: &Placed<'_>| on_wood(placed.groove.middle, placed.angle, Some(placed.groove.root));
        if root - deepest.groove.root > wanted.passes.radius_mm {
            findings.push(
                Finding::new(
                    &code::DEPTH_OFF,
                    format!(
                        "the root is cut to diameter {}, the drawing wants {}",
                        wanted.unit.show(2.0 * deepest.groove.root),
                        wanted.unit.show(wanted.root_diameter_mm)
                    ),
                )
                .values(2.0 * deepest.groove.root, wanted.root_diameter_mm)
                .spot(spot(deepest))
                .help("check the Z of the deepest pass and where Z0 lies"),
            );
        }
        if shallowest.groove.root - root > wanted.passes.radius_mm {
            let start = shallowest.start + 1;
            findings.push(
                Finding::new(
                    &code::WOOD_LEFT,
                    format!(
                        "thread {start} of {} stands {} short of its root",
                        self.thread.starts,
                        wanted.unit.show(shallowest.groove.root - root)
                    ),
                )
                .values(2.0 * shallowest.groove.root, wanted.root_diameter_mm)
                .spot(spot(shallowest))
                .help("a pass is missing or too shallow"),
            );
        }
    }

    fn crest(
        &self,
        rows: &[RowSeen],
        measured: &mut Measured,
        uncertainty: &mut Uncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let wanted = self.drawing();
        let full = self.full();
        // Grooves that run into each other leave no crest to speak of.
        let pitch = wanted.lead_mm / f64::from(wanted.starts);
        let flat_of = |placed: &Placed<'_>| {
            Some(placed.next_edge? - placed.groove.edges?[1]).filter(|flat| -pitch < *flat)
        };
        let narrowest = self
            .thread
            .grooves
            .iter()
            .filter(|placed| full(placed) && placed.groove.middle + wanted.lead_mm < wanted.full_to_s_mm)
            .filter_map(|placed| Some((flat_of(placed)?, placed)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((flat, placed)) = narrowest {
            measured.crest_flat_mm = Some(flat);
            uncertainty.crest_flat_mm = Some(self.sure.crest_flat(wanted));
            if wanted.crest_flat_mm - flat > wanted.passes.crest_flat_mm {
                findings.push(
                    Finding::new(
                        &code::CREST_THIN,
                        format!(
                            "the crest is {} wide at its narrowest, the drawing wants {}",
                            wanted.unit.show(flat.max(0.0)),
                            wanted.unit.show(wanted.crest_flat_mm)
                        ),
                    )
                    .values(flat, wanted.crest_flat_mm)
                    .spot(on_wood(placed.groove.middle, placed.angle, None))
                    .help("the grooves are too wide, too deep or too near each other"),
                );
            }
        }
        self.crest_height(measured, uncertainty, findings);
        let highest = rows.iter().max_by(|a, b| a.highest[0].total_cmp(&b.highest[0]));
        findings.extend(highest.and_then(|row| self.proud(row)));
    }

    /// Wood that stands over the crests. Where it still stands as high as the blank did, nobody turned it.
    fn proud(&self, row: &RowSeen) -> Option<Finding> {
        let wanted = self.drawing();
        let [radius, s] = row.highest;
        let proud = radius - wanted.crest_diameter_mm / 2.0;
        if proud <= wanted.passes.radius_mm {
            return None;
        }
        let stood = stock::greatest_radius(&self.case.setup.blank) - wanted.crest_diameter_mm / 2.0;
        let uncut = wanted.thread == Threading::Here && UNTURNED_SHARE * stood < proud;
        let shown = wanted.unit.show(proud);
        let round = self.case.setup.blank.shape == BlankShape::Round;
        let (code, words) = match (uncut, round) {
            (true, true) => {
                (&code::BLANK_UNTURNED, format!("the blank still stands {shown} over the crests"))
            }
            (true, false) => {
                (&code::BLANK_UNTURNED, format!("the blank's corners still stand {shown} over the crests"))
            }
            (false, _) => (&code::WOOD_LEFT, format!("wood stands {shown} proud of the crest")),
        };
        let finding = Finding::new(code, words)
            .values(2.0 * radius, wanted.crest_diameter_mm)
            .spot(on_wood(s, row.angle, Some(radius)))
            .help("bring the blank to the crest diameter before the thread is cut");
        let cuts = self.case.carved.cuts.iter().position(|cut| cut.deepest_mm > TOUCH_MM);
        let first = cuts.filter(|_| uncut).map(|at| self.case.motions[at].span.clone());
        Some(finding.at_some(first.map(|span| Mark::new(self.case.program, span)).as_ref()))
    }

    /// Height of the crests between neighbouring grooves.
    fn crest_height(
        &self,
        measured: &mut Measured,
        uncertainty: &mut Uncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let wanted = self.drawing();
        let full = self.full();
        let crests = || {
            let placed = self.thread.grooves.iter().filter(|placed| full(placed));
            placed.filter_map(|placed| Some((placed.groove.crest?, placed)))
        };
        let most = crests().map(|([_, most], _)| most).reduce(f64::max);
        measured.crest_diameter_mm = most.map(|radius| 2.0 * radius);
        uncertainty.crest_diameter_mm = most.map(|_| 2.0 * SINGLE_PRECISION_MM);
        let lowest = crests().min_by(|a, b| a.0[0].total_cmp(&b.0[0]));
        if let Some(([least, _], placed)) = lowest
            && wanted.crest_diameter_mm / 2.0 - least > wanted.passes.radius_mm
        {
            let depth = wanted.unit.show(wanted.crest_diameter_mm / 2.0 - least);
            findings.push(
                Finding::new(&code::WOOD_GONE, format!("the crest is cut {depth} deep"))
                    .values(2.0 * least, wanted.crest_diameter_mm)
                    .spot(on_wood(placed.groove.middle, placed.angle, Some(least)))
                    .help("a move runs over the crest"),
            );
        }
    }

    fn form(&self, measured: &mut Measured, uncertainty: &mut Uncertainty, findings: &mut Vec<Finding>) {
        let full = self.full();
        let worst = self
            .thread
            .grooves
            .iter()
            .filter(|placed| full(placed))
            .filter_map(|placed| Some((placed.groove.form?, placed)))
            .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
        let Some((form, placed)) = worst else {
            return;
        };
        measured.form_error_max_mm = Some(form.abs());
        uncertainty.form_error_max_mm = Some(self.sure.form());
        if form.abs() > self.drawing().passes.form_mm {
            let what = if form > 0.0 { "too full" } else { "cut too wide" };
            findings.push(
                Finding::new(
                    &code::FORM_OFF,
                    format!(
                        "the groove is {what}: {} off the drawn section",
                        self.drawing().unit.show(form.abs())
                    ),
                )
                .values(form, 0.0)
                .spot(on_wood(placed.groove.middle, placed.angle, None))
                .help("check that the cutter in the collet is the one in the job"),
            );
        }
    }

    fn flanks(&self, measured: &mut Measured, uncertainty: &mut Uncertainty) {
        let full = self.full();
        let angles: Vec<[f64; 2]> = self
            .thread
            .grooves
            .iter()
            .filter(|placed| full(placed))
            .filter_map(|placed| placed.groove.flanks_deg)
            .collect();
        if angles.is_empty() {
            return;
        }
        let mean = |side: usize| angles.iter().map(|pair| pair[side]).sum::<f64>() / angles.len() as f64;
        (measured.flank_nose_deg, measured.flank_head_deg) = (Some(mean(0)), Some(mean(1)));
        let sure = self.sure.flank_deg(self.drawing());
        (uncertainty.flank_nose_deg, uncertainty.flank_head_deg) = (Some(sure), Some(sure));
    }
}

/// A place on the wood.
pub(super) fn on_wood(s_mm: f64, theta_rad: f64, r_mm: Option<f64>) -> Spot {
    Spot {
        s_mm: Some(s_mm),
        theta_deg: Some(theta_rad.to_degrees().rem_euclid(360.0)),
        r_mm,
        ..Spot::default()
    }
}
