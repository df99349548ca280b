//! The proof of a pair: the carved screw in the carved nut, along the whole nut and through a whole turn. How far wood
//! stands from wood at crest, root and either flank, in each season, whichever end the screw comes in by; and how far the
//! screw can be moved and rocked. Knows the two woods from the texts of their programs, and growth as plain numbers.
//!
//! Both pieces are cut about their own axis, so the axes are put into one; along the axis the screw is put where both
//! flanks have the same room.

mod bumps;
mod meet;
mod section;
mod woods;

use serde::Serialize;

pub use section::{PairSection, section};
pub use woods::{NutWood, ScrewWood, nut_wood, screw_wood};

use crate::finding::{Finding, Spot, proof as code};
use crate::setup::Season;

/// The face of the block that the screw's nose comes in by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Entering {
    /// The top face, the one that lay up when the nut was milled.
    Top,
    /// The bottom face.
    Bottom,
}

impl Entering {
    /// `top` or `bottom`.
    pub fn name(self) -> &'static str {
        match self {
            Entering::Top => "top",
            Entering::Bottom => "bottom",
        }
    }

    /// +1 where stations of the screw count up along Z.
    pub(super) fn sign(self) -> f64 {
        match self {
            Entering::Top => 1.0,
            Entering::Bottom => -1.0,
        }
    }
}

/// The least gap of one kind, and where it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gap {
    /// Along the radius at crest and root, along the axis at a flank; less than zero is wood in wood.
    pub mm: f64,
    /// Height in the nut.
    pub z_mm: f64,
    /// Angle in the nut, from 0 to 360.
    pub angle_deg: f64,
    /// Distance from the axis.
    pub r_mm: f64,
}

/// The fit in one season, entering by one face.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fitted {
    /// The season.
    pub season: String,
    /// The face.
    pub entering: Entering,
    /// Between the crest of the screw and the groove of the nut.
    pub crest: Gap,
    /// Between the root of the screw and the crest of the nut.
    pub root: Gap,
    /// At the flank that bears when the screw is pushed down through the nut: the lower one of its thread.
    pub flank_low: Gap,
    /// At the other.
    pub flank_high: Gap,
    /// How far the screw can be moved along its axis: least and most as it turns. Less than zero: it is stuck.
    pub backlash_mm: [f64; 2],
    /// How far it can be moved sideways, to and fro together: the most over all directions and the turn.
    pub radial_play_mm: f64,
    /// How far it can be rocked, to and fro together, about the middle of the nut: the most over all directions and the turn.
    pub wobble_deg: f64,
}

impl Fitted {
    /// The lesser of the gaps at the two flanks.
    pub fn flank_mm(&self) -> f64 {
        self.flank_low.mm.min(self.flank_high.mm)
    }
}

/// What the proof of a pair found out.
#[derive(Clone, Debug)]
pub struct PairProof {
    /// The fit in each season and by each face.
    pub fits: Vec<Fitted>,
    /// How far gaps along the axis may be off.
    pub flank_sure_mm: f64,
    /// How far gaps along the radius may be off.
    pub radial_sure_mm: f64,
    /// Every finding.
    pub findings: Vec<Finding>,
}

impl PairProof {
    /// Whether the screw turns freely in every season.
    pub fn proved(&self) -> bool {
        self.findings.is_empty() && !self.fits.is_empty()
    }
}

/// Leads that differ by more than this over the length of the nut are not one lead, mm.
const SAME_LEAD_MM: f64 = 0.05;
/// Curvature of a flank, per mm: no groove these cutters leave bends more.
const FLANK_BEND_PER_MM: f64 = 0.05;
/// A flank that is read between two levels of a bump, mm: an eighth of its bend times the square of their distance.
const BETWEEN_LEVELS_MM: f64 = 1e-3;
/// What wood grows is taken to the first order; what that leaves is the square of some hundredths, of some ten
/// millimetres.
const FIRST_ORDER_MM: f64 = 2e-3;

/// Puts screw and nut together in every season, by either face.
pub fn prove(screw: &ScrewWood, nut: &NutWood, seasons: &[Season]) -> PairProof {
    let bend = |step: f64| FLANK_BEND_PER_MM * step * step / 8.0;
    let mut proof = PairProof {
        fits: Vec::new(),
        flank_sure_mm: bend(screw.step) + bend(nut.step) + BETWEEN_LEVELS_MM + FIRST_ORDER_MM,
        radial_sure_mm: FIRST_ORDER_MM,
        findings: Vec::new(),
    };
    if let Some(finding) = unlike(screw, nut) {
        proof.findings.push(finding);
        return proof;
    }
    for season in seasons {
        for entering in [Entering::Top, Entering::Bottom] {
            let Some(fitted) = meet::fit(screw, nut, season, entering) else {
                proof.findings.push(
                    Finding::new(&code::PAIR_UNLIKE, "the screw has no thread that meets the nut's")
                        .help("see that both were carved from all their programs"),
                );
                return proof;
            };
            proof.fits.push(fitted);
        }
    }
    proof.findings.extend(binds(&proof.fits, nut));
    proof
}

fn unlike(screw: &ScrewWood, nut: &NutWood) -> Option<Finding> {
    let (a, b) = (screw.kind, nut.kind);
    let unit = nut.unit;
    let drift = (a.lead - b.lead).abs() / a.lead * nut.length;
    let words = if a.hand != b.hand {
        format!("the screw is {}-hand, the nut {}-hand", a.hand.name(), b.hand.name())
    } else if a.starts != b.starts {
        format!("the screw has {} thread(s) side by side, the nut {}", a.starts, b.starts)
    } else if drift > SAME_LEAD_MM {
        format!("the lead of the screw is {}, that of the nut {}", unit.show(a.lead), unit.show(b.lead))
    } else if screw.full[1] - screw.full[0] < nut.length {
        let full = unit.show(screw.full[1] - screw.full[0]);
        return Some(
            Finding::new(
                &code::PAIR_UNLIKE,
                format!(
                    "the full thread of the screw, {full}, is shorter than the nut, {}",
                    unit.show(nut.length)
                ),
            )
            .help("a longer screw or a thinner block"),
        );
    } else {
        return None;
    };
    Some(Finding::new(&code::PAIR_UNLIKE, words).help("make both from one job"))
}

/// The worst place of each kind where wood meets wood.
fn binds(fits: &[Fitted], nut: &NutWood) -> Vec<Finding> {
    let unit = nut.unit;
    let mut findings = Vec::new();
    let mut tell = |worst: Option<(&Fitted, Gap, f64)>, what: &str, cure: &dyn Fn(String) -> String| {
        let Some((fit, gap, lacks)) = worst.filter(|(_, _, lacks)| *lacks > 0.0) else { return };
        let words = format!(
            "the pair binds at the {what} by {}, {} below the top face, {:.0} degrees round from X+ ({}, nose in by the {})",
            unit.show(lacks),
            unit.show(-gap.z_mm),
            gap.angle_deg,
            fit.season,
            fit.entering.name()
        );
        let spot = Spot {
            z_mm: Some(gap.z_mm),
            angle_deg: Some(gap.angle_deg),
            r_mm: Some(gap.r_mm),
            ..Spot::default()
        };
        findings.push(
            Finding::new(&code::PAIR_BINDS, words)
                .spot(spot)
                .values(-lacks, 0.0)
                .help(cure(unit.show_at_least(lacks))),
        );
    };
    let least = |gap: fn(&Fitted) -> Gap| {
        fits.iter().map(|fit| (fit, gap(fit), -gap(fit).mm)).max_by(|a, b| a.2.total_cmp(&b.2))
    };
    tell(least(|fit| fit.crest), "crest of the screw", &|more| {
        format!("cut the grooves of the nut {more} deeper on the radius")
    });
    tell(least(|fit| fit.root), "root of the screw", &|more| {
        format!("bore the nut {more} wider on the radius")
    });
    // Put where both flanks have the same room, each lacks the same.
    let tight = fits
        .iter()
        .map(|fit| {
            let gap = if fit.flank_low.mm < fit.flank_high.mm { fit.flank_low } else { fit.flank_high };
            (fit, gap, -gap.mm)
        })
        .max_by(|a, b| a.2.total_cmp(&b.2));
    tell(tight, "flanks", &|more| {
        format!(
            "give each flank of the nut {more} more clearance, or make the nut shorter: the leads drift apart as wood moves"
        )
    });
    findings
}
