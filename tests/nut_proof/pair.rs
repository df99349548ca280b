//! Screw and nut together: gaps against plain geometry, seasons against the closed forms of wood that moves.

use threadwright::drawing::{Drawing, Hand};
use threadwright::proof::Before;
use threadwright::proof::nut::NutBefore;
use threadwright::proof::pair::{
    Entering, Fitted, NutWood, PairProof, ScrewWood, nut_wood, prove, screw_wood,
};
use threadwright::report::nut_proof::pair_table;
use threadwright::setup::{NutGrowth, ScrewGrowth, Season};
use threadwright::stock::Cells;
use threadwright::units::LengthUnit;

use crate::common::{self, Made};
use crate::oracle::{Nut, mill, source};

/// A nut for a screw: its groove is the screw's ridge and as much more as asked, its bore the root and as much more.
fn nut_for(drawing: &Drawing, radial: f64, length: f64, widened: f64) -> Nut {
    let included = 60.0;
    let major = drawing.crest_diameter_mm + 2.0 * radial;
    let diameter = (0.5 * drawing.root_diameter_mm).round();
    // The tooth is as wide at its tip as the screw's crest and the room asked for on each flank.
    let mut mill = mill(diameter, included, drawing.crest_flat_mm + 2.0 * widened);
    // So slim that the tooth is whole wherever it cuts.
    mill.neck_diameter_mm = 5.0;
    let e = (major - diameter) / 2.0;
    Nut {
        hand: drawing.hand,
        lead: drawing.lead_mm,
        starts: drawing.starts,
        major,
        bore: drawing.root_diameter_mm + 2.0 * radial,
        length,
        start_angle: 75.0,
        mill,
        passes: vec![e],
        chamfer: None,
        lines: false,
    }
}

fn screw(made: &Made) -> ScrewWood {
    let text = source(&made.program);
    let programs = [Before { program: &text, setup: &made.setup }];
    screw_wood(&programs, &made.drawing, Some(Cells::square(0.05))).expect("a screw")
}

fn wood(nut: &Nut) -> NutWood {
    let (text, setup) = (source(&nut.program()), nut.setup());
    let programs = [NutBefore { program: &text, setup: &setup }];
    nut_wood(&programs, &nut.drawing(), Some(Cells { along_mm: 0.05, round_mm: 0.4 })).expect("a nut")
}

fn as_cut() -> Season {
    Season { name: "as cut".to_owned(), ..Season::default() }
}

fn of(proof: &PairProof, season: &str, entering: Entering) -> Fitted {
    let found = proof.fits.iter().find(|fit| fit.season == season && fit.entering == entering);
    found.unwrap_or_else(|| panic!("no fit for {season}")).clone()
}

/// Half the width of the screw's groove at a radius, from its drawing.
fn screw_half(drawing: &Drawing, r: f64) -> f64 {
    let next = drawing.section.partition_point(|point| point.r_mm < r).clamp(1, drawing.section.len() - 1);
    let (a, b) = (drawing.section[next - 1], drawing.section[next]);
    a.half_width_mm + (b.half_width_mm - a.half_width_mm) * (r - a.r_mm) / (b.r_mm - a.r_mm)
}

/// Least room on a flank, screw in the middle: half the nut's groove less half the screw's ridge, over all radii that both
/// have.
fn flank_room(nut: &Nut, drawing: &Drawing) -> f64 {
    let pitch = nut.lead / f64::from(nut.starts);
    let (low, high) = (nut.bore / 2.0, drawing.crest_diameter_mm / 2.0);
    (0..=200)
        .map(|i| {
            let r = low + (high - low) * f64::from(i) / 200.0;
            nut.half_width(r) - (pitch / 2.0 - screw_half(drawing, r))
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn gaps_as_cut_are_what_the_two_sections_leave() {
    let made = common::sample("nipping-press");
    let drawing = &made.drawing;
    let screw = screw(&made);
    for (radial, widened) in [(0.4, 0.3), (0.3, 0.15)] {
        let nut = nut_for(drawing, radial, 60.0, widened);
        let proof = prove(&screw, &wood(&nut), &[as_cut()]);
        let room = flank_room(&nut, drawing);
        for entering in [Entering::Top, Entering::Bottom] {
            let fit = of(&proof, "as cut", entering);
            let near = |what: &str, got: f64, want: f64, sure: f64| {
                assert!(
                    (got - want).abs() <= sure,
                    "{what}, nose in by the {}: {got} instead of {want}",
                    entering.name()
                );
            };
            near("crest", fit.crest.mm, radial, proof.radial_sure_mm + 2e-4);
            near("root", fit.root.mm, radial, proof.radial_sure_mm + 2e-4);
            // The drawn section of the screw is read between its points, and the program's words are rounded.
            let sure = proof.flank_sure_mm + 4e-3;
            near("low flank", fit.flank_low.mm, room, sure);
            near("high flank", fit.flank_high.mm, room, sure);
            near("backlash", fit.backlash_mm[0], 2.0 * room, 2.0 * sure);
            assert!(fit.radial_play_mm > 0.0 && fit.radial_play_mm <= 2.0 * radial + 1e-6, "{fit:?}");
            // Rocked about its middle, the crests' room at both ends is a bound.
            assert!(
                fit.wobble_deg > 0.0 && fit.wobble_deg <= (2.0 * radial / 20.0_f64).to_degrees(),
                "{fit:?}"
            );
        }
        assert_eq!(proof.proved(), room > 0.0);
        let table = pair_table(&proof, LengthUnit::Mm);
        assert_eq!(table.lines().count(), 4, "{table}");
        assert!(table.contains("nose in by") && table.contains(&format!("{radial:.1}")), "{table}");
    }
}

/// wood.md section (c): `dg = r { dM_n (C_L cos^2 p + C_x sin^2 p) - dM_s [C_R cos^2(p - q) + C_T sin^2(p - q)] }`, and its worst
/// cases over all p and q; the pitch drifts by `E (C_ax,n dM_n - C_L dM_s)`.
#[test]
fn wood_that_moves_closes_the_gaps_as_the_closed_form_says() {
    let made = common::sample("nipping-press");
    let drawing = &made.drawing;
    let (screw, length) = (screw(&made), 60.0);
    let nut = nut_for(drawing, 0.6, length, 0.5);
    let nut_wood = wood(&nut);
    // Four points of beech, shares a point as the facts have them; a flat-sawn nut: across the grain T, through the board R.
    let (along, radial, tangential) = (0.0001, 0.00190, 0.00404);
    let season = |name: &str, screw_points: f64, nut_points: f64| Season {
        name: name.to_owned(),
        screw: ScrewGrowth {
            radial: radial * screw_points,
            tangential: tangential * screw_points,
            along: along * screw_points,
        },
        nut: NutGrowth {
            along: along * nut_points,
            across: tangential * nut_points,
            through: radial * nut_points,
        },
    };
    let seasons =
        [as_cut(), season("wet", 4.0, 4.0), season("dry", -4.0, -4.0), season("screw wet", 4.0, 0.0)];
    let proof = prove(&screw, &nut_wood, &seasons);
    let crest = drawing.crest_diameter_mm / 2.0;
    let tightest = |dm_s: f64, dm_n: f64| {
        let mut least = f64::INFINITY;
        for p in 0..360 {
            for q in (0..360).step_by(15) {
                let (p, q) = (f64::from(p).to_radians(), f64::from(q).to_radians());
                let hole = along * p.cos().powi(2) + tangential * p.sin().powi(2);
                let rod = radial * (p - q).cos().powi(2) + tangential * (p - q).sin().powi(2);
                least = least.min(crest * (dm_n * hole - dm_s * rod));
            }
        }
        least
    };
    for (name, s, n) in [("wet", 4.0, 4.0), ("dry", -4.0, -4.0), ("screw wet", 4.0, 0.0)] {
        for entering in [Entering::Top, Entering::Bottom] {
            let (before, then) = (of(&proof, "as cut", entering), of(&proof, name, entering));
            let closes = before.crest.mm - then.crest.mm;
            // The clearance grows with the nut as well: 0.6 mm by some thousandths.
            let want = -tightest(s, n);
            assert!(
                (closes - want).abs() < 0.6 * 0.017 + 1e-3,
                "{name}: closes by {closes}, closed form {want}"
            );
            // Beside what the radius takes from the flanks, each end sees half of the drift.
            let drift = length * (radial * n - along * s).abs();
            let lost = before.backlash_mm[0] - then.backlash_mm[0];
            assert!(lost > 0.5 * drift, "{name}: backlash lost {lost}, drift {drift}");
        }
    }
}

#[test]
fn a_pair_that_binds_is_told_with_place_and_cure() {
    let made = common::sample("nipping-press");
    let drawing = &made.drawing;
    let screw = screw(&made);
    let codes = |proof: &PairProof| -> Vec<(&'static str, String)> {
        proof.findings.iter().map(|f| (f.code.name, f.message.clone())).collect()
    };
    // A nut that is a copy of the screw binds at its flanks: its grooves are cut steeper than the ridges.
    let tight = nut_for(drawing, 0.3, 60.0, -0.6);
    let proof = prove(&screw, &wood(&tight), &[as_cut()]);
    let found = codes(&proof);
    assert!(found.iter().any(|(code, words)| *code == "pair-binds" && words.contains("flanks")), "{found:?}");
    // A bore smaller than the root.
    let narrow = Nut { bore: drawing.root_diameter_mm - 0.4, ..nut_for(drawing, 0.4, 60.0, 0.05) };
    let proof = prove(&screw, &wood(&narrow), &[as_cut()]);
    let found = codes(&proof);
    assert!(found.iter().any(|(code, words)| *code == "pair-binds" && words.contains("root")), "{found:?}");
    assert!((proof.findings[0].value.unwrap() + 0.2).abs() < 5e-3, "{found:?}");
    // Wet wood: the screw swells into the nut.
    let loose = nut_for(drawing, 0.2, 60.0, 0.3);
    let wet = Season {
        name: "screw wet".to_owned(),
        screw: ScrewGrowth { radial: 0.008, tangential: 0.016, along: 0.0 },
        nut: NutGrowth::default(),
    };
    let proof = prove(&screw, &wood(&loose), &[as_cut(), wet]);
    let found = codes(&proof);
    assert!(
        found.iter().any(|(_, words)| words.contains("crest") && words.contains("screw wet")),
        "{found:?}"
    );
    // Another hand, another lead.
    let other = if drawing.hand == Hand::Right { Hand::Left } else { Hand::Right };
    let left = Nut { hand: other, ..nut_for(drawing, 0.4, 60.0, 0.3) };
    assert_eq!(codes(&prove(&screw, &wood(&left), &[as_cut()]))[0].0, "pair-unlike");
    let coarse = Nut { lead: drawing.lead_mm + 0.5, ..nut_for(drawing, 0.4, 60.0, 0.3) };
    let unlike = prove(&screw, &wood(&coarse), &[as_cut()]);
    assert_eq!(codes(&unlike)[0].0, "pair-unlike");
    let raised = proof.findings.iter().chain(&unlike.findings);
    common::examples::hold(|code| code.starts_with("pair-"), raised);
}
