//! A small generator of nut programs, and the shop they run in. It is an oracle: plain formulas of section 3 of the
//! trade's arithmetic (centre path `(e cos u, e sin u, z0 + p u)`), no code of the program under test.

use std::f64::consts::{PI, TAU};
use std::fmt::Write as _;
use std::sync::Arc;

use threadwright::drawing::{Hand, NutDrawing, NutStage, NutTolerances, SectionPoint};
use threadwright::setup::{
    Arcs, Block, Chuck, Clamps, CommentStyle, Cutter, Dialect, Dust, DwellUnit, Edge, EndWord,
    FeedConvention, Habits, Machine, Mill, NutSetup, NutTool, Rotary, Slide, Spindle, SpindleControl,
    TextStyle, ThreadMill, Timber, Tip, Tooth, TopTurns, XEnd, ZZero,
};
use threadwright::source::Source;
use threadwright::units::LengthUnit;

/// A nut to be made: what its program is written from.
#[derive(Clone, Debug)]
pub(crate) struct Nut {
    pub(crate) hand: Hand,
    pub(crate) lead: f64,
    pub(crate) starts: u32,
    pub(crate) major: f64,
    pub(crate) bore: f64,
    pub(crate) length: f64,
    pub(crate) start_angle: f64,
    pub(crate) mill: ThreadMill,
    /// Radial depths of the passes, as the cutter axis's distance from the nut's, the last the deepest.
    pub(crate) passes: Vec<f64>,
    /// How the tooth stands above (below) the face in the level circles of the chamfers, and their radius.
    pub(crate) chamfer: Option<[f64; 2]>,
    pub(crate) lines: bool,
}

/// The tooth of the tables: 30 degrees a side, half a flat of 0.5.
pub(crate) fn mill(diameter: f64, included: f64, flat: f64) -> ThreadMill {
    ThreadMill {
        title: "nut cutter".to_owned(),
        teeth: vec![Tooth {
            middle_mm: 6.0,
            diameter_mm: diameter,
            included_angle_deg: included,
            tip_flat_mm: flat,
        }],
        flutes: 3,
        neck_diameter_mm: 12.0,
        neck_length_mm: 110.0,
        shank_diameter_mm: 12.0,
        collet_diameter_mm: 40.0,
        stick_out_mm: 130.0,
        edge: Edge::Sharp,
    }
}

/// A two-start nut of the tables' first case: major 51, lead 20, 60 degrees, half flat 0.5, cutter 26.
pub(crate) fn press_nut() -> Nut {
    Nut {
        hand: Hand::Right,
        lead: 20.0,
        starts: 2,
        major: 51.0,
        bore: 44.0,
        length: 70.0,
        start_angle: 30.0,
        mill: mill(26.0, 60.0, 1.0),
        passes: vec![10.2, 11.1, 11.9, 12.5],
        chamfer: None,
        lines: false,
    }
}

impl Nut {
    pub(crate) fn eccentricity(&self) -> f64 {
        (self.major - self.mill.teeth[0].diameter_mm) / 2.0
    }

    /// Half width of the groove at a radius by the closed form (handbook section 3), and from where the cutter's own radius
    /// limits it by that limit.
    pub(crate) fn half_width(&self, r: f64) -> f64 {
        let tooth = self.mill.teeth[0];
        let (flat, rc) = (tooth.tip_flat_mm / 2.0, tooth.diameter_mm / 2.0);
        let tan = (tooth.included_angle_deg / 2.0).to_radians().tan();
        let (e, p) = (self.eccentricity(), self.lead / TAU);
        let h = p / tan;
        let at = |psi: f64| {
            let q = (r * r + e * e - 2.0 * r * e * psi.cos()).sqrt();
            (q <= rc).then_some(flat + (rc - q) * tan + p * psi)
        };
        // The best moment of an involute: cos psi where the closed form has it; where that lies outside the cutter, the
        // last moment inside.
        let free = (h / r).acos() - (h / e).acos();
        if let Some(width) = at(free) {
            return width;
        }
        let psi = ((r * r + e * e - rc * rc) / (2.0 * r * e)).clamp(-1.0, 1.0).acos();
        flat + p * psi
    }

    pub(crate) fn drawing(&self) -> NutDrawing {
        let (low, high) = (self.bore / 2.0, self.major / 2.0);
        let count = 400;
        let section = (0..=count)
            .map(|i| {
                // Denser towards the root, where it is round.
                let share = (PI / 2.0 * f64::from(i) / f64::from(count)).sin();
                let r = low + (high - low) * share;
                SectionPoint { r_mm: r, half_width_mm: self.half_width(r) }
            })
            .collect();
        let cone = self.chamfer.map(|[above, radius]| {
            let tooth = self.mill.teeth[0];
            let tan = (tooth.included_angle_deg / 2.0).to_radians().tan();
            let reach = |off: f64| radius + tooth.diameter_mm / 2.0 - (off - tooth.tip_flat_mm / 2.0) / tan;
            let face = reach(above);
            threadwright::drawing::Cone { face_diameter_mm: 2.0 * face, depth_mm: (face - low) * tan }
        });
        NutDrawing {
            unit: LengthUnit::Mm,
            starts: self.starts,
            hand: self.hand,
            lead_mm: self.lead,
            length_mm: self.length,
            bore_diameter_mm: self.bore,
            major_diameter_mm: self.major,
            start_angle_deg: self.start_angle,
            section,
            chamfer_top: cone,
            chamfer_bottom: cone,
            done: NutStage::Threaded,
            passes: NutTolerances::default(),
        }
    }

    pub(crate) fn setup(&self) -> NutSetup {
        shop(NutTool::Thread(self.mill.clone()), self.length, Some(self.bore))
    }

    /// The program, in millimetres.
    pub(crate) fn program(&self) -> String {
        let mut text = head();
        let tooth = self.mill.teeth[0];
        let safe_low = -(self.length + 16.0);
        let feed = |e: f64, p: f64| {
            let wall = e + tooth.diameter_mm / 2.0;
            1500.0 * e.hypot(p) / wall.hypot(p)
        };
        let _ = writeln!(text, "G0 Z2.0\nG1 Z{safe_low:.4} F1500.0");
        if let Some([above, radius]) = self.chamfer {
            for z in [-self.length - above, above] {
                let end = z - tooth.middle_mm;
                let _ = writeln!(text, "G1 Z{end:.4} F1500.0");
                let f = feed(radius, 0.0);
                arc(&mut text, self.lines, true, [0.0, 0.0, end], [radius, 0.0, end], [radius / 2.0, 0.0], f);
                for _ in 0..1 {
                    arc(&mut text, self.lines, true, [radius, 0.0, end], [-radius, 0.0, end], [0.0; 2], f);
                    arc(&mut text, self.lines, true, [-radius, 0.0, end], [radius, 0.0, end], [0.0; 2], f);
                }
                arc(&mut text, self.lines, true, [radius, 0.0, end], [0.0, 0.0, end], [radius / 2.0, 0.0], f);
            }
            let _ = writeln!(text, "G1 Z{safe_low:.4} F1500.0");
        }
        let p = self.lead / TAU;
        // Left hand cuts downwards anticlockwise; here it climbs clockwise, which is the same surface.
        let way = self.hand.sign();
        for start in 0..self.starts {
            let phase = (self.start_angle + 360.0 * f64::from(start) / f64::from(self.starts)).to_radians();
            for &e in &self.passes {
                let half = tooth.tip_flat_mm / 2.0
                    + (self.major - self.bore) / 2.0 * (tooth.included_angle_deg / 2.0).to_radians().tan()
                    + 2.0;
                // Angle at which the tooth's middle is below the bottom face by half a groove: z = p way (u - phase).
                let low = phase + way * (-self.length - half) / p;
                let high = phase + way * half / p;
                let turns = ((high - low).abs() / PI).ceil();
                let point = |u: f64| [e * u.cos(), e * u.sin(), way * p * (u - phase) - tooth.middle_mm];
                let first = point(low);
                let before = [0.0, 0.0, first[2] - self.lead / 4.0];
                let _ = writeln!(text, "G1 Z{:.4} F1500.0", before[2]);
                let f = feed(e, p);
                let ccw = way > 0.0;
                arc(&mut text, self.lines, ccw, before, first, [first[0] / 2.0, first[1] / 2.0], f);
                for half_turn in 0..turns as usize {
                    let from = low + way * PI * half_turn as f64;
                    arc(&mut text, self.lines, ccw, point(from), point(from + way * PI), [0.0; 2], f);
                }
                let last = point(low + way * PI * turns);
                let out = [0.0, 0.0, last[2] + self.lead / 4.0];
                arc(&mut text, self.lines, ccw, last, out, [last[0] / 2.0, last[1] / 2.0], f);
                let _ = writeln!(text, "G1 Z{safe_low:.4} F1500.0");
            }
        }
        text.push_str("G1 Z2.0 F1500.0\nG0 Z30.0\nM5\nM2\n");
        text
    }
}

/// The head of a program.
pub(crate) fn head() -> String {
    "G21\nG17\nG40\nG49\nG54\nG80\nG90\nG94\nG0 Z30.0\nG0 X0.0 Y0.0\nM3 S12000\nG4 P6.0\n".to_owned()
}

/// One arc about a centre, as G2 or G3 or as lines of two degrees.
pub(crate) fn arc(
    text: &mut String,
    lines: bool,
    anticlockwise: bool,
    from: [f64; 3],
    to: [f64; 3],
    centre: [f64; 2],
    feed: f64,
) {
    if !lines {
        let word = if anticlockwise { "G3" } else { "G2" };
        let _ = writeln!(
            text,
            "{word} X{:.4} Y{:.4} Z{:.4} I{:.4} J{:.4} F{feed:.1}",
            to[0],
            to[1],
            to[2],
            centre[0] - from[0],
            centre[1] - from[1]
        );
        return;
    }
    let angle = |p: [f64; 3]| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let radius = (from[0] - centre[0]).hypot(from[1] - centre[1]);
    let begin = angle(from);
    let ahead = (angle(to) - begin).rem_euclid(TAU);
    let sweep = if anticlockwise { ahead } else { ahead - TAU };
    let count = (sweep.abs() / 2.0_f64.to_radians()).ceil();
    for step in 1..=count as usize {
        let share = step as f64 / count;
        let u = begin + sweep * share;
        let z = from[2] + (to[2] - from[2]) * share;
        let (x, y) = (centre[0] + radius * u.cos(), centre[1] + radius * u.sin());
        let _ = writeln!(text, "G1 X{x:.4} Y{y:.4} Z{z:.4} F{feed:.1}");
    }
}

/// A block in a shop, with a cutter in the collet.
pub(crate) fn shop(tool: NutTool, thickness: f64, hole: Option<f64>) -> NutSetup {
    NutSetup {
        machine: machine(),
        mill: Mill {
            x_travel_mm: 700.0,
            y_travel_mm: 500.0,
            collet_above_bed_mm: [40.0, 400.0],
            y_top_mm_per_min: 3000.0,
            y_backlash_mm: 0.05,
            arcs: Arcs::Centre,
        },
        block: Block {
            along_grain_mm: 160.0,
            across_grain_mm: 120.0,
            thickness_mm: thickness,
            hole_diameter_mm: hole,
            below_mm: 25.0,
            below_diameter_mm: 70.0,
            clamps: Clamps { from_axis_mm: 50.0, height_mm: 20.0 },
        },
        timber: timber(),
        tool,
        x_limits_mm: [-300.0, 300.0],
        y_limits_mm: [-200.0, 200.0],
        z_limits_mm: [-100.0, 100.0],
        rpm: 12_000.0,
        edge_feed_mm_per_min: 1500.0,
    }
}

/// A straight cutter for bores.
pub(crate) fn boring_cutter() -> Cutter {
    Cutter {
        title: "long straight cutter".to_owned(),
        included_angle_deg: Cutter::STRAIGHT_DEG,
        tip: Tip::Flat { diameter_mm: 12.0 },
        flutes: 2,
        cutting_diameter_mm: 12.0,
        cutting_length_mm: 80.0,
        shank_diameter_mm: 12.0,
        collet_diameter_mm: 40.0,
        stick_out_mm: 95.0,
        edge: Edge::Sharp,
    }
}

fn timber() -> Timber {
    Timber { name: "beech".to_owned(), dust: Some(Dust::NoneDocumented), ..Timber::default() }
}

fn machine() -> Machine {
    let slide = Slide { top_mm_per_min: 3000.0, accel_mm_per_s2: 200.0, backlash_mm: 0.05 };
    Machine {
        title: "the press room's router".to_owned(),
        headstock: XEnd::XMinus,
        a_plus: TopTurns::ToFront,
        z_zero: ZZero::Axis,
        chuck: Chuck { diameter_mm: 100.0, grip_mm: 40.0 },
        centre: None,
        x: slide,
        z: slide,
        a: Rotary {
            top_deg_per_min: 7200.0,
            accel_deg_per_s2: 360.0,
            backlash_deg: 0.1,
            limit_deg: None,
            holding_nm: None,
        },
        x_reach_mm: 700.0,
        x_past_chuck_mm: 50.0,
        z_range_above_axis_mm: [-20.0, 120.0],
        feed: FeedConvention::Linear,
        spindle: Spindle {
            control: SpindleControl::Program,
            least_rpm: 8000.0,
            top_rpm: 24_000.0,
            start_s: 4.0,
            power_w: None,
        },
        style: TextStyle {
            unit: LengthUnit::Mm,
            decimals: 4,
            line_length: 70,
            comments: CommentStyle::Parentheses,
            line_numbers: None,
            percent: false,
            end: EndWord::M2,
            dwell: DwellUnit::Seconds,
        },
        dialect: Dialect::default(),
        habits: Habits::default(),
    }
}

/// A program under a name.
pub(crate) fn source(text: &str) -> Arc<Source> {
    Source::new("nut.nc", text)
}
