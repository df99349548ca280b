//! Reads what counts from one row of the carved nut, so that the row can be dropped. Lengths in mm, angles in radians.

use std::f64::consts::TAU;
use std::ops::Range;

use crate::drawing::{Cone, NutDrawing, SectionPoint};
use crate::stock::nut::{NutGrid, NutRow};

/// Shares of the thread's depth, from the bore, at which flanks are read.
pub(super) const FLANK_SHARES: [f64; 2] = [0.25, 0.75];
/// Of the rows, one in so many is compared with the drawn section height by height.
const FORM_EVERY: usize = 4;
/// A cone is read where it stands so far outside bore and grooves, mm.
const CONE_CLEAR_MM: f64 = 0.1;

/// A groove met by a row, whole between the mouths of the hole.
#[derive(Clone, Copy, Debug)]
pub(super) struct Groove {
    /// Height of its middle.
    pub(super) middle: f64,
    /// Heights of its lower flank at the shares; the second is missing where the groove is too shallow.
    pub(super) lower: [Option<f64>; 2],
    /// Of its upper flank.
    pub(super) upper: [Option<f64>; 2],
    /// Greatest radius in it.
    pub(super) root: f64,
    /// Height of that.
    pub(super) root_z: f64,
}

/// A deviation from the drawn section, square to it: positive where wood is left.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Deviation {
    pub(super) by: f64,
    pub(super) z: f64,
}

/// Sums for a straight line of radius over depth below a face.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sums {
    pub(super) n: f64,
    pub(super) d: f64,
    pub(super) r: f64,
    pub(super) dd: f64,
    pub(super) dr: f64,
}

impl Sums {
    fn add(&mut self, d: f64, r: f64) {
        self.n += 1.0;
        self.d += d;
        self.r += r;
        self.dd += d * d;
        self.dr += d * r;
    }

    pub(super) fn join(&mut self, other: &Sums) {
        self.n += other.n;
        self.d += other.d;
        self.r += other.r;
        self.dd += other.dd;
        self.dr += other.dr;
    }

    /// Radius at the face, and how it falls with the depth.
    pub(super) fn line(&self) -> Option<[f64; 2]> {
        let spread = self.n * self.dd - self.d * self.d;
        (spread > 0.0).then(|| {
            let slope = (self.n * self.dr - self.d * self.r) / spread;
            [(self.r - slope * self.d) / self.n, slope]
        })
    }
}

/// What is kept of a row.
#[derive(Clone, Debug)]
pub(super) struct RowSeen {
    pub(super) angle: f64,
    pub(super) grooves: Vec<Groove>,
    /// Stretches of heights in which the hole is as wide as the thread.
    pub(super) full: Vec<[f64; 2]>,
    /// Least and greatest of the least radii between two neighbouring grooves, each with its height.
    pub(super) crests: Option<[[f64; 2]; 2]>,
    /// Least and greatest radius over all heights, each with its height.
    pub(super) radii: [[f64; 2]; 2],
    /// Most wood left and most wood gone in a groove.
    pub(super) form: Option<[Deviation; 2]>,
    /// The cones at the top and at the bottom.
    pub(super) cones: [Sums; 2],
}

/// The drawn section as a radius over the distance from a groove's middle.
pub(super) struct Section<'a> {
    points: &'a [SectionPoint],
}

impl<'a> Section<'a> {
    pub(super) fn of(drawing: &'a NutDrawing) -> Section<'a> {
        Section { points: &drawing.section }
    }

    /// Half the width at the bore.
    pub(super) fn widest(&self) -> f64 {
        self.points.first().map_or(0.0, |point| point.half_width_mm)
    }

    /// Radius at a distance from the middle, and how much of a difference along the radius counts square to the form.
    /// `None` beyond the groove.
    pub(super) fn radius(&self, off: f64) -> Option<(f64, f64)> {
        let next = self.points.partition_point(|point| point.half_width_mm > off);
        if next == 0 {
            return None;
        }
        let inner = self.points[next - 1];
        let Some(outer) = self.points.get(next) else { return Some((inner.r_mm, 1.0)) };
        let (rise, run) = (outer.r_mm - inner.r_mm, inner.half_width_mm - outer.half_width_mm);
        let share = (inner.half_width_mm - off) / run;
        Some((inner.r_mm + rise * share, run / run.hypot(rise)))
    }
}

/// Reads rows for one drawing on one grid.
pub(super) struct Reader<'a> {
    drawing: &'a NutDrawing,
    grid: NutGrid,
    /// Those between the mouths.
    columns: Range<usize>,
    levels: [f64; 2],
    full: f64,
    section: Section<'a>,
    pitch: f64,
}

impl<'a> Reader<'a> {
    pub(super) fn of(drawing: &'a NutDrawing, grid: NutGrid) -> Reader<'a> {
        let depth_of = |cone: Option<Cone>| cone.map_or(0.0, |cone| cone.depth_mm);
        let bottom = grid.from_z_mm;
        let zone = [bottom + depth_of(drawing.chamfer_bottom), -depth_of(drawing.chamfer_top)];
        let (bore, major) = (drawing.bore_diameter_mm / 2.0, drawing.major_diameter_mm / 2.0);
        Reader {
            drawing,
            grid,
            columns: grid.columns(zone[0], zone[1]),
            levels: FLANK_SHARES.map(|share| bore + share * (major - bore)),
            full: major - drawing.passes.radius_mm,
            section: Section::of(drawing),
            pitch: drawing.lead_mm / f64::from(drawing.starts.max(1)),
        }
    }

    /// Reads a row.
    pub(super) fn read(&self, row: NutRow<'_>) -> RowSeen {
        let radii = row.radii_mm;
        let grooves = self.grooves(radii);
        let extreme = |better: fn(f64, f64) -> bool| {
            let mut best = [radii[0], self.grid.z_mm(0)];
            for (column, &r) in radii.iter().enumerate() {
                if better(r, best[0]) {
                    best = [r, self.grid.z_mm(column)];
                }
            }
            best
        };
        RowSeen {
            angle: row.angle_rad,
            full: self.full(radii),
            crests: self.crests(radii, &grooves),
            radii: [extreme(|a, b| a < b), extreme(|a, b| a > b)],
            form: row.index.is_multiple_of(FORM_EVERY).then(|| self.form(radii, &grooves)),
            cones: self.cones(radii, row.angle_rad),
            grooves,
        }
    }

    fn grooves(&self, radii: &[f64]) -> Vec<Groove> {
        let mut found = Vec::new();
        let mut column = self.columns.start;
        // A groove that is cut by the beginning of the zone is not whole.
        while column < self.columns.end && radii[column] >= self.levels[0] {
            column += 1;
        }
        while column < self.columns.end {
            if radii[column] < self.levels[0] {
                column += 1;
                continue;
            }
            let start = column;
            while column < self.columns.end && radii[column] >= self.levels[0] {
                column += 1;
            }
            if column == self.columns.end {
                break;
            }
            let inside = start..column;
            let at = |level: f64| {
                let first = inside.clone().find(|&c| radii[c] >= level)?;
                let last = inside.clone().rfind(|&c| radii[c] >= level)?;
                Some([self.crossing(radii, first - 1, level), self.crossing(radii, last, level)])
            };
            let (Some(low), deep) = (at(self.levels[0]), at(self.levels[1])) else { continue };
            let root = inside.clone().max_by(|&a, &b| radii[a].total_cmp(&radii[b])).unwrap_or(start);
            found.push(Groove {
                middle: f64::midpoint(low[0], low[1]),
                lower: [Some(low[0]), deep.map(|deep| deep[0])],
                upper: [Some(low[1]), deep.map(|deep| deep[1])],
                root: radii[root],
                root_z: self.grid.z_mm(root),
            });
        }
        found
    }

    /// Height at which a level is passed between a column and the next, read straight.
    fn crossing(&self, radii: &[f64], column: usize, level: f64) -> f64 {
        let (a, b) = (radii[column], radii[column + 1]);
        self.grid.z_mm(column) + self.grid.step_mm * (level - a) / (b - a)
    }

    fn full(&self, radii: &[f64]) -> Vec<[f64; 2]> {
        let mut found: Vec<[f64; 2]> = Vec::new();
        let mut open = false;
        for (column, &r) in radii.iter().enumerate() {
            let z = self.grid.z_mm(column);
            match (r >= self.full, open) {
                (true, false) => found.push([z, z]),
                (true, true) => {
                    if let Some(last) = found.last_mut() {
                        last[1] = z;
                    }
                }
                _ => {}
            }
            open = r >= self.full;
        }
        found
    }

    fn crests(&self, radii: &[f64], grooves: &[Groove]) -> Option<[[f64; 2]; 2]> {
        let lowest = |pair: &[Groove]| {
            let between = self.grid.columns(pair[0].middle, pair[1].middle);
            let column = between.min_by(|&a, &b| radii[a].total_cmp(&radii[b]))?;
            Some([radii[column], self.grid.z_mm(column)])
        };
        let crests: Vec<[f64; 2]> = grooves.windows(2).filter_map(lowest).collect();
        let least = crests.iter().copied().min_by(|a, b| a[0].total_cmp(&b[0]))?;
        let most = crests.iter().copied().max_by(|a, b| a[0].total_cmp(&b[0]))?;
        Some([least, most])
    }

    fn form(&self, radii: &[f64], grooves: &[Groove]) -> [Deviation; 2] {
        let mut worst = [Deviation::default(); 2];
        let reach = self.section.widest().min(self.pitch / 2.0);
        for groove in grooves {
            let columns = self.grid.columns(groove.middle - reach, groove.middle + reach);
            // In the mouths a cone stands beside the groove.
            let (first, past) = (columns.start.max(self.columns.start), columns.end.min(self.columns.end));
            for (column, &r) in radii.iter().enumerate().take(past).skip(first) {
                let z = self.grid.z_mm(column);
                let Some((drawn, square)) = self.section.radius((z - groove.middle).abs()) else { continue };
                let by = (drawn - r) * square;
                if by > worst[0].by {
                    worst[0] = Deviation { by, z };
                }
                if by < worst[1].by {
                    worst[1] = Deviation { by, z };
                }
            }
        }
        worst
    }

    fn cones(&self, radii: &[f64], angle: f64) -> [Sums; 2] {
        let drawing = self.drawing;
        let bore = drawing.bore_diameter_mm / 2.0;
        let mut sums = [Sums::default(); 2];
        let faces = [(drawing.chamfer_top, 0.0), (drawing.chamfer_bottom, self.grid.from_z_mm)];
        for (sums, (cone, face)) in sums.iter_mut().zip(faces) {
            let Some(cone) = cone.filter(|cone| cone.depth_mm > 0.0) else { continue };
            let rim = cone.face_diameter_mm / 2.0;
            let (low, high) = if face == 0.0 { (-cone.depth_mm, 0.0) } else { (face, face + cone.depth_mm) };
            for column in self.grid.columns(low, high) {
                let z = self.grid.z_mm(column);
                let depth = (z - face).abs();
                let drawn = rim - (rim - bore) * depth / cone.depth_mm;
                let groove = self.section.radius(off_middle(drawing, angle, z)).map_or(bore, |(r, _)| r);
                if drawn > groove.max(bore) + CONE_CLEAR_MM {
                    sums.add(depth, radii[column]);
                }
            }
        }
        sums
    }
}

/// Distance along the axis from a place to the middle of the nearest drawn groove.
fn off_middle(drawing: &NutDrawing, angle: f64, z: f64) -> f64 {
    place_off(drawing, angle, z).abs()
}

/// The same with its sign: positive above the groove.
pub(super) fn place_off(drawing: &NutDrawing, angle: f64, z: f64) -> f64 {
    let pitch = drawing.lead_mm / f64::from(drawing.starts.max(1));
    let turned = angle - drawing.start_angle_deg.to_radians();
    let off = z - drawing.hand.sign() * drawing.lead_mm * turned / TAU;
    off - (off / pitch).round() * pitch
}
