//! The stick of wood a screw is made from: an octagon sawn from a square, how thick a stick must be, and how much wood
//! that is. Elementary geometry of the square and the regular octagon.

use std::f64::consts::{FRAC_1_SQRT_2, PI, SQRT_2};

use crate::job::Job;
use crate::setup::{BlankShape, Setup};
use crate::units::{LengthUnit, MM_PER_INCH};

/// Cubic inches in a board foot, from memory: a board one foot long, one foot wide and one inch thick.
const CUBIC_INCHES_PER_BOARD_FOOT: f64 = 144.0;

/// An octagon sawn from a square, the saw tilted to 45 degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Octagon {
    /// One of its sides, mm.
    pub side_mm: f64,
    /// How far from the edge of the square, on its face, the saw cuts: what the fence is set by, mm.
    pub set_in_mm: f64,
    /// Area of the four corners that fall off, mm².
    pub corners_mm2: f64,
    /// How far its corners stand over the round that fits into it, mm.
    pub stands_over_mm: f64,
    /// How far the corners of the square stood over it, mm.
    pub square_stands_over_mm: f64,
    /// Area between it and that round, mm².
    pub to_round_mm2: f64,
}

/// The octagon that a square of side `square_mm` holds.
///
/// ```
/// // Derived: a square of 60 mm, set-in 17.573593 and side 24.852814.
/// let octagon = threadwright::design::octagon(60.0);
/// assert!((octagon.set_in_mm - 17.573_593).abs() < 5e-7);
/// assert!((octagon.side_mm - 24.852_814).abs() < 5e-7);
/// ```
pub fn octagon(square_mm: f64) -> Octagon {
    let half = square_mm / 2.0;
    let corners_mm2 = (3.0 - 2.0 * SQRT_2) * square_mm * square_mm;
    let round_mm2 = PI * half * half;
    Octagon {
        side_mm: (SQRT_2 - 1.0) * square_mm,
        set_in_mm: (1.0 - FRAC_1_SQRT_2) * square_mm,
        corners_mm2,
        stands_over_mm: half / (PI / 8.0).cos() - half,
        square_stands_over_mm: half * SQRT_2 - half,
        to_round_mm2: square_mm * square_mm - corners_mm2 - round_mm2,
    }
}

/// Least size across flats of a stick for a finished diameter: the axis may stand `off_centre_mm` from the middle of the
/// stick, and everywhere at least `truing_mm` is to come off; all mm.
pub fn least_stick_mm(diameter_mm: f64, off_centre_mm: f64, truing_mm: f64) -> f64 {
    diameter_mm + 2.0 * (off_centre_mm + truing_mm)
}

/// One line of a blank list.
#[derive(Clone, Debug, PartialEq)]
pub struct Stick {
    /// What it is for.
    pub title: String,
    /// Wood.
    pub wood: String,
    /// Unit of its job.
    pub unit: LengthUnit,
    /// Section as it goes on the machine.
    pub shape: BlankShape,
    /// Across flats, or diameter, mm.
    pub size_mm: f64,
    /// Length of the blank, waste and grip included, mm.
    pub length_mm: f64,
    /// Of that, the finished screw, mm.
    pub screw_mm: f64,
    /// Of that, the tenon, mm.
    pub tenon_mm: f64,
    /// Waste beyond the nose, mm.
    pub waste_nose_mm: f64,
    /// Waste at the head, mm; the grip of the chuck is a part of it.
    pub waste_head_mm: f64,
    /// Grip of the chuck, mm.
    pub grip_mm: f64,
    /// What the saw takes when the blank is cut off, mm.
    pub kerf_mm: f64,
    /// Least size across flats, by the allowances of the job, mm.
    pub least_size_mm: f64,
    /// Diameter that it is brought to, mm.
    pub crest_diameter_mm: f64,
}

impl Stick {
    /// The stick of a job.
    pub fn of(job: &Job, setup: &Setup) -> Stick {
        let blank = &setup.blank;
        Stick {
            title: job.title.clone(),
            wood: job.wood.clone(),
            unit: job.unit,
            shape: job.blank.shape,
            size_mm: job.blank.size_mm,
            length_mm: blank.to_s_mm - blank.from_s_mm,
            screw_mm: blank.to_s_mm - job.blank.waste_head_mm,
            tenon_mm: job.operations.tenon.as_ref().map_or(0.0, |tenon| tenon.length_mm),
            waste_nose_mm: job.blank.waste_nose_mm,
            waste_head_mm: job.blank.waste_head_mm,
            grip_mm: setup.machine.chuck.grip_mm,
            kerf_mm: job.blank.kerf_mm,
            least_size_mm: least_stick_mm(
                job.screw.crest_diameter_mm,
                job.blank.off_centre_mm,
                job.blank.truing_mm,
            ),
            crest_diameter_mm: job.screw.crest_diameter_mm,
        }
    }

    /// Wood it takes from the board, mm³: the square around its section, and one saw cut more than its length.
    pub fn volume_mm3(&self) -> f64 {
        self.size_mm * self.size_mm * (self.length_mm + self.kerf_mm)
    }

    /// The same in board feet.
    pub fn board_feet(&self) -> f64 {
        self.volume_mm3() / MM_PER_INCH.powi(3) / CUBIC_INCHES_PER_BOARD_FOOT
    }
}
