//! The sizes of a screw: solves the depth from the crest flat, or the flat from the depth, on the groove that the
//! cutter really leaves. Whether they suit cutter, blank and job is asked in [`super::faults`].

use super::faults;
use super::form::lead_angle_deg;
use super::groove::{Groove, tip_radius_for};
use super::root::bisect;
use super::shape::Shape;
use crate::drawing::SectionPoint;
use crate::finding::{Finding, design as code, job as job_code};
use crate::job::{DepthAsked, Job};

/// Difference between a depth that was given and the one that follows, above which they disagree: well below what
/// shows in wood, and above what rounding to a drawing's hundredths brings.
pub(super) const AGREE_MM: f64 = 0.02;

/// Points of the section from root to crest, besides the root itself.
const SECTION_STEPS: u32 = 64;

/// The sizes of a screw. Only [`screw`] makes one, so whoever holds one holds sizes that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Screw {
    /// Half the diameter over the crests.
    pub crest_radius_mm: f64,
    /// Half the diameter in the roots: where the cutter's tip runs.
    pub root_radius_mm: f64,
    /// From crest to root.
    pub depth_mm: f64,
    /// Flat left on the crest, along the axis.
    pub crest_flat_mm: f64,
    /// Width of the groove at the crest, along the axis.
    pub crest_width_mm: f64,
    /// Diameter at which groove and tooth are equally wide.
    pub pitch_line_diameter_mm: f64,
    /// Helix against a plane square to the axis, at the crest.
    pub lead_angle_crest_deg: f64,
    /// The same at the pitch line.
    pub lead_angle_pitch_line_deg: f64,
    /// The same in the root.
    pub lead_angle_root_deg: f64,
    /// Half angle of the groove in the axial section, at the pitch line.
    pub flank_axial_deg: f64,
    /// Half angle of the groove square to the helix, at the pitch line.
    pub flank_normal_deg: f64,
    /// Root diameter over crest diameter.
    pub core_share: f64,
    /// How far beside the middle of the groove the flank passes run, to either side; zero when there are none.
    pub flank_aside_mm: f64,
    /// The groove in the axial section, from root to crest.
    pub section: Vec<SectionPoint>,
    groove: Groove,
    shape: Shape,
}

impl Screw {
    /// The groove at full depth.
    pub fn groove(&self) -> &Groove {
        &self.groove
    }

    /// The cutter's outline.
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// From the edges of the finished groove, the sizes that follow.
    fn of(job: &Job, shape: Shape, root_radius_mm: f64) -> Self {
        let asked = &job.screw;
        let crest_radius_mm = asked.crest_diameter_mm / 2.0;
        let flank_aside_mm = job.flank_aside_mm();
        let groove = Groove::new(shape, root_radius_mm, asked.lead_mm).widened(flank_aside_mm);
        let depth_mm = crest_radius_mm - root_radius_mm;
        let crest_width_mm = 2.0 * groove.half_width_mm(crest_radius_mm);
        // The groove widens outwards, so its width passes half the pitch once; flats wider than that put the pitch
        // line at the nearer end of the flank.
        let pitch_line =
            bisect(root_radius_mm, crest_radius_mm, |r| groove.half_width_mm(r) - asked.pitch_mm / 4.0);
        let angle_at = |radius: f64| lead_angle_deg(asked.lead_mm, 2.0 * radius);
        let (slope, lead_angle) = (groove.flank_slope(pitch_line), angle_at(pitch_line));
        Screw {
            crest_radius_mm,
            root_radius_mm,
            depth_mm,
            crest_flat_mm: asked.pitch_mm - crest_width_mm,
            crest_width_mm,
            pitch_line_diameter_mm: 2.0 * pitch_line,
            lead_angle_crest_deg: angle_at(crest_radius_mm),
            lead_angle_pitch_line_deg: lead_angle,
            lead_angle_root_deg: angle_at(root_radius_mm),
            flank_axial_deg: slope.atan().to_degrees(),
            flank_normal_deg: (slope * lead_angle.to_radians().cos()).atan().to_degrees(),
            core_share: root_radius_mm / crest_radius_mm,
            flank_aside_mm,
            section: section(&groove, crest_radius_mm),
            groove,
            shape,
        }
    }
}

/// The groove's outline. The points lie closer towards the root, where a ball leaves a steep wall that straight
/// lines between evenly spaced points would cut off.
fn section(groove: &Groove, crest_radius_mm: f64) -> Vec<SectionPoint> {
    let root = groove.tip_radius_mm();
    (0..=SECTION_STEPS)
        .map(|i| {
            let share = f64::from(i) / f64::from(SECTION_STEPS);
            let r_mm = if i == SECTION_STEPS {
                crest_radius_mm
            } else {
                root + (crest_radius_mm - root) * share * share
            };
            SectionPoint { r_mm, half_width_mm: groove.half_width_mm(r_mm) }
        })
        .collect()
}

/// Works out the screw that a job asks for.
///
/// Returns the sizes, unless there is no such screw, and everything that is wrong with them. Sizes that come with a
/// finding of weight `stop` are for showing, not for cutting. The depth is solved so that
/// pitch - 2 b(crest radius) is the crest flat, b being [`Groove::half_width_mm`].
pub fn screw(job: &Job) -> (Option<Screw>, Vec<Finding>) {
    let shape = Shape::of(&job.cutter);
    let root = match job.screw.depth {
        DepthAsked::CrestFlat { flat_mm, .. } => root_from_flat(job, shape, flat_mm),
        DepthAsked::Depth { depth_mm } => root_from_depth(job, shape, depth_mm),
    };
    match root {
        Ok(root_radius_mm) => {
            let screw = Screw::of(job, shape, root_radius_mm);
            let mut findings = faults::of(job, &screw);
            findings.extend(depth_disagrees(job, &screw));
            (Some(screw), findings)
        }
        Err(finding) => (None, vec![*finding]),
    }
}

/// The root radius at which the asked crest flat stays. That flat and tip leave room for a groove was found with the
/// job.
fn root_from_flat(job: &Job, shape: Shape, flat_mm: f64) -> Result<f64, Box<Finding>> {
    let (asked, unit) = (&job.screw, job.unit);
    let crest = asked.crest_diameter_mm / 2.0;
    // What the flank passes add is not the cutter's to make.
    let half_width = (asked.pitch_mm - flat_mm) / 2.0 - job.flank_aside_mm();
    if 2.0 * Groove::new(shape, 0.0, asked.lead_mm).half_width_mm(crest) <= 2.0 * half_width {
        let finding = Finding::new(
            &code::CORE_THIN,
            format!(
                "a groove {} wide at the crest would have to go down to the axis",
                unit.show(2.0 * half_width)
            ),
        )
        .help("choose a smaller pitch, more crest flat or a cutter with a wider angle");
        return Err(Box::new(faults::at_depth(finding, job)));
    }
    Ok(tip_radius_for(shape, half_width, crest, asked.lead_mm))
}

/// The root radius at the asked depth, if a crest is left there. That the depth stays above the axis was found with
/// the job.
fn root_from_depth(job: &Job, shape: Shape, depth_mm: f64) -> Result<f64, Box<Finding>> {
    let (asked, unit) = (&job.screw, job.unit);
    let crest = asked.crest_diameter_mm / 2.0;
    let aside = job.flank_aside_mm();
    let groove = Groove::new(shape, crest - depth_mm, asked.lead_mm).widened(aside);
    let width = 2.0 * groove.half_width_mm(crest);
    if width > asked.pitch_mm {
        let deepest = crest - tip_radius_for(shape, asked.pitch_mm / 2.0 - aside, crest, asked.lead_mm);
        let finding = Finding::new(
            &code::CREST_GONE,
            format!(
                "{} deep, the groove is {} wide at the crest and the pitch is only {}",
                unit.show(depth_mm),
                unit.show(width),
                unit.show(asked.pitch_mm)
            ),
        )
        .help(format!(
            "the crest is sharp at a depth of {}; stay below it, or choose a pitch above {}",
            unit.show_at_most(deepest),
            unit.show_at_least(width)
        ))
        .values(depth_mm, deepest);
        return Err(Box::new(faults::at_depth(finding, job)));
    }
    Ok(crest - depth_mm)
}

/// A depth given beside a crest flat must be the depth that follows from the flat.
fn depth_disagrees(job: &Job, screw: &Screw) -> Option<Finding> {
    let DepthAsked::CrestFlat { flat_mm, depth_too_mm: Some(depth_mm) } = job.screw.depth else {
        return None;
    };
    if (depth_mm - screw.depth_mm).abs() <= AGREE_MM {
        return None;
    }
    let unit = job.unit;
    let groove = Groove::new(screw.shape, screw.crest_radius_mm - depth_mm, job.screw.lead_mm)
        .widened(screw.flank_aside_mm);
    let implied = job.screw.pitch_mm - 2.0 * groove.half_width_mm(screw.crest_radius_mm);
    let from_depth = if implied > 0.0 {
        format!("a crest flat of {}", unit.show(implied))
    } else {
        "no crest at all".to_owned()
    };
    Some(
        Finding::new(
            &job_code::DISAGREE,
            format!(
                "a depth of {} gives {from_depth}, but a crest flat of {} is asked for, which gives a depth of {}",
                unit.show(depth_mm),
                unit.show(flat_mm),
                unit.show(screw.depth_mm)
            ),
        )
        .at_some(job.marks.get("screw.depth"))
        .also_at(job.marks.get("screw.crest_flat"), "the crest flat")
        .help("keep one of the two and leave the other out")
        .values(depth_mm, screw.depth_mm),
    )
}
