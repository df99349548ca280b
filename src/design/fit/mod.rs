//! Whether a screw and its nut stay free through the year: what each season does to their gaps, which clearances the two
//! woods need, and how the nut's board should be sawn.
//!
//! The parts move freely, each evenly moist, the nut's thread is the screw's with the clearances added. The radial gap
//! stands at the crests and in the bore, the flank gap is measured along the axis at each flank, the screw centred.

mod gap;
mod judge;
mod pair;
#[cfg(test)]
mod tests;

pub use gap::{Growth, Points, drift};

use serde::Serialize;

use super::Screw;
use crate::finding::Finding;
use crate::job::{Job, NutAsked};
use crate::setup;
use crate::units::LengthUnit;
use crate::wood::{Board, Movement, Season, change};
use pair::Pair;

/// Least gap on the radius that must be left at the tightest: 0.05 mm of each part, which is what a proof lets pass in a
/// radius.
pub const LEAST_RADIAL_MM: f64 = 0.10;
/// Least gap that must be left at a flank at the tightest: as much, since flanks of screw and nut are cut no closer.
pub const LEAST_FLANK_MM: f64 = 0.10;
/// Clearances that are chosen are rounded up to whole ones of these: finer is not set in wood.
const STEP_MM: f64 = 0.05;
/// The same in a job in inches.
const STEP_INCH: f64 = 0.002;

/// What may come, measured from when both were cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum When {
    /// Nothing has changed yet.
    AsCut,
    /// Both have come to the moisture of the wet season.
    BothWet,
    /// Both have come to the moisture of the dry season.
    BothDry,
    /// The screw is wet already, the nut still as cut.
    ScrewWetFirst,
    /// The nut is wet already, the screw still as cut.
    NutWetFirst,
    /// The screw is dry already, the nut still as cut.
    ScrewDryFirst,
    /// The nut is dry already, the screw still as cut (oiled, say).
    NutDryFirst,
    /// A bound: the screw is wet, the nut still dry from the season before.
    ScrewWetNutDry,
    /// A bound: the screw is dry, the nut still wet from the season before.
    ScrewDryNutWet,
}

impl When {
    /// The cases that a pair has to bear.
    pub const EXPECTED: [When; 7] = [
        When::AsCut,
        When::BothWet,
        When::BothDry,
        When::ScrewWetFirst,
        When::NutWetFirst,
        When::ScrewDryFirst,
        When::NutDryFirst,
    ];
    /// The cases that nothing goes beyond: one part is a whole season behind the other. Thick parts lag, but then they
    /// see only the average of the seasons, so a pair need not bear these.
    pub const BOUNDS: [When; 2] = [When::ScrewWetNutDry, When::ScrewDryNutWet];

    /// Words for a line of a table.
    pub fn words(self) -> &'static str {
        match self {
            When::AsCut => "as cut",
            When::BothWet => "both wet",
            When::BothDry => "both dry",
            When::ScrewWetFirst => "screw wet, nut not yet",
            When::NutWetFirst => "nut wet, screw not yet",
            When::ScrewDryFirst => "screw dry, nut not yet",
            When::NutDryFirst => "nut dry, screw not yet",
            When::ScrewWetNutDry => "bound: screw wet, nut dry",
            When::ScrewDryNutWet => "bound: screw dry, nut wet",
        }
    }

    /// The change of moisture that it means.
    pub fn points(self, season: &Season) -> Points {
        let wet = season.wet.percent - season.cutting.percent;
        let dry = season.dry.percent - season.cutting.percent;
        let [screw, nut] = match self {
            When::AsCut => [0.0, 0.0],
            When::BothWet => [wet, wet],
            When::BothDry => [dry, dry],
            When::ScrewWetFirst => [wet, 0.0],
            When::NutWetFirst => [0.0, wet],
            When::ScrewDryFirst => [dry, 0.0],
            When::NutDryFirst => [0.0, dry],
            When::ScrewWetNutDry => [wet, dry],
            When::ScrewDryNutWet => [dry, wet],
        };
        Points { screw, nut }
    }
}

/// The two clearances of a nut, as cut.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Clearance {
    /// On the radius, at the crests and in the bore.
    pub radial_mm: f64,
    /// At each flank, along the axis.
    pub flank_mm: f64,
}

/// Gaps in one case. A negative gap is wood in the way of wood.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gaps {
    /// The case.
    pub when: When,
    /// Least gap on the radius at the crests.
    pub crest_least_mm: f64,
    /// Greatest.
    pub crest_most_mm: f64,
    /// Least gap at a flank.
    pub flank_least_mm: f64,
    /// How far the nut can be moved along the screw, the screw turned as badly as it can.
    pub play_least_mm: f64,
    /// The same with the screw turned as well as it can.
    pub play_most_mm: f64,
    /// Least gap at the crests if the boards move by [`SCATTER`](crate::wood::SCATTER) more or less than their species.
    pub crest_least_lively_mm: f64,
    /// Least gap at a flank, likewise.
    pub flank_least_lively_mm: f64,
    /// Greatest play, likewise.
    pub play_most_lively_mm: f64,
}

/// What a way of sawing the nut's board asks for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BoardNeed {
    /// The way.
    pub board: Board,
    /// The clearances that keep it free on lively boards too.
    pub needed: Clearance,
    /// How much longer the nut's thread gets than the screw's from the dry to the wet season, over the engaged length.
    pub drift_mm: f64,
    /// How much the hole is out of round in the season farther from when it was cut, on the diameter.
    pub hole_oval_mm: f64,
}

/// Diameters at one time, of the screw over the crests and of the nut over its grooves.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SizesThen {
    /// Moisture, percent.
    pub moisture_percent: f64,
    /// Screw, square to the rings.
    pub screw_radial_mm: f64,
    /// Screw, along the rings.
    pub screw_tangential_mm: f64,
    /// Nut, along its grain.
    pub nut_along_mm: f64,
    /// Nut, across its grain.
    pub nut_across_mm: f64,
    /// What was the engaged length of the nut's thread when it was cut.
    pub nut_length_mm: f64,
}

/// Whether the pair stays free.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Also on boards that move more than their species.
    Free,
    /// On average boards only.
    Tight,
    /// Not even on average boards.
    Binds,
}

/// Everything about the fit of a screw and its nut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fit {
    /// Moistures.
    pub season: Season,
    /// Movement of the screw's wood.
    pub screw: Movement,
    /// Movement of the nut's wood.
    pub nut: Movement,
    /// How the nut's board is sawn.
    pub board: Board,
    /// Length of thread in the nut.
    pub engaged_mm: f64,
    /// The clearances as cut: those of the job, or chosen.
    pub clearance: Clearance,
    /// Whether the radial one was chosen here.
    pub radial_chosen: bool,
    /// Whether the flank one was chosen here.
    pub flank_chosen: bool,
    /// Whether the pair stays free.
    pub verdict: Verdict,
    /// Gaps in every case that is to be expected.
    pub gaps: Vec<Gaps>,
    /// Gaps that nothing goes beyond; they do not count in the verdict.
    pub bounds: Vec<Gaps>,
    /// What each way of sawing the nut asks for, the best first.
    pub boards: Vec<BoardNeed>,
    /// Sizes as cut, in the dry and in the wet season.
    pub sizes: [SizesThen; 3],
    /// Diameter over the nut's grooves, to be cut.
    pub nut_major_diameter_mm: f64,
    /// Diameter of the nut's bore, to be cut.
    pub nut_bore_diameter_mm: f64,
    /// Width of the nut's groove at the screw's pitch line, along the axis, to be cut.
    pub nut_groove_mm: f64,
    /// Depth over which the threads overlap at the loosest.
    pub overlap_least_mm: f64,
}

impl Fit {
    /// The case with the least gap at a flank.
    pub fn tightest(&self) -> &Gaps {
        self.least_by(|gaps| gaps.flank_least_mm)
    }

    /// The case with the most play.
    pub fn loosest(&self) -> &Gaps {
        self.least_by(|gaps| -gaps.play_most_mm)
    }

    /// The least gap at the crests of all cases.
    pub fn crest_least(&self) -> &Gaps {
        self.least_by(|gaps| gaps.crest_least_mm)
    }

    /// What the board of the job asks for.
    pub fn need(&self) -> &BoardNeed {
        self.boards.iter().find(|need| need.board == self.board).unwrap_or(&self.boards[0])
    }

    /// The states of both woods that the pair has to bear, as growth of average boards since both were cut.
    pub fn seasons(&self) -> Vec<setup::Season> {
        let (screw, nut, board) = (&self.screw, &self.nut, self.board);
        let state = |when: When| {
            let points = when.points(&self.season);
            setup::Season {
                name: when.words().to_owned(),
                screw: setup::ScrewGrowth {
                    radial: change(1.0, screw.radial, points.screw),
                    tangential: change(1.0, screw.tangential, points.screw),
                    along: change(1.0, screw.along, points.screw),
                },
                nut: setup::NutGrowth {
                    along: change(1.0, nut.along, points.nut),
                    across: change(1.0, nut.across(board), points.nut),
                    through: change(1.0, nut.through(board), points.nut),
                },
            }
        };
        When::EXPECTED.map(state).to_vec()
    }

    fn least_by(&self, key: impl Fn(&Gaps) -> f64) -> &Gaps {
        let first = &self.gaps[0];
        self.gaps.iter().fold(first, |least, gaps| if key(gaps) < key(least) { gaps } else { least })
    }
}

/// Rounds a clearance up to what is set in wood.
fn round_up_mm(clearance_mm: f64, unit: LengthUnit) -> f64 {
    let step_mm = match unit {
        LengthUnit::Mm => STEP_MM,
        LengthUnit::Inch => STEP_INCH * unit.mm(),
    };
    (clearance_mm / step_mm).ceil() * step_mm
}

/// Works out the fit of a job's screw and nut.
///
/// Returns it unless the job lacks the year, the nut or the movement of a wood, and everything that is to be said about
/// it. Clearances that the job leaves open are chosen.
pub fn fit(job: &Job, screw: &Screw) -> (Option<Fit>, Vec<Finding>) {
    let (ready, mut findings) = judge::ready(job);
    let Some((season, nut, movements)) = ready else {
        return (None, findings);
    };
    let fit = work_out(job, screw, season, nut, movements);
    findings.extend(judge::of(job, screw, &fit));
    (Some(fit), findings)
}

fn work_out(job: &Job, screw: &Screw, season: Season, nut: &NutAsked, movements: [Movement; 2]) -> Fit {
    let pair = Pair {
        crest_mm: screw.crest_radius_mm,
        root_mm: screw.root_radius_mm,
        slope: screw.flank_axial_deg.to_radians().tan(),
        engaged_mm: nut.length_mm.min(job.screw.thread_length_mm),
        screw: movements[0],
        nut: movements[1],
        season,
    };
    let board = nut.board;
    let needed = pair.needed(board);
    let flank_mm = nut.flank_clearance_mm.unwrap_or_else(|| round_up_mm(needed.flank_mm, job.unit));
    let radial_mm = nut
        .radial_clearance_mm
        .unwrap_or_else(|| round_up_mm(needed.radial_mm.max(pair.relief_mm(flank_mm)), job.unit));
    let clearance = Clearance { radial_mm, flank_mm };
    let gaps: Vec<Gaps> = When::EXPECTED.map(|when| pair.gaps(board, when, clearance)).to_vec();
    let mut boards = Board::ALL.map(|board| pair.need(board)).to_vec();
    boards.sort_by(|a, b| a.needed.flank_mm.total_cmp(&b.needed.flank_mm));
    let nut_major_diameter_mm = 2.0 * (screw.crest_radius_mm + radial_mm);
    let widest = gaps.iter().fold(radial_mm, |most, gaps| most.max(gaps.crest_most_mm));
    Fit {
        season,
        screw: pair.screw,
        nut: pair.nut,
        board,
        engaged_mm: pair.engaged_mm,
        clearance,
        radial_chosen: nut.radial_clearance_mm.is_none(),
        flank_chosen: nut.flank_clearance_mm.is_none(),
        verdict: judge::verdict(&gaps),
        bounds: When::BOUNDS.map(|when| pair.gaps(board, when, clearance)).to_vec(),
        boards,
        sizes: [season.cutting, season.dry, season.wet]
            .map(|then| pair.sizes_then(board, then.percent, nut_major_diameter_mm)),
        nut_major_diameter_mm,
        nut_bore_diameter_mm: 2.0 * (screw.root_radius_mm + radial_mm),
        nut_groove_mm: job.screw.pitch_mm / 2.0 + 2.0 * flank_mm,
        overlap_least_mm: screw.depth_mm - widest,
        gaps,
    }
}
