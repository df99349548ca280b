//! A job for the tests of the generating rooms: the screw of a small bindery's nipping press, built by hand so that
//! they need no job file.

use crate::drawing::Hand;
use crate::job::{BlankAsked, Cutting, DepthAsked, Job, Marks, Order, Passes, ScrewAsked, Travel};
use crate::setup::{BlankShape, Cutter, Edge, Tip, sample};
use crate::units::LengthUnit;

/// 50 mm over the crests, two starts, lead 20 mm, 7 mm deep: case A of the groove tables.
pub(crate) fn job() -> Job {
    Job {
        title: "nipping press screw".to_owned(),
        unit: LengthUnit::Mm,
        wood: "beech".to_owned(),
        species: None,
        season: None,
        nut: None,
        mill: None,
        screw: ScrewAsked {
            crest_diameter_mm: 50.0,
            pitch_mm: 10.0,
            starts: 2,
            lead_mm: 20.0,
            hand: Hand::Right,
            depth: DepthAsked::Depth { depth_mm: 7.0 },
            root_width_mm: None,
            thread_length_mm: 300.0,
            plain_nose_mm: 20.0,
            plain_head_mm: 40.0,
            included_angle_deg: None,
        },
        blank: BlankAsked {
            shape: BlankShape::Round,
            size_mm: 50.0,
            waste_nose_mm: 15.0,
            waste_head_mm: 60.0,
            kerf_mm: 3.0,
            off_centre_mm: 0.5,
            truing_mm: 0.5,
        },
        cutting: Cutting {
            rpm: 18_000.0,
            feed_mm_per_min: 1500.0,
            feeds_mm_per_min: Vec::new(),
            flank_feed_mm_per_min: None,
            passes: Passes::EqualArea(3),
            least_step_mm: 0.3,
            spring_pass: false,
            order: Order::ByStart,
            travel: Travel::OneWay,
            run_out_turns: 0.5,
            clearance_mm: 5.0,
            least_core_share: 0.5,
        },
        operations: crate::job::Operations::default(),
        cutter: Cutter {
            title: "V cutter of the press".to_owned(),
            included_angle_deg: 60.0,
            tip: Tip::Flat { diameter_mm: 1.0 },
            flutes: 2,
            cutting_diameter_mm: 20.0,
            cutting_length_mm: 16.0,
            shank_diameter_mm: 8.0,
            collet_diameter_mm: 30.0,
            stick_out_mm: 35.0,
            edge: Edge::Sharp,
        },
        machine: sample::machine(),
        press: crate::job::PressAsked::default(),
        jig: None,
        marks: Marks::default(),
    }
}
