//! The set-up sheet: one page at the machine, as HTML to print and as plain text. Gathers words and numbers that others
//! worked out; the drawing stands in `picture`, the page in `page`, the plain text in `plain`.

mod page;
mod picture;
mod plain;

pub use page::{Paper, page};
pub use plain::text;

use std::collections::BTreeSet;

use crate::design::{Feature, Operation, Screw, Step};
use crate::job::Job;
use crate::setup::{
    CommentStyle, Cutter, DwellUnit, FeedConvention, InverseUnit, SpindleControl, Timber, Tip, TopTurns,
    XEnd, ZZero,
};
use crate::units::LengthUnit;
use crate::wood::dust;

/// Turns of A from the start to the end of a program that need no word.
const FEW_TURNS: f64 = 3.0;

/// One program as the sheet tells it.
#[derive(Clone, Debug)]
pub struct Row<'a> {
    /// Name of its file.
    pub file: String,
    /// Its step.
    pub step: &'a Step,
    /// Minutes by the proof.
    pub minutes: Option<f64>,
    /// Whether its proof found nothing against it.
    pub proved: bool,
    /// Turns by which A ends away from where it began.
    pub wound_turns: f64,
    /// Depths of the thread's passes, if it cuts the thread.
    pub depths_mm: Vec<f64>,
}

/// All that a sheet tells.
#[derive(Clone, Debug)]
pub struct Sheet<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its sizes.
    pub screw: &'a Screw,
    /// Its programs in order.
    pub rows: Vec<Row<'a>>,
    /// Digest of the job.
    pub digest: String,
}

impl Sheet<'_> {
    fn show(&self, mm: f64) -> String {
        self.job.unit.show(mm)
    }

    /// Every cutter once, with the numbers of its programs.
    fn cutters(&self) -> Vec<(&Cutter, Vec<usize>)> {
        let mut cutters: Vec<(&Cutter, Vec<usize>)> = Vec::new();
        for (index, row) in self.rows.iter().enumerate() {
            let cutter = &row.step.setup.cutter;
            match cutters.iter_mut().find(|(known, _)| *known == cutter) {
                Some((_, numbers)) => numbers.push(index + 1),
                None => cutters.push((cutter, vec![index + 1])),
            }
        }
        cutters
    }

    /// A cutter in words.
    fn cutter_words(&self, cutter: &Cutter) -> String {
        let tip = match cutter.tip {
            _ if cutter.is_straight() => "straight".to_owned(),
            Tip::Flat { diameter_mm: 0.0 } => format!("{} degrees, sharp", cutter.included_angle_deg),
            Tip::Flat { diameter_mm } => {
                format!("{} degrees, flat {}", cutter.included_angle_deg, self.show(diameter_mm))
            }
            Tip::Ball { radius_mm } => {
                format!("{} degrees, ball radius {}", cutter.included_angle_deg, self.show(radius_mm))
            }
        };
        format!(
            "{tip}, {} across, {} edges {} long, sticking out {}",
            self.show(cutter.cutting_diameter_mm),
            cutter.flutes,
            self.show(cutter.cutting_length_mm),
            self.show(cutter.stick_out_mm)
        )
    }

    /// What a step makes of what it meets: before and after.
    fn before_after(&self, step: &Step) -> [String; 2] {
        let [mut before, mut after] = [String::new(), String::new()];
        for (operation, features) in &step.operations {
            let [from, to] = self.change(*operation, features);
            if before.is_empty() {
                before = from;
            }
            let joint = if after.is_empty() { "" } else { "; " };
            after.push_str(joint);
            after.push_str(&to);
        }
        [before, after]
    }

    fn change(&self, operation: Operation, features: &[Feature]) -> [String; 2] {
        let (job, screw) = (self.job, self.screw);
        let crest = format!("round {}", self.show(2.0 * screw.crest_radius_mm));
        let after = match operation {
            Operation::Round => {
                let shape = super::stick::shape_name(job.blank.shape);
                return [format!("{shape} {}", self.show(job.blank.size_mm)), crest];
            }
            Operation::Thread => format!(
                "{}-hand thread, {} start{}, lead {}, root {}",
                job.screw.hand.name(),
                job.screw.starts,
                if job.screw.starts == 1 { "" } else { "s" },
                self.show(job.screw.lead_mm),
                self.show(2.0 * screw.root_radius_mm)
            ),
            Operation::Nose => "nose shaped".to_owned(),
            Operation::Chamfer => match job.operations.nose.as_ref().map(|nose| nose.shape) {
                Some(crate::job::NoseShape::Chamfer { length_mm }) => {
                    format!("chamfer {} long", self.show(length_mm))
                }
                _ => "chamfer".to_owned(),
            },
            Operation::Marks => "saw lines".to_owned(),
            Operation::Relief | Operation::Garter => features
                .iter()
                .find_map(|feature| match feature {
                    Feature::Turn { from_s_mm: Some(from), to_s_mm, to_r_mm, .. } => Some(format!(
                        "groove {} wide, {} thick",
                        self.show(to_s_mm - from),
                        self.show(2.0 * to_r_mm)
                    )),
                    _ => None,
                })
                .unwrap_or_default(),
            Operation::Tenon => {
                job.operations.tenon.as_ref().map_or(String::new(), |tenon| match tenon.flats {
                    Some(flats) => format!(
                        "tenon {} long, {} flats, {} across",
                        self.show(tenon.length_mm),
                        flats.count,
                        self.show(flats.across_mm)
                    ),
                    None => {
                        format!(
                            "tenon {} long, {} thick",
                            self.show(tenon.length_mm),
                            self.show(tenon.diameter_mm)
                        )
                    }
                })
            }
        };
        [crest, after]
    }

    /// Where zero lies, and the check of A by hand.
    fn zeros(&self) -> Vec<[String; 2]> {
        let machine = &self.job.machine;
        let left_right = if machine.headstock == XEnd::XMinus { "left" } else { "right" };
        let count = if machine.headstock == XEnd::XMinus { "down" } else { "up" };
        let z = match machine.z_zero {
            ZZero::Axis => "the AXIS of rotation, not the top of the wood".to_owned(),
            ZZero::FinishedSurface => format!(
                "the top of the finished cylinder, {} above the axis",
                self.show(self.screw.crest_radius_mm)
            ),
        };
        let top = match machine.a_plus {
            TopTurns::ToFront => "FRONT",
            TopTurns::ToBack => "BACK",
        };
        let flat = match self.job.blank.shape {
            crate::setup::BlankShape::Round => "a mark",
            _ => "a flat on top, and a mark",
        };
        let nose = match self.job.blank.waste_nose_mm {
            0.0 => "the end of the blank".to_owned(),
            waste => format!("{} from the tail end of the blank", self.show(waste)),
        };
        vec![
            [
                "X0".into(),
                format!("the nose face, {nose}; X counts {count} towards the headstock on the {left_right}"),
            ],
            ["Y0".into(), "the cutter straight above the axis; set once, then leave Y alone".into()],
            ["Z0".into(), z],
            ["A0".into(), format!("{flat} across blank and chuck; start 1 passes the nose face there")],
            [
                "hand check".into(),
                format!("jog A from 0 to +90: the top of the blank must move to the {top}"),
            ],
        ]
    }

    /// What F means, in a word.
    fn feed_words(&self) -> String {
        let unit = self.job.machine.style.unit;
        match self.job.machine.feed {
            FeedConvention::InverseTime => match self.job.machine.habits.inverse {
                InverseUnit::PerMinute => "G93, one over the minutes of a line".to_owned(),
                InverseUnit::PerSecond => "G93, one over the seconds of a line".to_owned(),
                InverseUnit::Seconds => "G93, the seconds of a line".to_owned(),
            },
            FeedConvention::Linear => format!("G94, {unit}/min along X and Z as if A stood still"),
            FeedConvention::Combined => "G94, millimetres and degrees together".to_owned(),
        }
    }

    /// What to mind, for this wood and this machine.
    fn cautions(&self) -> Vec<String> {
        let (job, machine) = (self.job, &self.job.machine);
        let timber = self.rows.first().map_or_else(Timber::default, |row| row.step.setup.timber.clone());
        let [of_wood, of_all] = dust::caution(&timber);
        let mut cautions = vec![
            format!("{}. Glasses on; local rules decide.", sentence(&format!("{of_wood}; {of_all}"))),
            format!("F must mean {}: read another way it runs many times too fast.", self.feed_words()),
        ];
        if machine.spindle.control == SpindleControl::Hand {
            cautions.push(
                "The spindle has its own switch: the program stops for you to switch it on, and off.".into(),
            );
        }
        if machine.habits.one_speed && machine.spindle.control == SpindleControl::Program {
            let rpm: BTreeSet<u32> = self.rows.iter().map(|row| row.step.setup.rpm.round() as u32).collect();
            let rpm: Vec<String> = rpm.iter().map(ToString::to_string).collect();
            cautions.push(format!(
                "This control sets no speed: turn the spindle's dial to {} rev/min before the start.",
                rpm.join(" or ")
            ));
        }
        if machine.style.dwell == DwellUnit::None && machine.spindle.control == SpindleControl::Program {
            cautions.push(
                "The program stops right after it has switched the spindle on: go on when it runs at full speed."
                    .into(),
            );
        }
        let wound: Vec<String> = self
            .rows
            .iter()
            .enumerate()
            .filter(|(_, row)| row.wound_turns > FEW_TURNS)
            .map(|(index, row)| format!("{} ({:.0} turns)", index + 1, row.wound_turns))
            .collect();
        if !wound.is_empty() {
            let then = match machine.a.limit_deg {
                None => "turn A on to the mark and set it to 0 before the next program",
                Some(_) => "let A unwind; set no new A0, its limits count from the old one",
            };
            cautions.push(format!("A ends wound up after program {}: {then}.", wound.join(", ")));
        }
        if job.screw.plain_nose_mm > 0.0 && job.operations.round.is_none() {
            cautions.push(format!(
                "Turn the plain nose first, {} long, thinner than {}.",
                self.show(job.screw.plain_nose_mm),
                self.show(2.0 * self.screw.root_radius_mm)
            ));
        }
        if machine.style.comments == CommentStyle::None {
            cautions.push(
                "This control takes no comments: its programs cannot say which version of the job they belong to."
                    .into(),
            );
        }
        if self.cutters().len() > 1 {
            cautions.push("Isolate the router before each change of cutter; set Z0 anew after it.".into());
        }
        cautions.push(
            "Check centre and chuck after the first pass: wood gives way. Never leave it running alone."
                .into(),
        );
        cautions
    }

    /// What to tick off before the first program.
    fn ticks(&self) -> Vec<String> {
        let (job, machine) = (self.job, &self.job.machine);
        let centre = machine.centre.map_or("no tail centre".to_owned(), |centre| {
            format!("tail centre at most {} thick, locked", self.show(centre.diameter_mm))
        });
        vec![
            "safety.md read; stop button tried".to_owned(),
            format!("blank sound: no shakes, no knots; {}", job.wood),
            format!("{} in the chuck; {centre}", self.show(machine.chuck.grip_mm)),
            "cutter tight, stick-out measured".to_owned(),
            "X0, Y0, Z0, A0 set; mark drawn across blank and chuck".to_owned(),
            "hand check of A done".to_owned(),
            "run in the air, spindle off, A seen turning".to_owned(),
        ]
    }

    /// What to measure and write down.
    fn fields(&self) -> Vec<String> {
        let screw = self.screw;
        let mut fields =
            vec![format!("blank, wanted {}", self.show(self.job.blank.size_mm)), "runs out by".to_owned()];
        for (cutter, numbers) in self.cutters() {
            let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
            fields.push(format!("stick-out, {} for {}", self.show(cutter.stick_out_mm), numbers.join(", ")));
        }
        if self.job.operations.round.is_some() {
            fields.push(format!("rounded, {}", self.show(2.0 * screw.crest_radius_mm)));
        }
        fields.push(format!("root, {}", self.show(2.0 * screw.root_radius_mm)));
        fields.push(format!("crest flat, {}", self.show(screw.crest_flat_mm)));
        if let Some(tenon) = &self.job.operations.tenon {
            let size = tenon.flats.map_or(tenon.diameter_mm, |flats| flats.across_mm);
            fields.push(format!("tenon, {}", self.show(size)));
        }
        fields.push("date, name".to_owned());
        fields
    }

    fn unit(&self) -> LengthUnit {
        self.job.unit
    }

    fn total_minutes(&self) -> f64 {
        self.rows.iter().filter_map(|row| row.minutes).sum()
    }
}

/// The same with a capital to begin with.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Minutes, rounded up to one.
fn minutes(minutes: Option<f64>) -> String {
    minutes.map_or("?".to_owned(), |minutes| format!("{:.0}", minutes.max(1.0)))
}
