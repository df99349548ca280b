//! What is read off one finished row of the blank: the grooves that cross it, their depth and shape, and wood that
//! stands or lacks where it should not. Works from radii only. Lengths in mm, angles in radians.

use std::ops::Range;
use std::sync::Arc;

use crate::drawing::{Drawing, Threading};
use crate::stock::{Earlier, Grid, Row};

use super::depth_mm;
use super::kept::Kept;
use super::skyline::Skyline;
use super::turned::{self, Outlines, StretchSeen};

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
    /// Grooves from the nose towards the head; shared with the program before where it found the same.
    pub(crate) grooves: Arc<[Groove]>,
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
    per_step: f64,
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
        Wanted { per_step: 1.0 / step, radius, square }
    }

    /// Deviation of a radius at a distance from the middle, square to the section; positive where wood is left.
    fn deviation(&self, from_middle: f64, radius: f64) -> f64 {
        let at = from_middle.abs() * self.per_step;
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

/// Where one flank of a groove passes the levels it is read at.
#[derive(Clone, Copy, Debug)]
struct Flank {
    /// The two upper levels, the higher first.
    upper: [f64; 2],
    /// The lowest level, if the groove reaches below it.
    deep: Option<f64>,
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
    /// What must stand beside the thread.
    pub(crate) outlines: Outlines,
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
    /// Reads a row; `form` says whether the shape of the grooves is compared as well. What the reader before found on this
    /// row need not be read again where the row is what it was.
    pub(crate) fn read(
        &self,
        row: Row<'_>,
        form: bool,
        known: Option<(Earlier<'_, RowSeen>, &Reader<'_>)>,
    ) -> RowSeen {
        let crest = self.drawing.crest_diameter_mm / 2.0;
        let skyline = Skyline::of(row.radii_mm);
        let columns = self.columns();
        let kept = match known {
            Some((earlier, reader)) if self.reads_like(reader) => {
                self.kept(&earlier, &columns, reader.columns().start)
            }
            _ => Kept::Nothing,
        };
        let grooves = match kept {
            Kept::All(grooves) => Arc::clone(grooves),
            Kept::Last { crest, grooves } => self.grooves(&skyline, columns.start..crest, form, grooves),
            Kept::Nothing => self.grooves(&skyline, columns, form, &[]),
        };
        RowSeen {
            angle: row.angle_rad,
            thinnest: self.thinnest(&skyline),
            turned: turned::read(self.drawing, &self.outlines, &self.grid, &skyline, row.angle_rad),
            grooves,
            highest: self.most(&skyline, [0.0, self.drawing.head_s_mm]).unwrap_or_default(),
            lowest_plain: self.lowest_plain(&skyline),
            last_cut: self.last_cut(&skyline, crest),
        }
    }

    /// Columns in which grooves are looked for. Before the thread is cut no wood crosses its levels for a reason.
    pub(super) fn columns(&self) -> Range<usize> {
        let [from, to] = self.drawing.read_s_mm;
        let unread = matches!(self.drawing.thread, Threading::Later | Threading::Air);
        let to = if unread { f64::NEG_INFINITY } else { to };
        self.grid.columns(from.max(self.grid.from_s_mm), to)
    }

    /// The grooves that cross some columns, and others that are known to follow them.
    fn grooves(
        &self,
        skyline: &Skyline<'_>,
        columns: Range<usize>,
        form: bool,
        others: &[Groove],
    ) -> Arc<[Groove]> {
        let radii = skyline.radii();
        let crest = self.drawing.crest_diameter_mm / 2.0;
        let depth = depth_mm(self.drawing);
        let level = crest - MIDDLE_SHARE * depth;
        let pitch = self.drawing.lead_mm / f64::from(self.drawing.starts);
        let mut grooves = Vec::with_capacity((self.drawing.run_out_to_s_mm / pitch) as usize + 1);
        let mut open: Option<f64> = None;
        for column in skyline.crossings(columns, level as f32) {
            let (before, here) = (f64::from(radii[column - 1]), f64::from(radii[column]));
            let at = self.crossing(column, before, here, level);
            if here < before {
                open = Some(at);
            } else if let Some(left) = open.take() {
                grooves.push(self.groove(skyline, [left, at], [crest, depth], form));
            }
        }
        let read = grooves.len();
        grooves.extend_from_slice(others);
        self.crests(skyline, &mut grooves, read);
        grooves.into()
    }

    /// Where the surface passes a level between a column and the one before it.
    fn crossing(&self, column: usize, before: f64, here: f64, level: f64) -> f64 {
        self.grid.station_mm(column - 1) + self.grid.step_mm * (level - before) / (here - before)
    }

    fn groove(
        &self,
        skyline: &Skyline<'_>,
        [left, right]: [f64; 2],
        [crest, depth]: [f64; 2],
        form: bool,
    ) -> Groove {
        let radii = skyline.radii();
        let middle = f64::midpoint(left, right);
        let columns = self.grid.columns(left, right);
        let lowest = skyline.least(columns.clone()).map_or(columns.start, |(_, column)| column);
        let levels = FLANK_SHARES.map(|share| crest - share * depth);
        // Up to its middle level a groove is known already: the flanks above it go on from there.
        let past = columns.end.max(lowest + 1);
        let before = columns.start.min(lowest).checked_sub(1);
        let nose = before.and_then(|before| self.flank(radii, [lowest, before], false, levels));
        let flanks = nose.zip(self.flank(radii, [lowest, past], true, levels));
        let edges = flanks.map(|(left, right)| {
            let edge = |flank: Flank| {
                let [high, low] = flank.upper;
                high + (high - low) / (levels[0] - levels[1]) * (crest - levels[0])
            };
            [edge(left), edge(right)]
        });
        let flanks_deg = flanks.and_then(|(left, right)| {
            let angle = |flank: Flank| {
                let across = (flank.upper[0] - flank.deep?).abs();
                Some((across / (levels[0] - levels[2])).atan().to_degrees())
            };
            Some([angle(left)?, angle(right)?])
        });
        let form = form.then(|| self.form(radii, middle, edges));
        let root = self.root(radii, lowest, flanks, levels);
        Groove { middle, root, edges, flanks_deg, form, crest: None }
    }

    /// Reads the crests between neighbouring grooves, a cell inside their edges: of all grooves up to one.
    fn crests(&self, skyline: &Skyline<'_>, grooves: &mut [Groove], up_to: usize) {
        for index in 1..grooves.len().min(up_to + 1) {
            let (Some([_, from]), Some([to, _])) = (grooves[index - 1].edges, grooves[index].edges) else {
                continue;
            };
            let step = self.grid.step_mm;
            let inside = [from + step, to - step];
            let (least, most) = (self.least(skyline, inside), self.most(skyline, inside));
            grooves[index - 1].crest = least.zip(most).map(|(least, most)| [least[0], most[0]]);
        }
    }

    /// Radius at the bottom of a groove.
    fn root(&self, radii: &[f32], lowest: usize, flanks: Option<(Flank, Flank)>, levels: [f64; 3]) -> f64 {
        let least = f64::from(radii[lowest]);
        let deep = flanks.and_then(|(left, right)| {
            let low = (right.upper[1] - left.upper[1]) / 2.0;
            Some([low, (right.deep? - left.deep?) / 2.0])
        });
        match (self.bottom, deep) {
            (Bottom::Round, _) if 0 < lowest && lowest + 1 < radii.len() => {
                let (before, after) = (f64::from(radii[lowest - 1]), f64::from(radii[lowest + 1]));
                let bend = before - 2.0 * least + after;
                if bend > 0.0 { least - (before - after).powi(2) / (8.0 * bend) } else { least }
            }
            (Bottom::Between { half_width }, Some([low, deep])) => {
                let widening = (low - deep) / (levels[1] - levels[2]);
                (levels[2] - (deep - half_width) / widening).min(least)
            }
            _ => least,
        }
    }

    /// Stations at which a flank passes three levels, highest first, going outwards from the lowest column of the groove
    /// to the first beyond its middle level, and on.
    fn flank(
        &self,
        radii: &[f32],
        [lowest, beyond]: [usize; 2],
        rightwards: bool,
        levels: [f64; 3],
    ) -> Option<Flank> {
        // The first place from a column outwards that lies above a level.
        let passed = |mut column: usize, level: f64| {
            while f64::from(*radii.get(column)?) <= level {
                column = if rightwards { column + 1 } else { column.checked_sub(1)? };
            }
            let before = if rightwards { column.checked_sub(1)? } else { column + 1 };
            let (here, there) = (f64::from(*radii.get(before)?), f64::from(radii[column]));
            let step = self.grid.step_mm * (level - here) / (there - here);
            let station = self.grid.station_mm(before);
            Some((column, if rightwards { station + step } else { station - step }))
        };
        let deep =
            if f64::from(radii[lowest]) <= levels[2] { Some(passed(lowest, levels[2])?.1) } else { None };
        let (column, low) = passed(beyond, levels[1])?;
        let (_, high) = passed(column, levels[0])?;
        Some(Flank { upper: [high, low], deep })
    }

    /// The last station towards the head that is cut at all.
    fn last_cut(&self, skyline: &Skyline<'_>, crest: f64) -> Option<f64> {
        // Where more than the thread is drawn, what lies behind the run-out has its own place.
        let to = if self.drawing.stretches.is_empty() {
            self.drawing.head_s_mm
        } else {
            plain_from_mm(self.drawing)
        };
        let columns = self.grid.columns(0.0, to);
        skyline.last_below(columns, (crest - CUT_MM) as f32).map(|column| self.grid.station_mm(column))
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
    fn thinnest(&self, skyline: &Skyline<'_>) -> [f64; 3] {
        let root = self.drawing.root_diameter_mm / 2.0;
        let thin = &self.drawing.thin;
        let mut bounds: Vec<f64> = thin.iter().flat_map(|thin| [thin.from_s_mm, thin.to_s_mm]).collect();
        bounds.extend([f64::NEG_INFINITY, f64::INFINITY]);
        bounds.sort_by(f64::total_cmp);
        let parts = bounds.windows(2).map(|pair| {
            let (from, to) = (pair[0], pair[1]);
            let over = thin.iter().filter(|thin| thin.from_s_mm <= from && to <= thin.to_s_mm);
            ([from, to], over.map(|thin| thin.r_mm).fold(root, f64::min))
        });
        let least = parts.filter_map(|(part, keeps)| {
            let [radius, s_mm] = self.least(skyline, part)?;
            Some([radius, s_mm, keeps])
        });
        least.min_by(|a, b| (a[0] - a[2]).total_cmp(&(b[0] - b[2]))).unwrap_or([0.0; 3])
    }

    /// The least radius in the plain part behind the run-out, where the drawing says no more about it.
    fn lowest_plain(&self, skyline: &Skyline<'_>) -> Option<[f64; 2]> {
        let part = [plain_from_mm(self.drawing), self.drawing.head_s_mm];
        if self.drawing.stretches.is_empty() { self.least(skyline, part) } else { None }
    }

    /// The least radius between two stations, and its station.
    fn least(&self, skyline: &Skyline<'_>, [from, to]: [f64; 2]) -> Option<[f64; 2]> {
        let (radius, column) = skyline.least(self.grid.columns(from, to))?;
        Some([f64::from(radius), self.grid.station_mm(column)])
    }

    /// The greatest radius between two stations, and its station.
    fn most(&self, skyline: &Skyline<'_>, [from, to]: [f64; 2]) -> Option<[f64; 2]> {
        let (radius, column) = skyline.most(self.grid.columns(from, to))?;
        Some([f64::from(radius), self.grid.station_mm(column)])
    }
}
