//! What the timber bears where the load passes: stress beside strength, for an average piece and for a weak one. A
//! strength that no table has is named as missing and nothing is put in its place.

use super::beam::{area_moment_mm4, axial_mpa, bending_mpa, buckling_n, torsion_mpa};
use super::engaged::{first_share, flank_area_mm2, strip_area_mm2, tooth_bending_mpa};
use super::works::Works;
use crate::design::Screw;
use crate::job::{Job, PressLoad};
use crate::stiffness::{Bar, Held};
use crate::wood::strength::{ROLLING_PER_SHEAR, TRUE_PER_BENDING_MODULUS, scatter};
use crate::wood::{Known, Property, Species};

/// A weak piece: one in twenty is weaker. Mean less 1.645 standard deviations of a normal distribution.
const WEAK_DEVIATIONS: f64 = 1.645;
const MPA_PER_GPA: f64 = 1000.0;

/// What is compared at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Stresses, MPa.
    StressMpa,
    /// Forces, N.
    ForceN,
}

/// One place that is looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Where, and what happens there: `core, twisted`.
    pub place: &'static str,
    /// Name of the wood there.
    pub wood: String,
    /// What is asked of it, in the unit of `measure`.
    pub asked: f64,
    /// What is compared.
    pub measure: Measure,
    /// What an average piece bears; `None` when no table has it.
    pub bears: Option<f64>,
    /// What a weak piece bears.
    pub weak: Option<f64>,
    /// The strength that is compared with, in words.
    pub strength: &'static str,
    /// Whether some table might have that strength; compression along the grain is in none.
    pub in_tables: bool,
    /// Whether this is only what would be if the load were shared as in a metal nut. Threads of wood are soft beside their
    /// core and share more evenly, so such a check decides nothing.
    pub at_worst: bool,
    /// Whether memory has a part in it.
    pub from_memory: bool,
    /// The text the strength is from; empty when no table has it.
    pub source: String,
    /// What else its table says of it: a range, a doubt.
    pub note: String,
}

impl Check {
    /// How many times an average piece bears what is asked.
    pub fn factor(&self) -> Option<f64> {
        Some(self.bears? / self.asked)
    }

    /// How many times a weak piece does.
    pub fn weak_factor(&self) -> Option<f64> {
        Some(self.weak? / self.asked)
    }
}

/// Where the wood is looked up: its name and what is known of it at the moisture of the wet season.
struct Timber<'a> {
    name: &'a str,
    species: Option<&'a Species>,
    moisture_percent: Option<f64>,
}

impl Timber<'_> {
    /// A strength (MPa) or stiffness (GPa), its value in a weak piece, and what is known at 12 %.
    fn get(&self, property: Property) -> Option<(f64, f64, &Known)> {
        let species = self.species?;
        let known = species.get(property)?;
        let value = match self.moisture_percent {
            Some(percent) => species.strength_at(property, percent)?.value,
            None => known.value,
        };
        // Coefficients of variation are from memory, so a weak piece always is; the average need not be.
        let weak = value * (1.0 - WEAK_DEVIATIONS * scatter(property)?);
        Some((value, weak, known))
    }

    fn check(&self, place: &'static str, asked: f64, property: Property, share: f64) -> Check {
        let known = self.get(property);
        Check {
            place,
            wood: self.name.to_owned(),
            asked,
            measure: Measure::StressMpa,
            bears: known.map(|known| share * known.0),
            weak: known.map(|known| share * known.1),
            strength: words(property),
            in_tables: true,
            at_worst: false,
            from_memory: known.is_some_and(|known| known.2.origin.from_memory()),
            source: known.map_or(String::new(), |known| known.2.source.clone()),
            note: known.map_or(String::new(), |known| known.2.note.clone()),
        }
    }
}

/// A strength as a woodworker calls it.
fn words(property: Property) -> &'static str {
    match property {
        Property::Mor => "bending strength",
        Property::Moe => "stiffness along the grain",
        other => other.words(),
    }
}

/// Every place that the load passes, at a load that the hand raises.
pub(super) fn checks(job: &Job, screw: &Screw, works: &Works, load_n: f64) -> Vec<Check> {
    let moisture_percent = job.season.as_ref().map(|season| season.wet.percent);
    let timber = Timber { name: &job.wood, species: job.species.as_ref(), moisture_percent };
    let nut = Timber { name: &works.nut_wood, species: works.nut_species.as_ref(), moisture_percent };
    let mut all = core(screw, works, load_n, &timber);
    all.extend(threads(job, screw, works, load_n, &timber, &nut));
    for (place, diameter) in necks(job) {
        let stress = torsion_mpa(works.hand_n_mm(), diameter);
        all.push(timber.check(place, stress, Property::Shear, 1.0));
    }
    if let Some(diameter) = job.press.handle_diameter_mm {
        let (name, species) = match &job.press.handle_wood {
            Some(name) => (name, job.press.handle_species.as_ref()),
            None => (&job.wood, job.species.as_ref()),
        };
        let bar = Timber { name, species, moisture_percent };
        all.push(bar.check("handle, bent", bending_mpa(works.hand_n_mm(), diameter), Property::Mor, 1.0));
    }
    all
}

/// Places beside the thread that the whole effort twists as well, as far as the job says how thick they are. A tenon with
/// flats counts as its inscribed circle.
fn necks(job: &Job) -> Vec<(&'static str, f64)> {
    let asked = &job.operations;
    let cut =
        asked.tenon.as_ref().map(|tenon| tenon.flats.map_or(tenon.diameter_mm, |flats| flats.across_mm));
    [
        ("tenon, twisted", job.press.tenon_diameter_mm.or(cut)),
        ("garter groove, twisted", asked.garter.as_ref().map(|garter| garter.diameter_mm)),
        ("relief groove, twisted", asked.relief.as_ref().and_then(|relief| relief.diameter_mm)),
    ]
    .into_iter()
    .filter_map(|(place, diameter)| Some((place, diameter?)))
    .collect()
}

/// The core: twisted by the whole effort and loaded along its grain, which is the worst that any part of it sees.
fn core(screw: &Screw, works: &Works, load_n: f64, timber: &Timber) -> Vec<Check> {
    let core_mm = 2.0 * screw.root_radius_mm;
    let torsion = torsion_mpa(works.hand_n_mm(), core_mm);
    let axial = axial_mpa(load_n, core_mm);
    // Torsional strength may be taken as that of shear along the grain: USDA FPL-GTR-190 chapter 5.
    let twisted = timber.check("core, twisted", torsion, Property::Shear, 1.0);
    match works.load {
        PressLoad::Pulls => {
            // Bending strength stands for tension along the grain, which is hardly less: from memory.
            let pulled = timber.check("core, pulled and twisted", axial, Property::Mor, 1.0);
            vec![together(&pulled, &twisted), twisted]
        }
        PressLoad::Pushes => {
            // No table has the compression along the grain.
            let pressed = Check {
                place: "core, pressed along the grain",
                asked: axial,
                bears: None,
                weak: None,
                strength: "compression along the grain",
                in_tables: false,
                source: String::new(),
                note: String::new(),
                ..twisted.clone()
            };
            vec![twisted, pressed, buckling(screw, works, load_n, timber)]
        }
    }
}

/// Pull and twist at once: each takes its share of what the wood bears, and the squares of the shares add up to one.
/// Told as the pull that is asked, beside the pull that is left to bear. A usual rule for two stresses, from memory.
fn together(pulled: &Check, twisted: &Check) -> Check {
    let left = |pull: Option<f64>, twist: Option<f64>| {
        let shares = (pulled.asked / pull?).hypot(twisted.asked / twist?);
        Some(pulled.asked / shares)
    };
    Check {
        bears: left(pulled.bears, twisted.bears),
        weak: left(pulled.weak, twisted.weak),
        strength: "bending strength in place of tension, and shear",
        from_memory: true,
        ..pulled.clone()
    }
}

fn buckling(screw: &Screw, works: &Works, load_n: f64, timber: &Timber) -> Check {
    let core_mm = 2.0 * screw.root_radius_mm;
    let stiff = timber.check("screw, bowing out", load_n, Property::Moe, 1.0);
    let bears = |modulus_gpa: f64| {
        let modulus_mpa = modulus_gpa * TRUE_PER_BENDING_MODULUS * MPA_PER_GPA;
        buckling_n(modulus_mpa, area_moment_mm4(core_mm), works.free_mm.value, works.end)
    };
    Check { measure: Measure::ForceN, bears: stiff.bears.map(bears), weak: stiff.weak.map(bears), ..stiff }
}

/// The threads of screw and nut, on average and where the first takes most.
fn threads(
    job: &Job,
    screw: &Screw,
    works: &Works,
    load_n: f64,
    timber: &Timber,
    nut: &Timber,
) -> Vec<Check> {
    let pitch = job.screw.pitch_mm;
    let threads = works.nut_mm.value / pitch;
    let (crest, root) = (2.0 * screw.crest_radius_mm, 2.0 * screw.root_radius_mm);
    let root_flat = screw.section.first().map_or(0.0, |point| 2.0 * point.half_width_mm);
    let screw_base = pitch - root_flat;
    let screw_shear = load_n / strip_area_mm2(root, screw_base, threads);
    let nut_shear = load_n / strip_area_mm2(crest, screw.crest_width_mm, threads);
    let bearing = load_n / flank_area_mm2(crest, works.bore_mm, threads);
    let bending = tooth_bending_mpa(load_n, root, screw_base, screw.depth_mm / 2.0, threads);
    // Grain across the axis: the nut's threads strip partly in rolling shear. Its share of shear is from memory.
    let across = |place, stress| Check {
        from_memory: true,
        strength: "shear round a hole across the grain",
        ..nut.check(place, stress, Property::Shear, round_a_hole(ROLLING_PER_SHEAR[0]))
    };
    // What the first thread would take, beside what it takes if all share alike.
    let unevenly = first_share(threads) * threads.max(1.0);
    let first = |check: Check| Check { asked: check.asked * unevenly, at_worst: true, ..check };
    vec![
        timber.check("screw's threads, sheared off", screw_shear, Property::Shear, 1.0),
        timber.check("screw's threads, bent", bending, Property::Mor, 1.0),
        across("nut's threads, sheared off", nut_shear),
        nut.check("nut's flanks, dented", bearing, Property::CompressionAcross, 1.0),
        first(timber.check("screw's first thread, sheared", screw_shear, Property::Shear, 1.0)),
        first(across("nut's first thread, sheared", nut_shear)),
        first(nut.check("nut's first flank, dented", bearing, Property::CompressionAcross, 1.0)),
    ]
}

/// Shear that a cylinder bears along its axis when the grain runs across it, over shear along the grain, `rolling` being
/// rolling shear over the same.
///
/// At an angle f from the grain, a shear t along the axis is t cos f on planes across the grain, which bear as much as
/// shear along it, and t sin f in rolling shear. So the place bears the least of 1 / cos f and r / sin f; this is the mean
/// round the hole: (2 / pi) (gd(f0) + r ln cot(f0 / 2)), tan f0 = r, gd being the integral of 1 / cos. Derived.
fn round_a_hole(rolling: f64) -> f64 {
    let turn = rolling.atan();
    let along = turn.tan().asinh();
    let across = rolling * -(turn / 2.0).tan().ln();
    std::f64::consts::FRAC_2_PI * (along + across)
}

/// A round bar of a wood; `None` when its stiffness is not known.
fn bar(species: Option<&Species>, held: Held, length_mm: f64, diameter_mm: f64) -> Option<Bar> {
    let modulus_n_mm2 = species?.value(Property::Moe)? * TRUE_PER_BENDING_MODULUS * MPA_PER_GPA;
    Some(Bar { held, length_mm, diameter_mm, modulus_n_mm2 })
}

/// Twist of the core between handle and load under the effort of the hand, degrees; `None` when stiffness is not known.
pub(super) fn twist_deg(job: &Job, screw: &Screw, works: &Works) -> Option<f64> {
    let length_mm = works.free_mm.value + works.nut_mm.value;
    let shear_n_mm2 = job.species.as_ref()?.shear_modulus_gpa()? * MPA_PER_GPA;
    let core = bar(job.species.as_ref(), Held::Overhung, length_mm, 2.0 * screw.root_radius_mm)?;
    Some(core.twist_deg(works.hand_n_mm(), length_mm, shear_n_mm2))
}

/// How far the end of the handle gives, mm; `None` when its size or stiffness is not known.
pub(super) fn handle_gives_mm(job: &Job, works: &Works) -> Option<f64> {
    let species = match &job.press.handle_wood {
        Some(_) => job.press.handle_species.as_ref(),
        None => job.species.as_ref(),
    };
    let handle = bar(species, Held::Overhung, works.handle_mm.value, job.press.handle_diameter_mm?)?;
    Some(handle.bend_mm(works.hand_n.value, works.handle_mm.value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shear_round_a_hole_is_the_mean_of_what_its_places_bear() {
        for rolling in [0.05, 0.18, 0.28, 1.0] {
            let steps = 200_000;
            let place = |i: i32| {
                let angle = (f64::from(i) + 0.5) / f64::from(steps) * std::f64::consts::FRAC_PI_2;
                (1.0 / angle.cos()).min(rolling / angle.sin())
            };
            let mean = (0..steps).map(place).sum::<f64>() / f64::from(steps);
            assert!((round_a_hole(rolling) - mean).abs() < 1e-6, "{rolling}: {mean}");
        }
    }
}
