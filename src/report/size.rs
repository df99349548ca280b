//! Every size that follows from a job, as text and as data.

use comfy_table::{CellAlignment, Table};
use serde::Serialize;

use super::lines::{plain, wrapped};
use crate::design::{Screw, Stick};
use crate::feeds::{Kind, Trip};
use crate::job::{Job, Order, Travel};
use crate::setup::{BlankShape, Dust, Setup};
use crate::wood::dust;

/// The sizes of a job, for `--json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sizes {
    /// Diameter over the crests.
    pub crest_diameter_mm: f64,
    /// Diameter in the roots.
    pub root_diameter_mm: f64,
    /// Crest to root.
    pub depth_mm: f64,
    /// Crest to crest.
    pub pitch_mm: f64,
    /// Advance per turn.
    pub lead_mm: f64,
    /// Threads side by side.
    pub starts: u32,
    /// `right` or `left`.
    pub hand: &'static str,
    /// Flat left on the crest, along the axis.
    pub crest_flat_mm: f64,
    /// Width of the groove at the crest, along the axis.
    pub groove_width_mm: f64,
    /// Diameter at which groove and tooth are equally wide.
    pub pitch_line_diameter_mm: f64,
    /// Lead angle at the crest.
    pub lead_angle_crest_deg: f64,
    /// Lead angle in the root.
    pub lead_angle_root_deg: f64,
    /// Angle between the flanks in the axial section, as cut.
    pub included_angle_axial_deg: f64,
    /// Angle between the flanks square to the helix, as cut.
    pub included_angle_normal_deg: f64,
    /// Root diameter over crest diameter.
    pub core_share: f64,
    /// Depths of the passes of each start.
    pub pass_depths_mm: Vec<f64>,
    /// The feed of each.
    pub pass_feeds_mm_per_min: Vec<f64>,
    /// Whether a spring pass follows.
    pub spring_pass: bool,
    /// How far beside the middle of the groove a pass on either flank follows, if there are such.
    pub flank_aside_mm: Option<f64>,
    /// Flat of the root, along the axis.
    pub root_width_mm: f64,
    /// Length of the finished screw, nose face to head end.
    pub screw_length_mm: f64,
    /// Density of its wood at 12 % moisture, kg/m³; null when it is not known.
    pub density_kg_m3: Option<f64>,
    /// What its dust does: `none-documented`, `irritant`, `sensitiser`, `toxic`; null when nothing is known.
    pub dust: Option<Dust>,
    /// Length of the blank, waste included.
    pub blank_length_mm: f64,
    /// Wood it takes from the board, one saw cut included.
    pub stick_volume_mm3: f64,
    /// The same in board feet.
    pub stick_board_feet: f64,
    /// Least size of the stick across flats, by the allowances of the job.
    pub least_stick_mm: f64,
    /// Speed of A while cutting.
    pub a_rate_rpm: f64,
    /// Speed of X while cutting.
    pub x_rate_mm_per_min: f64,
}

impl Sizes {
    /// Gathers the sizes. `trips` are the passes of one start.
    pub fn of(job: &Job, screw: &Screw, setup: &Setup, trips: &[Trip]) -> Sizes {
        let down: Vec<Trip> = trips.iter().copied().filter(|trip| trip.kind == Kind::Depth).collect();
        let flank = trips.iter().find(|trip| trip.kind == Kind::Flank);
        let blank = &setup.blank;
        let turn_mm = (2.0 * std::f64::consts::PI * setup.feed_radius_mm).hypot(job.screw.lead_mm);
        let stick = Stick::of(job, setup);
        let a_rate_rpm = setup.feed_mm_per_min / turn_mm;
        Sizes {
            crest_diameter_mm: 2.0 * screw.crest_radius_mm,
            root_diameter_mm: 2.0 * screw.root_radius_mm,
            depth_mm: screw.depth_mm,
            pitch_mm: job.screw.pitch_mm,
            lead_mm: job.screw.lead_mm,
            starts: job.screw.starts,
            hand: job.screw.hand.name(),
            crest_flat_mm: screw.crest_flat_mm,
            groove_width_mm: screw.crest_width_mm,
            pitch_line_diameter_mm: screw.pitch_line_diameter_mm,
            lead_angle_crest_deg: screw.lead_angle_crest_deg,
            lead_angle_root_deg: screw.lead_angle_root_deg,
            included_angle_axial_deg: 2.0 * screw.flank_axial_deg,
            included_angle_normal_deg: 2.0 * screw.flank_normal_deg,
            core_share: screw.core_share,
            pass_depths_mm: down.iter().map(|trip| trip.depth_mm).collect(),
            pass_feeds_mm_per_min: down.iter().map(|trip| trip.feed_mm_per_min).collect(),
            spring_pass: trips.iter().any(|trip| trip.kind == Kind::Spring),
            flank_aside_mm: flank.map(|trip| trip.aside_mm.abs()),
            root_width_mm: 2.0 * screw.section.first().map_or(0.0, |point| point.half_width_mm),
            screw_length_mm: blank.to_s_mm - job.blank.waste_head_mm,
            density_kg_m3: setup.timber.density_kg_m3,
            dust: setup.timber.dust,
            blank_length_mm: blank.to_s_mm - blank.from_s_mm,
            stick_volume_mm3: stick.volume_mm3(),
            stick_board_feet: stick.board_feet(),
            least_stick_mm: stick.least_size_mm,
            a_rate_rpm,
            x_rate_mm_per_min: a_rate_rpm * job.screw.lead_mm,
        }
    }
}

/// The sizes as lines of text in the unit of the job.
pub fn text(job: &Job, setup: &Setup, sizes: &Sizes) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let degrees = |deg: f64| format!("{deg:.2} deg");
    let mut lines: Vec<(String, String, String)> = Vec::new();
    let mut add =
        |what: &str, value: String, more: &str| lines.push((what.to_owned(), value, more.to_owned()));
    add("crest diameter", show(sizes.crest_diameter_mm), "");
    let core = format!("the core keeps {:.0} % of the diameter", 100.0 * sizes.core_share);
    add("root diameter", show(sizes.root_diameter_mm), &core);
    add("depth", show(sizes.depth_mm), "");
    if sizes.flank_aside_mm.is_some() {
        add("root flat", show(sizes.root_width_mm), "wider than the tip");
    }
    add("pitch", show(sizes.pitch_mm), "crest to crest");
    add("starts", sizes.starts.to_string(), &format!("{}-hand", sizes.hand));
    add("lead", show(sizes.lead_mm), "advance per turn");
    add("crest flat", show(sizes.crest_flat_mm), "");
    add("groove width", show(sizes.groove_width_mm), "at the crest");
    add("pitch-line diameter", show(sizes.pitch_line_diameter_mm), "groove and tooth equally wide");
    add("lead angle", degrees(sizes.lead_angle_crest_deg), "at the crest");
    add("", degrees(sizes.lead_angle_root_deg), "in the root");
    add("included angle", degrees(sizes.included_angle_axial_deg), "as cut, along the axis");
    add("", degrees(sizes.included_angle_normal_deg), "as cut, square to the thread");
    let shape = match job.blank.shape {
        BlankShape::Round => "round",
        BlankShape::Octagon => "octagon",
        BlankShape::Square => "square",
    };
    add("screw", show(sizes.screw_length_mm), "nose face to head end");
    let blank = format!(
        "{shape}, {}, of which {} waste at the nose and {} at the head",
        show(setup.blank.size_mm),
        show(job.blank.waste_nose_mm),
        show(job.blank.waste_head_mm)
    );
    add("blank", show(sizes.blank_length_mm), &blank);
    let density = sizes.density_kg_m3.map_or("not known".to_owned(), |density| format!("{density:.0} kg/m3"));
    let memory = if setup.timber.density_from_memory { ", from memory" } else { "" };
    add("wood", density, &format!("{}, density at 12 % moisture{memory}", setup.timber.name));
    let stick = Stick::of(job, setup);
    for [what, value, more] in super::stick::lines(job.unit, &stick) {
        lines.push((what, value, more));
    }
    let mut add =
        |what: &str, value: String, more: &str| lines.push((what.to_owned(), value, more.to_owned()));
    let order = match (job.cutting.order, job.cutting.travel) {
        (Order::ByStart, Travel::OneWay) => "start by start, one way",
        (Order::ByStart, Travel::BothWays) => "start by start, both ways",
        (Order::ByDepth, Travel::OneWay) => "depth by depth, one way",
        (Order::ByDepth, Travel::BothWays) => "depth by depth, both ways",
    };
    let mut before = 0.0;
    let feeds = &sizes.pass_feeds_mm_per_min;
    let one_feed = feeds.iter().all(|feed| *feed == setup.feed_mm_per_min);
    for (index, (&depth, &feed)) in sizes.pass_depths_mm.iter().zip(feeds).enumerate() {
        let at = if one_feed { String::new() } else { format!(", at {}", job.unit.show_speed(feed)) };
        let step = format!("step {}{at}", show(depth - before));
        add(if index == 0 { "passes, depth" } else { "" }, show(depth), &step);
        before = depth;
    }
    if sizes.spring_pass {
        add("", show(before), "spring pass");
    }
    if let Some(aside) = sizes.flank_aside_mm {
        let at = job.cutting.flank_feed_mm_per_min.filter(|_| !one_feed);
        let at = at.map_or(String::new(), |feed| format!(", at {}", job.unit.show_speed(feed)));
        add("", show(before), &format!("one pass on each flank, {} off the middle{at}", show(aside)));
    }
    add("order", String::new(), order);
    add("spindle", format!("{:.0} rev/min", setup.rpm), "");
    let feed =
        if one_feed { "along the thread at the crest" } else { "along the thread at the crest, at most" };
    add("feed", job.unit.show_speed(setup.feed_mm_per_min), feed);
    add("A", format!("{:.2} rev/min", sizes.a_rate_rpm), "");
    add("X", job.unit.show_speed(sizes.x_rate_mm_per_min), "");
    let mut table = Table::new();
    table.add_rows(lines.into_iter().map(|(what, value, more)| [what, value, more]));
    if let Some(column) = table.column_mut(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    let head = format!("{}: {}, on {}", job.title, job.wood, setup.machine.title);
    let cautions = dust::caution(&setup.timber).map(|words| wrapped(&words)).join("\n");
    format!("{}\n\n{}\n\n{cautions}", wrapped(&head), plain(table, true))
}
