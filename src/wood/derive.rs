//! Values that follow from others by a rule: density from specific gravity, movement from shrinkage and back. A value
//! that was given is never replaced.

use super::{Known, Origin, Property, Species};

/// Mass at 12 % moisture over oven-dry mass, times the density of water in kg/m³. Computed.
const DENSITY_PER_GRAVITY_12: f64 = 1120.0;
/// Basic density over density at 12 % moisture: Vieilledent 2018, from memory; within 3 % of three pairs of USDA
/// sheets seen.
const BASIC_PER_DENSITY_12: f64 = 0.828;
const WATER_KG_M3: f64 = 1000.0;

/// Share of the size by which it moves per point of moisture, from the whole shrinkage in percent:
/// `S / (3000 - 20 S)`, eq. 13-3 of USDA FPL-GTR-190 (form from memory) for wood at 10 % moisture and a fibre
/// saturation of 30 %. It gives all 44 coefficients of its Table 13-5 for the 22 species whose shrinkage is in Table
/// 4-3 to within 0.000006.
pub fn movement_from_shrinkage(shrinkage_percent: f64) -> f64 {
    shrinkage_percent / (3000.0 - 20.0 * shrinkage_percent)
}

/// The inverse of [`movement_from_shrinkage`]: percent from green to oven-dry.
pub fn shrinkage_from_movement(per_point: f64) -> f64 {
    3000.0 * per_point / (1.0 + 20.0 * per_point)
}

/// Adds what follows from the values that are there.
pub(super) fn fill(species: &mut Species) {
    use Property::{
        Density, Gravity12, GravityGreen, MoveRadial, MoveTangential, ShrinkRadial, ShrinkTangential,
    };
    for (shrink, per_point) in [(ShrinkRadial, MoveRadial), (ShrinkTangential, MoveTangential)] {
        derive(species, shrink, per_point, "shrinkage, S / (3000 - 20 S)", false, movement_from_shrinkage);
        derive(species, per_point, shrink, "movement, 3000 C / (1 + 20 C)", false, shrinkage_from_movement);
    }
    derive(species, Gravity12, Density, "specific gravity at 12 %, times 1120", false, |gravity| {
        DENSITY_PER_GRAVITY_12 * gravity
    });
    derive(
        species,
        GravityGreen,
        Density,
        "green specific gravity, over 0.828 (Vieilledent 2018)",
        true,
        |gravity| WATER_KG_M3 * gravity / BASIC_PER_DENSITY_12,
    );
}

/// Adds `to` from `from`, unless it is there or cannot be had.
fn derive(
    species: &mut Species,
    from: Property,
    to: Property,
    rule: &str,
    rule_from_memory: bool,
    compute: impl Fn(f64) -> f64,
) {
    if species.values.contains_key(&to) {
        return;
    }
    let Some(known) = species.values.get(&from) else {
        return;
    };
    let memory = rule_from_memory || known.origin.from_memory();
    let derived = Known {
        value: compute(known.value),
        source: format!("from {rule}; {}", known.source),
        origin: if memory { Origin::ComputedMemory } else { Origin::Computed },
        note: known.note.clone(),
    };
    species.values.insert(to, derived);
}
