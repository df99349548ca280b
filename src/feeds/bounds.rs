//! What wood, cutter and machine let a pass do: its loads at a feed, the greatest feed within every limit, the least one
//! that does not burn. Feeds hold at the crest, as the job states them.

use serde::Serialize;

use super::engage::Met;
use super::trip::Trip;
use crate::design::form::turn_length_mm;
use crate::design::shape::Shape;
use crate::design::{self, Screw};
use crate::job::Job;
use crate::pressure::{self, BAND, FALL, MODEL_FROM_MM, Running, Strain};
use crate::setup::{Edge, Setup, Timber};
use crate::stiffness::{self, BEND_OVER_SHEAR, Bar};

/// Share of an axis' top speed that a plan uses, so that a control has room to catch up; common practice, no source.
pub const AXIS_SHARE: f64 = 0.9;
/// How far the blank may bend under a pass that is followed by another, and under the last, mm: a third of a wooden
/// screw's play, and what shows in it. Common practice, no source; held against the upper end of the band.
pub const BENDS_MM: [f64; 2] = [0.2, 0.1];
/// How far the cutter may bend, mm; beyond that it chatters. Common practice, no source; upper end of the band.
pub const CUTTER_BENDS_MM: f64 = 0.1;

/// What keeps a pass from running faster.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reason {
    /// Top speed of A.
    A,
    /// Top speed of X.
    X,
    /// A thicker chip tears.
    Tears,
    /// Power of the spindle.
    Power,
    /// Torque that A holds.
    Torque,
    /// The blank bends.
    BlankBends,
    /// The cutter bends.
    CutterBends,
    /// The job says so.
    Given,
}

impl Reason {
    /// In a few words.
    pub fn words(self) -> &'static str {
        match self {
            Reason::A => "A at its top speed",
            Reason::X => "X at its top speed",
            Reason::Tears => "thicker chips tear",
            Reason::Power => "power of the spindle",
            Reason::Torque => "torque that A holds",
            Reason::BlankBends => "the blank bends",
            Reason::CutterBends => "the cutter bends",
            Reason::Given => "set in the job",
        }
    }

    /// In one or two words, for a cell.
    pub fn short(self) -> &'static str {
        match self {
            Reason::A => "A",
            Reason::X => "X",
            Reason::Tears => "tears",
            Reason::Power => "power",
            Reason::Torque => "torque",
            Reason::BlankBends => "bends",
            Reason::CutterBends => "cutter",
            Reason::Given => "given",
        }
    }
}

/// The loads of one pass, each the middle of its band.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Loads {
    /// Chip, force, power.
    pub strain: Strain,
    /// Mean chip where the cutter is narrowest: in the root.
    pub root_chip_mm: f64,
    /// Mean chip where it leaves the wood: on the flank at the crest.
    pub crest_chip_mm: f64,
    /// Thinnest mean chip that does not burn.
    pub least_chip_mm: f64,
    /// Greatest feed per edge that does not tear.
    pub most_feed_per_edge_mm: f64,
    /// Speed of the edge at the tip, m/s.
    pub tip_m_s: f64,
    /// And where the cutter leaves the wood.
    pub crest_m_s: f64,
    /// Torque on A if the whole force turns the blank, N m.
    pub torque_nm: Option<f64>,
    /// How far the blank bends if the whole force bends it, at its weakest place.
    pub bend_mm: Option<f64>,
    /// How far it twists between the chuck and the far end of the cut.
    pub twist_deg: Option<f64>,
    /// How far the cutter bends.
    pub cutter_bend_mm: Option<f64>,
}

/// How fast one pass may be fed. Rooms say how many times a load at the knee fits into its limit; the least room gives the
/// least feed, the one grows with the other.
#[derive(Clone, Copy, Debug)]
pub struct Reach {
    /// Fastest feed that the axes follow.
    axes: (f64, Reason),
    /// Greatest feed per revolution that does not tear, mm.
    tears: f64,
    /// Feed per revolution at the chip from which the pressure is known, mm.
    knee: f64,
    /// Room of the spindle's power, times rev/min.
    power: Option<f64>,
    /// Least room of the forces, how far beyond the knee it reaches, and what sets it.
    force: Option<(f64, f64, Reason)>,
    /// Least feed per revolution whose chips do not burn, mm.
    least: f64,
}

impl Reach {
    /// The greatest feed within every limit at a spindle speed, and the limit that it meets.
    pub fn most(&self, rpm: f64) -> (f64, Reason) {
        let power =
            self.power.map(|room| room / rpm).filter(|&room| self.force.is_none_or(|of| room <= of.0));
        let strained = match power {
            Some(room) => Some((over_knee(room), Reason::Power)),
            None => self.force.map(|(_, over, reason)| (over, reason)),
        };
        let strained = strained.map(|(over, reason)| (over * self.knee * rpm, reason));
        let limits = [self.axes, (self.tears * rpm, Reason::Tears)];
        least(limits.into_iter().chain(strained)).unwrap_or(self.axes)
    }

    /// The least feed at a spindle speed whose chips do not burn.
    pub fn least(&self, rpm: f64) -> f64 {
        self.least * rpm
    }
}

/// The feed that fills a room, as a multiple of that at the knee.
fn over_knee(room: f64) -> f64 {
    if room > 1.0 { room.powf(1.0 / (1.0 - FALL)) } else { room }
}

fn least(all: impl Iterator<Item = (f64, Reason)>) -> Option<(f64, Reason)> {
    all.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The limits of a job, whatever its passes.
#[derive(Clone, Debug)]
pub struct Bounds {
    /// The shop.
    pub setup: Setup,
    crest_radius_mm: f64,
    depth_mm: f64,
    lead_mm: f64,
    crest_width_mm: f64,
    shape: Shape,
    blank: Option<Bar>,
    /// Where a pass ends and begins on the blank, from the chuck.
    cut_mm: [f64; 2],
    cutter: Bar,
    /// Fastest feed that the axes follow, and which of them ends it.
    pub axes: (f64, Reason),
    /// Way of one pass along the thread at the crest.
    pub way_mm: f64,
    /// Along the blank.
    pub span_mm: f64,
}

impl Bounds {
    /// The limits of a job whose sizes are known.
    pub fn of(job: &Job, screw: &Screw) -> Self {
        let (setup, drawing) = (design::setup(job, screw), design::drawing(job, screw));
        let lead_mm = job.screw.lead_mm;
        let turn_mm = turn_length_mm(lead_mm, 2.0 * screw.crest_radius_mm);
        let a_turns = setup.machine.a.top_deg_per_min / 360.0;
        let x_turns = setup.machine.x.top_mm_per_min / lead_mm;
        let (turns, axis) = if a_turns <= x_turns { (a_turns, Reason::A) } else { (x_turns, Reason::X) };
        let span_mm = drawing.run_out_to_s_mm - setup.blank.from_s_mm;
        let blank = stiffness::blank(&setup, 2.0 * screw.root_radius_mm);
        let from_chuck = |s_mm: f64| setup.blank.chuck_face_s_mm - s_mm;
        let cut_mm = [drawing.full_to_s_mm, setup.blank.from_s_mm].map(from_chuck);
        Bounds {
            crest_radius_mm: screw.crest_radius_mm,
            depth_mm: screw.depth_mm,
            lead_mm,
            crest_width_mm: screw.crest_width_mm,
            shape: screw.shape(),
            blank,
            cut_mm,
            cutter: stiffness::cutter(&setup),
            axes: (AXIS_SHARE * turns * turn_mm, axis),
            way_mm: span_mm / lead_mm * turn_mm,
            span_mm,
            setup,
        }
    }

    /// The same with edges in another state.
    #[must_use]
    pub fn with_edge(mut self, edge: Edge) -> Self {
        self.setup.cutter.edge = edge;
        self
    }

    /// The same in another wood.
    #[must_use]
    pub fn in_wood(mut self, timber: &Timber) -> Self {
        self.setup.timber = timber.clone();
        self.blank = stiffness::blank(&self.setup, 2.0 * (self.crest_radius_mm - self.depth_mm));
        self
    }

    /// What a pass meets; `before_mm` is the depth of the groove it finds.
    pub fn met(&self, trip: &Trip, before_mm: f64) -> Met {
        trip.met(self.shape, before_mm)
    }

    /// Radius at which the middle of a section is cut.
    fn arm_mm(&self, depth_mm: f64, met: &Met) -> f64 {
        self.crest_radius_mm - depth_mm + met.whole.height_mm
    }

    fn strain(&self, depth_mm: f64, met: &Met, rpm: f64, feed: f64) -> Strain {
        let turn = |radius: f64| turn_length_mm(self.lead_mm, 2.0 * radius);
        let share = turn(self.arm_mm(depth_mm, met)) / turn(self.crest_radius_mm);
        let running = Running {
            rpm,
            edges: self.setup.cutter.flutes,
            speed_mm_per_min: feed * share,
            edge: self.setup.cutter.edge,
            density_kg_m3: self.setup.timber.density_kg_m3,
        };
        pressure::strain(&met.whole, &running)
    }

    /// The loads of a pass at a spindle speed and a feed.
    pub fn loads(&self, depth_mm: f64, met: &Met, rpm: f64, feed: f64) -> Loads {
        let strain = self.strain(depth_mm, met, rpm, feed);
        let push = strain.push;
        let arm = self.arm_mm(depth_mm, met);
        let torque_nmm = push.map(|push| push.side_n * arm);
        let [near_mm, far_mm] = self.cut_mm;
        Loads {
            strain,
            root_chip_mm: met.root_share * strain.feed_per_edge_mm,
            crest_chip_mm: met.crest_share * strain.feed_per_edge_mm,
            least_chip_mm: self.least_chip_mm(),
            most_feed_per_edge_mm: pressure::most_feed_per_edge_mm(self.crest_width_mm),
            tip_m_s: pressure::edge_speed_m_s(self.shape.radius_at(0.0), rpm),
            crest_m_s: pressure::edge_speed_m_s(met.crest_radius_mm, rpm),
            torque_nm: torque_nmm.map(|torque| torque / 1000.0),
            bend_mm: self
                .blank
                .zip(push)
                .map(|(bar, push)| bar.bend_mm(push.side_n, bar.weakest_mm(near_mm, far_mm))),
            twist_deg: self.blank.zip(torque_nmm).map(|(bar, torque)| {
                bar.twist_deg(torque, bar.farthest_mm(near_mm, far_mm), bar.modulus_n_mm2 / BEND_OVER_SHEAR)
            }),
            cutter_bend_mm: push.map(|push| self.cutter.bend_mm(push.side_n, self.cutter.length_mm)),
        }
    }

    /// Thinnest mean chip that does not burn.
    pub fn least_chip_mm(&self) -> f64 {
        pressure::least_chip_mm(self.setup.timber.density_kg_m3, self.setup.cutter.edge)
    }

    /// How fast a pass may be fed, whatever the spindle speed. `last` says whether the blank must hold as still as the last
    /// pass wants it.
    pub fn reach(&self, depth_mm: f64, met: &Met, last: bool) -> Reach {
        // A revolution a minute: feeds are then feeds per revolution.
        let at_one = self.strain(depth_mm, met, 1.0, 1.0);
        // Above the chip from which the pressure is known, every load grows with the feed to the power 1 - FALL; below it
        // in proportion. At equal chips the forces are equal at every speed, and power grows with the speed.
        let knee = MODEL_FROM_MM / at_one.chip_mm;
        let there = self.loads(depth_mm, met, 1.0, knee);
        let room = |limit: Option<f64>, load: Option<f64>| Some(limit? / BAND / load?);
        let machine = &self.setup.machine;
        let bends = BENDS_MM[usize::from(last)];
        let rooms = [
            (room(machine.a.holding_nm, there.torque_nm), Reason::Torque),
            (room(Some(bends), there.bend_mm), Reason::BlankBends),
            (room(Some(CUTTER_BENDS_MM), there.cutter_bend_mm), Reason::CutterBends),
        ];
        let rooms = rooms.into_iter().filter_map(|(room, reason)| Some((room?, reason)));
        Reach {
            axes: self.axes,
            tears: pressure::most_feed_per_edge_mm(self.crest_width_mm) / at_one.feed_per_edge_mm,
            knee,
            power: room(machine.spindle.power_w, there.strain.push.map(|push| push.power_w)),
            force: least(rooms).map(|(room, reason)| (room, over_knee(room), reason)),
            least: self.least_chip_mm() / at_one.chip_mm,
        }
    }

    /// Minutes of a pass and of the way to it, about: the way along the thread, down at a third of the feed, back along the
    /// blank, and a turn of A to the next start.
    pub fn minutes(&self, depth_mm: f64, feed: f64) -> f64 {
        let machine = &self.setup.machine;
        let back = (self.span_mm / machine.x.top_mm_per_min).max(360.0 / machine.a.top_deg_per_min);
        (self.way_mm + 3.0 * depth_mm) / feed + back
    }

    /// Free length of the blank over the diameter of its root.
    pub fn slenderness(&self) -> f64 {
        let blank = &self.setup.blank;
        let root_mm = 2.0 * (self.crest_radius_mm - self.depth_mm);
        (blank.chuck_face_s_mm - blank.from_s_mm) / root_mm
    }

    /// By how much the play of X and A may shift a groove that is cut both ways, along the axis.
    pub fn play_mm(&self) -> f64 {
        let machine = &self.setup.machine;
        machine.x.backlash_mm + machine.a.backlash_deg / 360.0 * self.lead_mm
    }

    /// Depth of the thread.
    pub fn full_mm(&self) -> f64 {
        self.depth_mm
    }

    /// Tangent of the cutter's half angle: what a step of depth takes off each flank.
    pub fn flank_per_depth(&self) -> f64 {
        self.shape.tan_half()
    }
}
