//! A screw in its nut through the year: what each case does to the gaps, what clearances follow, what sizes come out.

use super::gap::{self, Growth, Points, drift};
use super::{BoardNeed, Clearance, Gaps, LEAST_FLANK_MM, LEAST_RADIAL_MM, SizesThen, When};
use crate::wood::{Board, Movement, SCATTER, Season, change};

/// A screw in a nut, their woods and the year.
pub(super) struct Pair {
    pub(super) crest_mm: f64,
    pub(super) root_mm: f64,
    /// Slope of the flank: along the axis per radius.
    pub(super) slope: f64,
    pub(super) engaged_mm: f64,
    pub(super) screw: Movement,
    pub(super) nut: Movement,
    pub(super) season: Season,
}

/// How single boards may differ from their species: (screw, nut). The worst lie at the corners.
const LIVELY: [(f64, f64); 4] = [
    (1.0 - SCATTER, 1.0 - SCATTER),
    (1.0 - SCATTER, 1.0 + SCATTER),
    (1.0 + SCATTER, 1.0 - SCATTER),
    (1.0 + SCATTER, 1.0 + SCATTER),
];

impl Pair {
    /// By how much the gaps change in a case on boards of some liveliness, mm: (least at the crest, most at the crest,
    /// least at a flank, least at a flank with the screw turned well).
    fn changes(&self, board: Board, when: When, lively: (f64, f64)) -> [f64; 4] {
        let points = when.points(&self.season);
        let (screw, nut) = (self.screw.times(lively.0), self.nut.times(lively.1));
        let growth = Growth::of(&screw, &nut, board, points);
        // The nut stands midway, so each of its ends sees half of the drift.
        let drift_mm = drift(&screw, &nut, board, points).abs() * self.engaged_mm / 2.0;
        let flank =
            |growth: f64| self.slope * gap::tighter_mm(growth, self.crest_mm, self.root_mm) - drift_mm;
        [
            self.crest_mm * growth.tightest(),
            self.crest_mm * growth.widest(),
            flank(growth.tightest()),
            flank(growth.tightest_turned_well()),
        ]
    }

    pub(super) fn gaps(&self, board: Board, when: When, clearance: Clearance) -> Gaps {
        let [crest_least, crest_most, flank_least, flank_turned] = self.changes(board, when, (1.0, 1.0));
        let lively = LIVELY.map(|lively| self.changes(board, when, lively));
        let least = |index: usize, start: f64| lively.iter().fold(start, |least, row| least.min(row[index]));
        let turned_most = lively.iter().fold(flank_turned, |most, row| most.max(row[3]));
        let Clearance { radial_mm, flank_mm } = clearance;
        Gaps {
            when,
            crest_least_mm: radial_mm + crest_least,
            crest_most_mm: radial_mm + crest_most,
            flank_least_mm: flank_mm + flank_least,
            play_least_mm: 2.0 * (flank_mm + flank_least),
            play_most_mm: 2.0 * (flank_mm + flank_turned),
            crest_least_lively_mm: radial_mm + least(0, crest_least),
            flank_least_lively_mm: flank_mm + least(2, flank_least),
            play_most_lively_mm: 2.0 * (flank_mm + turned_most),
        }
    }

    /// The clearances that leave the least gaps in the worst case on the liveliest boards. The radial one also keeps
    /// the crests off until the flanks touch, in every season: both gaps change together.
    pub(super) fn needed(&self, board: Board) -> Clearance {
        let bare = Clearance { radial_mm: 0.0, flank_mm: 0.0 };
        let all = When::EXPECTED.map(|when| self.gaps(board, when, bare));
        let flank_mm =
            LEAST_FLANK_MM - all.iter().fold(0.0, |least, gaps| gaps.flank_least_lively_mm.min(least));
        let crest_mm =
            LEAST_RADIAL_MM - all.iter().fold(0.0, |least, gaps| gaps.crest_least_lively_mm.min(least));
        Clearance { radial_mm: crest_mm.max(self.relief_mm(flank_mm)), flank_mm }
    }

    /// The gap at the crests that closes when a gap at the flanks does.
    pub(super) fn relief_mm(&self, flank_mm: f64) -> f64 {
        flank_mm / self.slope
    }

    pub(super) fn need(&self, board: Board) -> BoardNeed {
        let season = &self.season;
        let both = |from: f64, to: f64| Points { screw: to - from, nut: to - from };
        let year = both(season.dry.percent, season.wet.percent);
        let far = [When::BothDry, When::BothWet].map(|when| when.points(season).nut.abs());
        let oval = self.nut.across(board) - self.nut.along;
        BoardNeed {
            board,
            needed: self.needed(board),
            drift_mm: self.engaged_mm * drift(&self.screw, &self.nut, board, year),
            hole_oval_mm: change(2.0 * self.crest_mm, oval, far[0].max(far[1])),
        }
    }

    pub(super) fn sizes_then(&self, board: Board, moisture_percent: f64, nut_mm: f64) -> SizesThen {
        let points = moisture_percent - self.season.cutting.percent;
        let grown = |size: f64, per_point: f64| size + change(size, per_point, points);
        SizesThen {
            moisture_percent,
            screw_radial_mm: grown(2.0 * self.crest_mm, self.screw.radial),
            screw_tangential_mm: grown(2.0 * self.crest_mm, self.screw.tangential),
            nut_along_mm: grown(nut_mm, self.nut.along),
            nut_across_mm: grown(nut_mm, self.nut.across(board)),
            nut_length_mm: grown(self.engaged_mm, self.nut.through(board)),
        }
    }
}
