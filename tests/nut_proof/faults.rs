//! Good programs altered one way each: every alteration raises its own finding, and no other stop but those listed.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use threadwright::drawing::{Hand, NutDrawing, NutStage};
use threadwright::finding::{Severity, proof};
use threadwright::proof::nut::{NutBefore, NutProof, prove};
use threadwright::report::nut_proof::nut_table;
use threadwright::setup::{NutSetup, NutTool};

use crate::oracle::{Nut, boring_cutter, head, press_nut, shop, source};

fn judged(text: &str, setup: &NutSetup, drawing: &NutDrawing) -> NutProof {
    prove(&[], &source(text), setup, drawing, None)
}

fn codes(proof: &NutProof, severity: Severity) -> BTreeSet<&'static str> {
    proof.findings.iter().filter(|f| f.severity == severity).map(|f| f.code.name).collect()
}

/// All that was found, in words.
fn said(proof: &NutProof) -> Vec<String> {
    proof
        .findings
        .iter()
        .map(|f| {
            let line = f.mark.as_ref().map_or(0, |mark| mark.line_column().0);
            format!("{:?} {} line {line}: {}", f.severity, f.code.name, f.message)
        })
        .collect()
}

/// A mouth of 25.2 mm: the tooth stands 2 mm beyond the face and runs 14.8 mm from the axis.
const MOUTH: [f64; 2] = [2.0, 14.8];

#[test]
fn good_programs_raise_nothing_and_measure_as_drawn() {
    let nut = press_nut();
    let with_mouth = Nut { chamfer: Some(MOUTH), ..nut.clone() };
    let left = Nut { hand: Hand::Left, ..with_mouth.clone() };
    let single = Nut { starts: 1, lead: 12.0, start_angle: 200.0, ..nut.clone() };
    let lines = Nut { lines: true, length: 30.0, ..with_mouth.clone() };
    let cases =
        [("plain", nut), ("mouths", with_mouth), ("left", left), ("one start", single), ("lines", lines)];
    for (name, nut) in cases {
        let (drawing, proof) = (nut.drawing(), judged(&nut.program(), &nut.setup(), &nut.drawing()));
        assert!(proof.findings.is_empty(), "{name}: {:#?}", said(&proof));
        let (m, u) = (proof.measured, proof.uncertainty);
        assert_eq!((m.starts, m.hand), (Some(nut.starts), Some(nut.hand)), "{name}");
        // Lines of two degrees stay inside the arcs by e h^2 / 8, and half of that on the mean; words are rounded.
        let words = if nut.lines { 12.5 * 2.0_f64.to_radians().powi(2) / 8.0 } else { 0.0 } + 2e-4;
        let near = |what: &str, got: Option<f64>, want: f64, sure: Option<f64>| {
            let (got, sure) = (got.expect("measured"), sure.expect("its uncertainty") + words);
            assert!((got - want).abs() <= sure, "{name}, {what}: {got} instead of {want}, sure to {sure}");
        };
        near("lead", m.lead_mm, nut.lead, u.lead_mm);
        near("lead error", m.lead_error_max_mm, 0.0, u.lead_error_max_mm);
        near(
            "index",
            m.index_error_max_deg,
            0.0,
            u.index_error_max_deg.map(|u| u + words / nut.lead * 360.0),
        );
        near(
            "start",
            m.start_angle_deg,
            nut.start_angle,
            u.index_error_max_deg.map(|u| u + words / nut.lead * 360.0),
        );
        near("bore", m.bore_least_mm, nut.bore, u.bore_mm);
        near("bore", m.bore_greatest_mm, nut.bore, u.bore_mm);
        near("thread", m.thread_least_mm, nut.major, u.thread_mm.map(|u| u + words));
        near("thread", m.thread_greatest_mm, nut.major, u.thread_mm.map(|u| u + words));
        near("form", m.form_error_max_mm, 0.0, u.form_error_max_mm.map(|u| u + words));
        near("length", m.thread_length_mm, nut.length, u.thread_length_mm);
        if let Some(cone) = drawing.chamfer_top {
            for found in [m.chamfer_top_mm.expect("a cone"), m.chamfer_bottom_mm.expect("a cone")] {
                near("mouth", Some(found[0]), cone.face_diameter_mm, u.chamfer_mm.map(|u| u + 2.0 * words));
                near(
                    "depth of the mouth",
                    Some(found[1]),
                    cone.depth_mm,
                    u.chamfer_mm.map(|u| u + 2.0 * words),
                );
            }
        }
        near("feed", m.feed_min_mm_per_min, 1500.0, Some(15.0));
        let table = nut_table(&proof, &drawing);
        let lines = if nut.chamfer.is_some() { 18 } else { 16 };
        assert_eq!(table.lines().count(), lines, "{table}");
        assert!(!table.contains("not measured"), "{table}");
    }
}

#[test]
fn a_bore_proves_and_the_thread_on_it() {
    let nut = Nut { length: 40.0, ..press_nut() };
    let setup = shop(NutTool::Boring(boring_cutter()), nut.length, None);
    let mut text = head();
    text.push_str("G0 Z2.0\nG1 Z0.2 F600.0\n");
    let mut z: f64 = 0.2;
    // Rings from the axis outward, each a helix down and two level half turns below the block.
    for e in [5.0, 10.5, 16.0] {
        let _ = writeln!(text, "G1 Z0.2 F600.0\nG3 X{e:.1} Y0.0 Z0.2 I{:.2} J0.0 F400.0", e / 2.0);
        let mut x: f64 = e;
        z = 0.2;
        while z > -40.5 {
            z -= 1.5;
            let f =
                1500.0 * e.hypot(3.0 / std::f64::consts::TAU) / (e + 6.0).hypot(3.0 / std::f64::consts::TAU);
            let _ = writeln!(text, "G3 X{:.1} Y0.0 Z{z:.1} I{:.1} J0.0 F{f:.1}", -x, -x);
            x = -x;
        }
        for _ in 0..2 {
            let _ = writeln!(text, "G3 X{:.1} Y0.0 I{:.1} J0.0 F{:.1}", -x, -x, 1500.0 * e / (e + 6.0));
            x = -x;
        }
        let _ = writeln!(text, "G3 X0.0 Y0.0 I{:.2} J0.0 F400.0", -x / 2.0);
    }
    assert!(z < -40.0);
    text.push_str("G1 Z2.0 F600.0\nG0 Z30.0\nM5\nM2\n");
    let drawing = NutDrawing { done: NutStage::Bored, ..nut.drawing() };
    let proof = judged(&text, &setup, &drawing);
    assert!(proof.findings.is_empty(), "{:#?}", said(&proof));
    let (least, most) = (proof.measured.bore_least_mm.unwrap(), proof.measured.bore_greatest_mm.unwrap());
    assert!((least - 44.0).abs() < 1e-4 && (most - 44.0).abs() < 1e-4, "{least} {most}");
    let bored = source(&text);
    let before = [NutBefore { program: &bored, setup: &setup }];
    let proof = prove(&before, &source(&nut.program()), &nut.setup(), &nut.drawing(), None);
    assert!(proof.findings.is_empty(), "{:#?}", said(&proof));
    // Without its last ring the hole is too small.
    let short = text.replace("16.0", "15.5").replace("I8.00", "I7.75").replace("I-8.00", "I-7.75");
    let proof = judged(&short, &setup, &drawing);
    assert_eq!(codes(&proof, Severity::Stop), BTreeSet::from(["bore-off"]), "{:#?}", said(&proof));
}

/// A program with the last line that begins so left out or written otherwise.
fn last_line(text: &str, begins: &str, with: &str) -> String {
    let at = text.rfind(&format!("\n{begins}")).unwrap_or_else(|| panic!("no line {begins}")) + 1;
    let end = at + text[at..].find('\n').expect("a line ends") + 1;
    format!("{}{with}{}", &text[..at], &text[end..])
}

/// The n-th line that begins so, written otherwise.
fn nth_line(text: &str, begins: &str, n: usize, change: impl Fn(&str) -> String) -> String {
    let mut seen = 0;
    text.split_inclusive('\n')
        .map(|line| {
            let hit = line.starts_with(begins);
            seen += usize::from(hit);
            if hit && seen == n { change(line) } else { line.to_owned() }
        })
        .collect()
}

/// A program with every F so many times as great, or left out.
fn fed(text: &str, times: Option<f64>) -> String {
    let fed = |line: &str| match (line.split_once(" F"), times) {
        (Some((words, feed)), Some(times)) => {
            format!("{words} F{:.1}", feed.parse::<f64>().expect("a number") * times)
        }
        (Some((words, _)), None) => words.to_owned(),
        (None, _) => line.to_owned(),
    };
    text.lines().map(fed).collect::<Vec<_>>().join("\n") + "\n"
}

/// A slip: what was altered, the program, the shop, the drawing, and what must be found.
struct Slip {
    altered: &'static str,
    text: String,
    setup: NutSetup,
    drawing: NutDrawing,
    expect: &'static str,
    severity: Severity,
    /// Line of the program that the finding points at begins so; empty where it is seen on the wood.
    marks: &'static str,
}

#[test]
#[expect(clippy::too_many_lines, reason = "a list of slips, one after the other")]
fn each_slip_raises_its_own_finding_and_no_other_stop() {
    let nut = Nut { length: 40.0, chamfer: Some(MOUTH), ..press_nut() };
    let good = nut.program();
    let slip = |altered, text: String, expect, marks| Slip {
        altered,
        text,
        setup: nut.setup(),
        drawing: nut.drawing(),
        expect,
        severity: Severity::Stop,
        marks,
    };
    let care = |slip: Slip| Slip { severity: Severity::Care, ..slip };
    let made = |altered, other: &Nut, expect, marks| slip(altered, other.program(), expect, marks);
    let shop = |altered, change: &dyn Fn(&mut NutSetup), expect, marks| {
        let mut setup = nut.setup();
        change(&mut setup);
        Slip { setup, ..slip(altered, good.clone(), expect, marks) }
    };
    let mill = |change: &dyn Fn(&mut threadwright::setup::ThreadMill)| {
        let mut mill = nut.mill.clone();
        change(&mut mill);
        NutTool::Thread(mill)
    };
    let one_start = Nut { starts: 1, ..nut.clone() };
    let slipped = |by: f64| {
        // The second start, written as the first of another nut, turned on.
        let other =
            Nut { starts: 1, start_angle: nut.start_angle + 180.0 + by, chamfer: None, ..nut.clone() };
        let first = one_start.program();
        let from = other.program();
        let body = from.find("F1500.0\nG1 Z").expect("passes begin") + "F1500.0\n".len();
        first
            .replace("G1 Z2.0 F1500.0\nG0 Z30.0\nM5", &from[body..from.rfind("M5").unwrap()])
            .replace("G0 Z30.0\n\nM2", "G0 Z30.0\nM2")
    };
    let cases = vec![
        made("wound the other way", &Nut { hand: Hand::Left, ..nut.clone() }, "hand-wrong", "G2"),
        made("lead of 21", &Nut { lead: 21.0, ..nut.clone() }, "lead-off", "G3"),
        made("one start missing", &one_start, "starts-wrong", ""),
        made("turned by ten degrees", &Nut { start_angle: 40.0, ..nut.clone() }, "index-off", "G3"),
        slip("second start three degrees off", slipped(3.0), "index-off", "G3"),
        made(
            "last pass too deep",
            &Nut { passes: vec![10.2, 11.1, 11.9, 12.8], ..nut.clone() },
            "depth-off",
            "G3",
        ),
        made("last pass missing", &Nut { passes: vec![10.2, 11.1, 11.9], ..nut.clone() }, "wood-left", ""),
        Slip {
            drawing: NutDrawing { chamfer_top: None, chamfer_bottom: None, ..nut.drawing() },
            ..made(
                "made for a thinner block",
                &Nut { length: 30.0, chamfer: None, ..nut.clone() },
                "nut-thread-short",
                "",
            )
        },
        slip("mouths left out", Nut { chamfer: None, ..nut.clone() }.program(), "chamfer-off", ""),
        slip(
            "I with the wrong sign",
            nth_line(&good, "G3", 12, |line| {
                line.replace("I-", "I").replacen('I', "I-", usize::from(!line.contains("I-")))
            }),
            "arc-radii-differ",
            "G3",
        ),
        slip(
            "a point lost in I",
            nth_line(&good, "G3", 12, |line| {
                let at = line.find('I').unwrap();
                let dot = at + line[at..].find('.').unwrap();
                format!("{}{}", &line[..dot], &line[dot + 1..])
            }),
            "arc-radii-differ",
            "G3",
        ),
        slip(
            "G2 for G3 on half a turn",
            nth_line(&good, "G3", 12, |line| line.replacen("G3", "G2", 1)),
            "hand-wrong",
            "G2",
        ),
        slip(
            "not brought back to the axis before it is lifted",
            last_line(&last_line(&good, "G3", ""), "G1 Z-56", "G0 Z-56.0\n"),
            "rapid-in-wood",
            "G0",
        ),
        slip("too deep by ten millimetres", good.replace("G1 Z-56.0000", "G1 Z-66.0000"), "hits-bed", "G1"),
        shop(
            "a cutter of another length of end",
            &|s| s.tool = mill(&|m| m.teeth[0].middle_mm = 7.0),
            "index-off",
            "G3",
        ),
        shop("a smaller cutter", &|s| s.tool = mill(&|m| m.teeth[0].diameter_mm = 24.0), "wood-left", ""),
        Slip {
            drawing: NutDrawing { chamfer_top: None, chamfer_bottom: None, ..nut.drawing() },
            text: Nut { chamfer: None, ..nut.clone() }.program(),
            ..shop("a stouter neck", &|s| s.tool = mill(&|m| m.neck_diameter_mm = 19.2), "collet-rubs", "G3")
        },
        shop(
            "short stick-out",
            &|s| {
                s.tool = mill(&|m| {
                    m.stick_out_mm = 50.0;
                    m.neck_length_mm = 45.0;
                });
            },
            "collet-rubs",
            "G3",
        ),
        Slip {
            drawing: NutDrawing { chamfer_top: None, chamfer_bottom: None, ..nut.drawing() },
            text: Nut { chamfer: None, ..nut.clone() }.program(),
            ..shop(
                "teeth of 50 degrees",
                &|s| s.tool = mill(&|m| m.teeth[0].included_angle_deg = 50.0),
                "form-off",
                "",
            )
        },
        shop("a hole of 45", &|s| s.block.hole_diameter_mm = Some(45.0), "bore-off", ""),
        shop("a narrow block", &|s| s.block.across_grain_mm = 50.0, "block-broken", "G3"),
        shop("a low table", &|s| s.z_limits_mm = [-50.0, 100.0], "past-travel", "G1"),
        shop("a narrow hole in the packing", &|s| s.block.below_diameter_mm = 40.0, "hits-bed", "G3"),
        slip(
            "aside over the clamps",
            good.replace("G0 X0.0 Y0.0\n", "G0 X0.0 Y0.0\nG0 Z10.0\nG0 X45.0\nG0 X0.0\n"),
            "hits-clamp",
            "G0",
        ),
        slip(
            "down in the wood",
            good.replace("G0 Z2.0\n", "G0 Z6.0\nG0 X36.0\nG1 Z-10.0 F300.0\nG1 Z6.0\nG0 X0.0\n"),
            "cut-buried",
            "G1",
        ),
        slip(
            "into the wall on a straight way down",
            good.replace(
                "G1 Z2.0 F1500.0\nG0 Z30.0\nM5",
                "G1 Z2.0 F1500.0\nG1 X12.0\nG1 Z-20.0 F300.0\nG1 X0.0\nG1 Z2.0\nG0 Z30.0\nM5",
            ),
            "plunge-in-wood",
            "G1",
        ),
        slip("spindle not started", good.replace("M3 S12000\n", ""), "spindle-off", "G3"),
        slip("spindle backwards", good.replace("M3", "M4"), "spindle-backwards", "G3"),
        slip("spindle at 4000", good.replace("S12000", "S4000"), "spindle-speed", "G3"),
        Slip {
            text: good.replace("G4 P6.0\n", ""),
            ..shop("no wait for a slow spindle", &|s| s.machine.spindle.start_s = 9.0, "run-up-short", "G3")
        },
        slip("F missing", fed(&good, None), "feed-missing", "G1"),
        slip("F ten times too high", fed(&good, Some(10.0)), "axis-too-fast", ""),
        slip("end word missing", good.replace("M2\n", ""), "no-end", ""),
        slip("read in inches", good.replace("G21", "G20"), "units-odd", "G20"),
        slip("A turned", good.replace("G0 X0.0 Y0.0\n", "G0 X0.0 Y0.0\nG0 A90.0\n"), "past-travel", "G0"),
        slip(
            "nothing but air",
            format!("{}G0 Z2.0\nG1 Z-20.0 F500.0\nG1 Z2.0\nG0 Z30.0\nM5\nM2\n", head()),
            "nothing-cut",
            "",
        ),
        care(slip("a distance mode left open", good.replace("G90\n", ""), "mode-open", "")),
        care(slip("Y not placed", good.replace("G0 X0.0 Y0.0", "G0 X0.0"), "start-open", "")),
        care(slip("half the feed and a little more", fed(&good, Some(0.6)), "feed-off", "")),
        care(slip(
            "a line that may be skipped",
            good.replace("G1 Z2.0 F1500.0\nG0 Z30.0\nM5", "/G1 Z2.0 F1500.0\nG0 Z30.0\nM5"),
            "line-optional",
            "",
        )),
    ];
    let (mut wrong, mut raised) = (Vec::new(), Vec::new());
    for case in &cases {
        let proof = judged(&case.text, &case.setup, &case.drawing);
        let (stops, cares) = (codes(&proof, Severity::Stop), codes(&proof, Severity::Care));
        let expected = BTreeSet::from([case.expect]);
        let right = match case.severity {
            Severity::Stop => stops == expected && !proof.proved(),
            _ => stops.is_empty() && cares == expected && proof.proved(),
        };
        let told = proof.findings.iter().find(|finding| finding.code.name == case.expect);
        raised.extend(told.cloned());
        let mark = told.and_then(|finding| finding.mark.as_ref()).map_or("", |mark| mark.text());
        if !right || !mark.starts_with(case.marks) {
            wrong.push(format!(
                "{}: want {} at {:?}, got stops {stops:?}, cares {cares:?}, at {mark:?}\n    {}",
                case.altered,
                case.expect,
                case.marks,
                said(&proof).iter().take(6).cloned().collect::<Vec<_>>().join("\n    ")
            ));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
    // What slips of screws raise as well has its example there.
    let screws = crate::common::read(&crate::common::root().join("tests/faults/cases.toml"));
    let of_nuts = |code: &str| {
        proof::ALL.iter().any(|one| one.name == code)
            && !screws.text().contains(&format!("expect = \"{code}\""))
    };
    crate::common::examples::hold(of_nuts, &raised);
}

/// A program that stops anywhere is never proved, and never makes the proof stumble.
#[test]
fn a_program_cut_short_is_never_proved() {
    let nut = Nut { length: 30.0, ..press_nut() };
    let good = nut.program();
    let (setup, drawing) = (nut.setup(), nut.drawing());
    for share in 1..16 {
        let text = &good[..good.len() * share / 16];
        let proof = judged(text, &setup, &drawing);
        assert!(!proof.proved(), "{share} sixteenths of it are taken for a whole program");
    }
}
