//! What is to be cut besides the thread: `[round]`, `[relief]`, `[nose]`, `[garter]`, `[tenon]` and `[marks]`. Checks
//! each table for itself; how they go together is asked in `fits`. What needs sizes that follow from the cutter (the root,
//! the slope of a chamfer) is asked in design.

use std::sync::Arc;

use super::cutter;
use super::desk::{Desk, Required};
use super::file::{GarterFile, JobFile, MarksFile, NoseFile, ReliefFile, RoundFile, TenonFile};
use super::read::Load;
use super::{Cutting, Marks};
use crate::finding::{Finding, job as codes};
use crate::setup::Cutter;
use crate::source::Source;
use crate::units::LengthUnit;

/// Share of the thread's feed at which an operation runs when its table names none: a straight cutter meets corners and
/// end grain (common practice, no source).
const USUAL_FEED_SHARE: f64 = 0.7;
/// Depth of one level when the table names none (common practice, no source).
const USUAL_STEP_MM: f64 = 3.0;
/// Depth of the last level when the table names none (common practice, no source).
const USUAL_FINISH_MM: f64 = 0.5;
/// Share of the cutter's width by which it goes on in a turn when the table names none (common practice, no source).
const USUAL_ADVANCE: f64 = 0.5;
/// Depth of a saw line when the table names none.
const USUAL_MARK_MM: f64 = 0.5;

/// Everything asked for besides the thread. All absent: the blank is round already.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Operations {
    /// Bring the blank to the crest diameter.
    pub round: Option<Round>,
    /// A groove in which the thread ends.
    pub relief: Option<Relief>,
    /// Shape of the nose.
    pub nose: Option<Nose>,
    /// A groove for the garter that holds the screw in its hub.
    pub garter: Option<Garter>,
    /// The tenon that takes a hub or a handle.
    pub tenon: Option<Tenon>,
    /// Lines that show where to saw.
    pub marks: Option<SawMarks>,
}

impl Operations {
    /// Whether anything but the thread is cut.
    pub fn any(&self) -> bool {
        *self != Operations::default()
    }

    /// Gives every table that names no spindle speed or no feed what follows from the thread's, as it is when a plan has
    /// settled it. `marks` tell what was written.
    pub fn follow(&mut self, cutting: &Cutting, marks: &Marks) {
        let Operations { round, relief, nose, garter, tenon, marks: lines } = self;
        let all = [
            ("round", round.as_mut().map(|table| &mut table.tooling)),
            ("relief", relief.as_mut().map(|table| &mut table.tooling)),
            ("nose", nose.as_mut().map(|table| &mut table.tooling)),
            ("garter", garter.as_mut().map(|table| &mut table.tooling)),
            ("tenon", tenon.as_mut().map(|table| &mut table.tooling)),
            ("marks", lines.as_mut().map(|table| &mut table.tooling)),
        ];
        for (table, tooling) in all {
            let Some(tooling) = tooling else { continue };
            if marks.get(&format!("{table}.rpm")).is_none() {
                tooling.rpm = cutting.rpm;
            }
            if marks.get(&format!("{table}.feed")).is_none() {
                tooling.feed_mm_per_min = cutting.feed_mm_per_min * USUAL_FEED_SHARE;
            }
        }
    }
}

/// A cutter and how it is run.
#[derive(Clone, Debug, PartialEq)]
pub struct Tooling {
    /// The cutter; `None` stands for the thread's.
    pub cutter: Option<Cutter>,
    /// Spindle speed, rev/min.
    pub rpm: f64,
    /// Speed of cutter against wood round the blank, mm/min.
    pub feed_mm_per_min: f64,
    /// Depth of one level.
    pub step_mm: f64,
    /// Depth of the last level.
    pub finish_mm: f64,
    /// Share of the cutter's width by which it goes on along the blank in one turn.
    pub advance: f64,
}

/// `[round]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    /// Cutter and speeds.
    pub tooling: Tooling,
}

/// `[relief]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Relief {
    /// Cutter and speeds.
    pub tooling: Tooling,
    /// Diameter left in the groove; `None` for the root diameter.
    pub diameter_mm: Option<f64>,
}

/// `[nose]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Nose {
    /// Cutter and speeds.
    pub tooling: Tooling,
    /// What the nose is given.
    pub shape: NoseShape,
}

/// Shapes of a nose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoseShape {
    /// Tapered down to the root over this length, so that the first turns fade in.
    Taper {
        /// Length of the taper along the axis.
        length_mm: f64,
    },
    /// The edge taken off with the flank of a V cutter, to this length along the axis.
    Chamfer {
        /// Length of the chamfer along the axis.
        length_mm: f64,
    },
    /// The edge rounded over with this radius.
    RoundOver {
        /// Radius.
        radius_mm: f64,
    },
}

/// `[garter]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Garter {
    /// Cutter and speeds.
    pub tooling: Tooling,
    /// From the shoulder (the head end where there is no tenon) to the near wall of the groove.
    pub from_shoulder_mm: f64,
    /// Width of the groove.
    pub width_mm: f64,
    /// Diameter left in the groove.
    pub diameter_mm: f64,
}

/// `[tenon]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Tenon {
    /// Cutter and speeds.
    pub tooling: Tooling,
    /// From the shoulder to the head end.
    pub length_mm: f64,
    /// Diameter; with flats, over the corners.
    pub diameter_mm: f64,
    /// Flats, if it is not to stay round.
    pub flats: Option<Flats>,
}

/// Flats of a tenon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flats {
    /// How many: 4 or 6.
    pub count: u32,
    /// From flat to flat.
    pub across_mm: f64,
}

/// `[marks]`.
#[derive(Clone, Debug, PartialEq)]
pub struct SawMarks {
    /// Cutter and speeds.
    pub tooling: Tooling,
    /// Depth of the lines.
    pub depth_mm: f64,
}

/// What an operation needs of its cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wants {
    Straight,
    V,
}

/// The keys that every operation's table may hold.
struct Common<'f> {
    table: &'static str,
    cutter: Option<&'f String>,
    rpm: Option<super::amount::Plain>,
    feed: Option<super::amount::Plain>,
    step: Option<super::amount::Amount>,
    finish: Option<super::amount::Amount>,
    advance: Option<super::amount::Plain>,
    wants: Wants,
}

macro_rules! common {
    ($table:literal, $file:ident, $wants:expr) => {
        Common {
            table: $table,
            cutter: $file.cutter.as_ref(),
            rpm: $file.rpm,
            feed: $file.feed,
            step: $file.step,
            finish: $file.finish,
            advance: $file.advance,
            wants: $wants,
        }
    };
}

/// Checks every table that the job has; what is absent or faulty is left out, and a fault is reported.
pub(super) fn check(
    file: &JobFile,
    cutting: Option<&Cutting>,
    unit: LengthUnit,
    load: &mut Load,
    desk: &mut Desk,
) -> Operations {
    let mut bench = Bench { cutting, unit, load, desk };
    Operations {
        round: file.round.as_ref().and_then(|file| bench.round(file)),
        relief: file.relief.as_ref().and_then(|file| bench.relief(file)),
        nose: file.nose.as_ref().and_then(|file| bench.nose(file)),
        garter: file.garter.as_ref().and_then(|file| bench.garter(file)),
        tenon: file.tenon.as_ref().and_then(|file| bench.tenon(file)),
        marks: file.marks.as_ref().and_then(|file| bench.marks(file)),
    }
}

/// What is at hand while the tables are checked.
struct Bench<'a, 'l> {
    cutting: Option<&'a Cutting>,
    unit: LengthUnit,
    load: &'a mut Load<'l>,
    desk: &'a mut Desk,
}

impl Bench<'_, '_> {
    fn round(&mut self, file: &RoundFile) -> Option<Round> {
        self.require(&[CUTTER_ROUND]);
        Some(Round { tooling: self.tooling(&common!("round", file, Wants::Straight))? })
    }

    fn relief(&mut self, file: &ReliefFile) -> Option<Relief> {
        self.require(&[CUTTER_RELIEF]);
        let tooling = self.tooling(&common!("relief", file, Wants::Straight));
        let diameter_mm = match file.diameter {
            Some(written) => Some(self.desk.number("relief.diameter", Some(written), self.unit)?),
            None => None,
        };
        Some(Relief { tooling: tooling?, diameter_mm })
    }

    fn nose(&mut self, file: &NoseFile) -> Option<Nose> {
        let taper = self.desk.number("nose.taper", file.taper, self.unit);
        let chamfer = self.desk.number("nose.chamfer", file.chamfer, self.unit);
        let round_over = self.desk.number("nose.round_over", file.round_over, self.unit);
        let keys = ["nose.taper", "nose.chamfer", "nose.round_over"];
        let given: Vec<&str> = keys.into_iter().filter(|key| self.desk.given(key)).collect();
        match given[..] {
            [] => self.require(&[("nose.chamfer", "chamfer = 3", "chamfer = \"1/8\"")]),
            [first, second, ..] => {
                self.desk.complain(
                    &codes::DISAGREE,
                    second,
                    "a nose has one shape",
                    Some((first, "and this is another".to_owned())),
                    "keep one of taper, chamfer and round_over and take the others out",
                );
                return None;
            }
            [_] => {}
        }
        let wants = if chamfer.is_some() { Wants::V } else { Wants::Straight };
        if wants == Wants::Straight && !given.is_empty() {
            self.require(&[CUTTER_NOSE]);
        }
        let tooling = self.tooling(&common!("nose", file, wants));
        let shape = taper
            .map(|length_mm| NoseShape::Taper { length_mm })
            .or(chamfer.map(|length_mm| NoseShape::Chamfer { length_mm }))
            .or(round_over.map(|radius_mm| NoseShape::RoundOver { radius_mm }));
        Some(Nose { tooling: tooling?, shape: shape? })
    }

    fn garter(&mut self, file: &GarterFile) -> Option<Garter> {
        self.require(&[
            CUTTER_GARTER,
            ("garter.from_shoulder", "from_shoulder = 12", "from_shoulder = \"1/2\""),
            ("garter.width", "width = 12", "width = \"1/2\""),
            ("garter.diameter", "diameter = 38", "diameter = 1.5"),
        ]);
        let tooling = self.tooling(&common!("garter", file, Wants::Straight));
        let from_shoulder = self.desk.number("garter.from_shoulder", file.from_shoulder, self.unit);
        let width = self.desk.number("garter.width", file.width, self.unit);
        let diameter = self.desk.number("garter.diameter", file.diameter, self.unit);
        Some(Garter {
            tooling: tooling?,
            from_shoulder_mm: from_shoulder?,
            width_mm: width?,
            diameter_mm: diameter?,
        })
    }

    fn tenon(&mut self, file: &TenonFile) -> Option<Tenon> {
        self.require(&[
            CUTTER_TENON,
            ("tenon.length", "length = 40", "length = 1.5"),
            ("tenon.diameter", "diameter = 32", "diameter = 1.25"),
        ]);
        let tooling = self.tooling(&common!("tenon", file, Wants::Straight));
        let length = self.desk.number("tenon.length", file.length, self.unit);
        let diameter = self.desk.number("tenon.diameter", file.diameter, self.unit);
        let flats = self.flats(file);
        if flats.is_none() && (file.flats.is_some() || file.across.is_some()) {
            return None;
        }
        Some(Tenon { tooling: tooling?, length_mm: length?, diameter_mm: diameter?, flats })
    }

    /// The flats, if there are any and they are not faulty.
    fn flats(&mut self, file: &TenonFile) -> Option<Flats> {
        if file.flats.is_none() && file.across.is_none() {
            return None;
        }
        self.require(&[
            ("tenon.flats", "flats = 4", "flats = 4"),
            ("tenon.across", "across = 26", "across = 1"),
        ]);
        let count = self.desk.count("tenon.flats", file.flats);
        let across = self.desk.number("tenon.across", file.across, self.unit);
        let (count, across_mm) = (count?, across?);
        if !matches!(count, 4 | 6) {
            self.desk.complain(
                &codes::DISAGREE,
                "tenon.flats",
                format!("a tenon of {count} flats fits no hub that is made here"),
                None,
                "write flats = 4 for a square, flats = 6 for a hexagon, or leave it out for a round tenon",
            );
            return None;
        }
        Some(Flats { count, across_mm })
    }

    fn marks(&mut self, file: &MarksFile) -> Option<SawMarks> {
        let tooling = self.tooling(&common!("marks", file, Wants::V));
        let depth = match file.depth {
            Some(written) => self.desk.number("marks.depth", Some(written), self.unit),
            None => Some(USUAL_MARK_MM),
        };
        Some(SawMarks { tooling: tooling?, depth_mm: depth? })
    }

    fn require(&mut self, required: &[Required]) {
        self.desk.require(required, self.unit);
    }

    /// The cutter of a table and how it is run.
    fn tooling(&mut self, file: &Common<'_>) -> Option<Tooling> {
        let table = file.table;
        let unit = self.unit;
        let mut number = |leaf: &str, written: Option<super::amount::Amount>, usual: Option<f64>| {
            let key = format!("{table}.{leaf}");
            match written {
                Some(written) => self.desk.number(&key, Some(written), unit),
                None => usual,
            }
        };
        let rpm = number("rpm", file.rpm.map(Into::into), self.cutting.map(|cutting| cutting.rpm));
        let usual_feed = self.cutting.map(|cutting| cutting.feed_mm_per_min * USUAL_FEED_SHARE);
        let feed = number("feed", file.feed.map(Into::into), usual_feed);
        let step = number("step", file.step, Some(USUAL_STEP_MM));
        let finish = number("finish", file.finish, Some(USUAL_FINISH_MM));
        let advance = number("advance", file.advance.map(Into::into), Some(USUAL_ADVANCE));
        let cutter = match file.cutter {
            Some(path) => Some(self.cutter(table, path, file.wants)?),
            None if self.desk.given(&format!("{table}.cutter")) || file.wants == Wants::Straight => {
                return None;
            }
            None => None,
        };
        Some(Tooling {
            cutter,
            rpm: rpm?,
            feed_mm_per_min: feed?,
            step_mm: step?,
            finish_mm: finish?,
            advance: advance?,
        })
    }

    /// Reads a cutter file that a table names. Its keys are marked below the table: `tenon.cutter.flutes`.
    fn cutter(&mut self, table: &str, path: &str, wants: Wants) -> Option<Cutter> {
        let key = format!("{table}.cutter");
        let text: Arc<Source> = match (self.load)(path) {
            Ok(text) => text,
            Err(why) => {
                let help = "the path of the cutter file is looked up from the folder of the job";
                self.desk.find(
                    Finding::new(&codes::FILE_MISSING, why).at_some(self.desk.marks.get(&key)).help(help),
                );
                return None;
            }
        };
        let (cutter, marks, findings) = cutter::read_cutter(&text);
        // Two tables may name one file: what is wrong with it is said once.
        let new = findings.into_iter().filter(|found| {
            let place = |finding: &Finding| {
                finding.mark.as_ref().map(|mark| (mark.source.name().to_owned(), mark.span.clone()))
            };
            !self.desk.findings.iter().any(|old| old.message == found.message && place(old) == place(found))
        });
        let new: Vec<Finding> = new.collect();
        self.desk.findings.extend(new);
        for (name, mark) in marks.0 {
            let leaf = name.strip_prefix("cutter.").unwrap_or(&name).to_owned();
            self.desk.marks.0.insert(format!("{key}.{leaf}"), mark);
        }
        let cutter = cutter?;
        let (is, kind) = if cutter.is_straight() { (Wants::Straight, "straight") } else { (Wants::V, "V") };
        if is == wants {
            return Some(cutter);
        }
        let (needs, example) = match wants {
            Wants::Straight => ("a straight cutter", "cutters/straight-20.toml"),
            Wants::V => ("a V cutter", "cutters/v60.toml"),
        };
        let what =
            if table == "nose" && wants == Wants::V { "a chamfer".to_owned() } else { format!("[{table}]") };
        self.desk.complain(
            &codes::CUTTER_KIND,
            &key,
            format!("{what} needs {needs}, and {path} is a {kind} cutter"),
            None,
            format!("name another cutter, such as cutter = \"{example}\""),
        );
        None
    }
}

const CUTTER: &str = "cutter = \"cutters/straight-20.toml\"";
const CUTTER_ROUND: Required = ("round.cutter", CUTTER, CUTTER);
const CUTTER_RELIEF: Required = ("relief.cutter", CUTTER, CUTTER);
const CUTTER_NOSE: Required = ("nose.cutter", CUTTER, CUTTER);
const CUTTER_GARTER: Required = ("garter.cutter", CUTTER, CUTTER);
const CUTTER_TENON: Required = ("tenon.cutter", CUTTER, CUTTER);

/// The marks of a cutter that an operation names, if any.
#[must_use]
pub fn cutter_mark<'m>(marks: &'m Marks, table: &str) -> Option<&'m crate::source::Mark> {
    marks.get(&format!("{table}.cutter")).or_else(|| marks.get("cutter"))
}
