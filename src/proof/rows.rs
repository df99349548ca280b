//! What is read off one finished row of the blank: the grooves that cross it, their depth and shape, and wood that
//! stands or lacks where it should not. Works from radii only. Lengths in mm, angles in radians.

use crate::drawing::{Drawing, Threading};
use crate::stock::{Grid, Row};

use super::depth_mm;
use super::turned::{self, StretchSeen};

/// One groove where it crosses a row.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Groove {
    /// Station of its middle, halfway between its flanks at half depth.
    pub(crate) middle: f64,
    /// Least radius.
    pub(crate) root: f64,
    /// Stations at which its flanks, carried on straight, meet the crest radius: left and right.
    pub(crate) edges: Option<[f64; 2]>,
    /// Angle of each flank against the radius, degrees: towards the nose and towards the head.
    pub(crate) flanks_deg: Option<[f64; 2]>,
    /// Largest deviation from the drawn section, square to it, if it was looked at.
    pub(crate) form: Option<f64>,
    /// Least and largest radius of the crest between this groove and the next, where it is wider than two cells.
    pub(crate) crest: Option<[f64; 2]>,
}

/// What a row shows.
#[derive(Clone, Debug)]
pub(crate) struct RowSeen {
    /// Angle on the blank.
    pub(crate) angle: f64,
    /// Grooves from the nose towards the head.
    pub(crate) grooves: Vec<Groove>,
    /// Where the piece is thinnest against what it must keep: radius, station, and what it must keep there.
    pub(crate) thinnest: [f64; 3],
    /// Largest radius between nose and head, and its station.
    pub(crate) highest: [f64; 2],
    /// Least radius in the plain part behind the run-out, and its station, if there is such a part.
    pub(crate) lowest_plain: Option<[f64; 2]>,
    /// Station of the last cut towards the head.
    pub(crate) last_cut: Option<f64>,
    /// What is turned or milled beside the thread, a stretch of the drawing each.
    pub(crate) turned: Vec<StretchSeen>,
}

/// The drawn section, ready to be asked for the radius at a distance from the groove's middle.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    step: f64,
    radius: Vec<f64>,
    /// Share of a radial deviation that stands square to the section.
    square: Vec<f64>,
}

/// Cells of the table of the drawn section: a section of 10 mm is then kept at 5 thousandths of a millimetre, between
/// which it is read linearly.
const SECTION_CELLS: usize = 2048;

impl Wanted {
    pub(crate) fn of(drawing: &Drawing) -> Wanted {
        let half = drawing.lead_mm / f64::from(drawing.starts) / 2.0;
        let step = half / SECTION_CELLS as f64;
        let radius: Vec<f64> = (0..=SECTION_CELLS).map(|i| drawn_radius(drawing, i as f64 * step)).collect();
        let square = (0..=SECTION_CELLS)
            .map(|i| {
                let (a, b) = (i.saturating_sub(1), (i + 1).min(SECTION_CELLS));
                let slope = (radius[b] - radius[a]) / ((b - a) as f64 * step);
                1.0 / 1.0_f64.hypot(slope)
            })
            .collect();
        Wanted { step, radius, square }
    }

    /// Deviation of a radius at a distance from the middle, square to the section; positive where wood is left.
    fn deviation(&self, from_middle: f64, radius: f64) -> f64 {
        let at = from_middle.abs() / self.step;
        let i = (at as usize).min(SECTION_CELLS - 1);
        let want = self.radius[i] + (self.radius[i + 1] - self.radius[i]) * (at - i as f64).min(1.0);
        // The gentler of the two slopes next to a corner: a shift of the corner then counts in full.
        (radius - want) * self.square[i].min(self.square[i + 1])
    }
}

/// Radius of the drawn groove at a distance from its middle; the crest radius beyond it.
fn drawn_radius(drawing: &Drawing, from_middle: f64) -> f64 {
    let crest = drawing.crest_diameter_mm / 2.0;
    let points = &drawing.section;
    let Some(first) = points.first() else {
        return crest;
    };
    if from_middle <= first.half_width_mm {
        return first.r_mm;
    }
    let above = points.partition_point(|point| point.half_width_mm < from_middle);
    let Some(b) = points.get(above) else {
        return crest;
    };
    let a = points[above - 1];
    let share = (from_middle - a.half_width_mm) / (b.half_width_mm - a.half_width_mm);
    a.r_mm + (b.r_mm - a.r_mm) * share
}

/// How the bottom of a groove is found on a grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Bottom {
    /// The floor is wide enough that a station must lie on it.
    Met,
    /// It is round: the parabola through the three lowest stations finds it.
    Round,
    /// It lies between two stations: the flanks, carried on straight to where they are this far from the middle, find
    /// it.
    Between {
        /// Half the width of the floor.
        half_width: f64,
    },
}

/// Station from which the part behind the run-out must be plain.
pub(super) fn plain_from_mm(drawing: &Drawing) -> f64 {
    let reach = drawing.section.last().map_or(0.0, |point| point.half_width_mm);
    drawing.run_out_to_s_mm + reach + PLAIN_MARGIN_MM
}

/// Reader of rows for one drawing and grid.
pub(crate) struct Reader<'a> {
    pub(crate) drawing: &'a Drawing,
    pub(crate) grid: Grid,
    pub(crate) wanted: Wanted,
    /// How the bottom of a groove is found.
    pub(crate) bottom: Bottom,
}

/// Share of the depth below the crest at which the middle of a groove is taken.
const MIDDLE_SHARE: f64 = 0.5;
/// Shares of the depth below the crest at which a flank is read: between the first two it is carried on to the crest,
/// between the first and the last its angle is taken.
pub(super) const FLANK_SHARES: [f64; 3] = [0.1, 0.3, 0.8];
/// Less than this below the crest is no cut, mm.
const CUT_MM: f64 = 0.02;
/// Play between the end of the run-out and the plain part that is looked at, mm: the round of the cutter reaches
/// that far at the surface.
const PLAIN_MARGIN_MM: f64 = 1.0;

impl Reader<'_> {
    /// Reads a row; `form` says whether the shape of the grooves is compared as well.
    pub(crate) fn read(&self, row: Row<'_>, form: bool) -> RowSeen {
        let crest = self.drawing.crest_diameter_mm / 2.0;
        let depth = depth_mm(self.drawing);
        let level = crest - MIDDLE_SHARE * depth;
        let radii = row.radii_mm;
        let [from, to] = self.drawing.read_s_mm;
        // Before the thread is cut no wood crosses its levels for a reason.
        let unread = matches!(self.drawing.thread, Threading::Later | Threading::Air);
        let to = if unread { f64::NEG_INFINITY } else { to };
        let columns = self.grid.columns(from.max(self.grid.from_s_mm), to);
        let mut grooves = Vec::new();
        let mut open: Option<f64> = None;
        // Nearly every pair of stations lies on one side of the level, so that is asked first and in single precision.
        let fine_level = level;
        let level = level as f32;
        for (index, pair) in radii[columns.clone()].windows(2).enumerate() {
            if (pair[0] > level) == (pair[1] > level) {
                continue;
            }
            let at =
                self.crossing(columns.start + index + 1, f64::from(pair[0]), f64::from(pair[1]), fine_level);
            if pair[0] > level {
                open = Some(at);
            } else if let Some(left) = open.take() {
                grooves.push(self.groove(radii, left, at, [crest, depth], form));
            }
        }
        self.crests(radii, &mut grooves);
        RowSeen {
            angle: row.angle_rad,
            thinnest: self.thinnest(radii),
            turned: turned::read(self.drawing, &self.grid, row),
            grooves,
            highest: self.extreme(radii, 0.0, self.drawing.head_s_mm, f32::max).unwrap_or([0.0, 0.0]),
            lowest_plain: self.lowest_plain(radii),
            last_cut: self.last_cut(radii, crest),
        }
    }

    /// Where the surface passes a level between a column and the one before it.
    fn crossing(&self, column: usize, before: f64, here: f64, level: f64) -> f64 {
        self.grid.station_mm(column - 1) + self.grid.step_mm * (level - before) / (here - before)
    }

    fn groove(&self, radii: &[f32], left: f64, right: f64, [crest, depth]: [f64; 2], form: bool) -> Groove {
        let middle = f64::midpoint(left, right);
        let columns = self.grid.columns(left, right);
        let lowest = columns.clone().min_by(|&a, &b| radii[a].total_cmp(&radii[b])).unwrap_or(columns.start);
        let levels = FLANK_SHARES.map(|share| crest - share * depth);
        let flanks = self.flank(radii, lowest, false, levels).zip(self.flank(radii, lowest, true, levels));
        let edges = flanks.map(|(left, right)| {
            [left, right]
                .map(|[high, low, _]| high + (high - low) / (levels[0] - levels[1]) * (crest - levels[0]))
        });
        let flanks_deg = flanks.map(|(left, right)| {
            [left, right]
                .map(|[high, _, deep]| ((high - deep).abs() / (levels[0] - levels[2])).atan().to_degrees())
        });
        let form = form.then(|| self.form(radii, middle, edges));
        let root = self.root(radii, lowest, flanks, levels);
        Groove { middle, root, edges, flanks_deg, form, crest: None }
    }

    /// Reads the crests between neighbouring grooves, a cell inside their edges.
    fn crests(&self, radii: &[f32], grooves: &mut [Groove]) {
        for index in 1..grooves.len() {
            let (Some([_, from]), Some([to, _])) = (grooves[index - 1].edges, grooves[index].edges) else {
                continue;
            };
            let step = self.grid.step_mm;
            let least = self.extreme(radii, from + step, to - step, f32::min);
            let most = self.extreme(radii, from + step, to - step, f32::max);
            grooves[index - 1].crest = least.zip(most).map(|(least, most)| [least[0], most[0]]);
        }
    }

    /// Radius at the bottom of a groove.
    fn root(
        &self,
        radii: &[f32],
        lowest: usize,
        flanks: Option<([f64; 3], [f64; 3])>,
        levels: [f64; 3],
    ) -> f64 {
        let least = f64::from(radii[lowest]);
        match (self.bottom, flanks) {
            (Bottom::Round, _) if 0 < lowest && lowest + 1 < radii.len() => {
                let (before, after) = (f64::from(radii[lowest - 1]), f64::from(radii[lowest + 1]));
                let bend = before - 2.0 * least + after;
                if bend > 0.0 { least - (before - after).powi(2) / (8.0 * bend) } else { least }
            }
            (Bottom::Between { half_width }, Some((left, right))) => {
                let half_at = |level: usize| (right[level] - left[level]) / 2.0;
                let widening = (half_at(1) - half_at(2)) / (levels[1] - levels[2]);
                (levels[2] - (half_at(2) - half_width) / widening).min(least)
            }
            _ => least,
        }
    }

    /// Stations at which a flank passes three levels, counted outwards from the lowest column of the groove.
    fn flank(&self, radii: &[f32], lowest: usize, rightwards: bool, levels: [f64; 3]) -> Option<[f64; 3]> {
        let mut crossings = [None; 3];
        let mut column = lowest;
        while crossings.contains(&None) {
            let next = if rightwards { column + 1 } else { column.checked_sub(1)? };
            let (here, there) = (f64::from(radii[column]), f64::from(*radii.get(next)?));
            for (level, crossing) in levels.iter().zip(&mut crossings) {
                if crossing.is_none() && here <= *level && there > *level {
                    let step = self.grid.step_mm * (level - here) / (there - here);
                    let station = self.grid.station_mm(column);
                    *crossing = Some(if rightwards { station + step } else { station - step });
                }
            }
            column = next;
        }
        let [high, low, deep] = crossings;
        Some([high?, low?, deep?])
    }

    /// The last station towards the head that is cut at all.
    fn last_cut(&self, radii: &[f32], crest: f64) -> Option<f64> {
        let columns = self.grid.columns(0.0, self.drawing.head_s_mm);
        columns
            .rev()
            .find(|&column| f64::from(radii[column]) < crest - CUT_MM)
            .map(|c| self.grid.station_mm(c))
    }

    /// Largest deviation from the drawn section between the two edges.
    fn form(&self, radii: &[f32], middle: f64, edges: Option<[f64; 2]>) -> f64 {
        let Some([left, right]) = edges else {
            return 0.0;
        };
        let mut most = 0.0_f64;
        for column in self.grid.columns(left, right) {
            let off = self.wanted.deviation(self.grid.station_mm(column) - middle, f64::from(radii[column]));
            if off.abs() > most.abs() {
                most = off;
            }
        }
        most
    }

    /// Where the piece is thinnest against the core of the thread, or against what the drawing lets it keep.
    fn thinnest(&self, radii: &[f32]) -> [f64; 3] {
        let root = self.drawing.root_diameter_mm / 2.0;
        let thin = &self.drawing.thin;
        let mut bounds: Vec<f64> = thin.iter().flat_map(|thin| [thin.from_s_mm, thin.to_s_mm]).collect();
        bounds.extend([f64::NEG_INFINITY, f64::INFINITY]);
        bounds.sort_by(f64::total_cmp);
        let parts = bounds.windows(2).map(|pair| {
            let (from, to) = (pair[0], pair[1]);
            let over = thin.iter().filter(|thin| thin.from_s_mm <= from && to <= thin.to_s_mm);
            (from, to, over.map(|thin| thin.r_mm).fold(root, f64::min))
        });
        let least = parts.filter_map(|(from, to, keeps)| {
            let [radius, s_mm] = self.extreme(radii, from, to, f32::min)?;
            Some([radius, s_mm, keeps])
        });
        least.min_by(|a, b| (a[0] - a[2]).total_cmp(&(b[0] - b[2]))).unwrap_or([0.0; 3])
    }

    fn lowest_plain(&self, radii: &[f32]) -> Option<[f64; 2]> {
        if !self.drawing.stretches.is_empty() {
            // The drawing says more about the plain part than that it stands at the crest.
            return None;
        }
        self.extreme(radii, plain_from_mm(self.drawing), self.drawing.head_s_mm, f32::min)
    }

    /// The extreme radius between two stations, and its station.
    fn extreme(&self, radii: &[f32], from: f64, to: f64, of: fn(f32, f32) -> f32) -> Option<[f64; 2]> {
        let columns = self.grid.columns(from, to);
        let extreme = radii[columns.clone()].iter().copied().reduce(of)?;
        let column = columns.clone().find(|&column| radii[column] == extreme)?;
        Some([f64::from(extreme), self.grid.station_mm(column)])
    }
}
