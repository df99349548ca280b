//! Strength at other moistures than the 12 % of the tables. Averages of small clear pieces: whoever relies on them
//! leaves a wide margin.

use super::{Known, Property, Species};

/// Moisture of the tables, percent.
const TABLE_PERCENT: f64 = 12.0;
/// Moisture below which drying begins to strengthen a wood for which no other is known, percent (USDA FPL-GTR-282 Table
/// 5-13).
const USUAL_INTERSECTION_PERCENT: f64 = 25.0;

/// Modulus of elasticity along the grain over the one of the bending tables, which holds some shear: footnote c of USDA
/// FPL-GTR-282 Table 5-3.
pub const TRUE_PER_BENDING_MODULUS: f64 = 1.1;
/// Modulus of elasticity along the grain over shear modulus, for woods of which no ratio is known: the five species of
/// USDA FPL-GTR-190 Table 5-1 that were seen lie between 9 and 16. Computed.
pub const USUAL_MODULUS_PER_SHEAR_MODULUS: f64 = 12.0;
/// Torsional stress at the proportional limit over shear strength along the grain: USDA FPL-GTR-190 chapter 5.
pub const TORSION_LIMIT_PER_SHEAR: f64 = 2.0 / 3.0;
/// Strength in rolling shear (across the grain) over shear along it, least and most: the Wood Handbook's chapter 5, from
/// memory.
pub const ROLLING_PER_SHEAR: [f64; 2] = [0.18, 0.28];

/// Share by which single pieces differ from the average (coefficient of variation): USDA FPL-GTR-282 Table 5-6, from
/// memory. `None` for what it does not list.
pub fn scatter(property: Property) -> Option<f64> {
    match property {
        Property::Moe => Some(0.22),
        Property::Mor => Some(0.16),
        Property::Shear => Some(0.14),
        Property::CompressionAcross => Some(0.28),
        Property::Hardness => Some(0.20),
        Property::Gravity12 | Property::GravityGreen => Some(0.10),
        _ => None,
    }
}

/// A property at `moisture_percent` from its values at 12 % and green, in their unit: `P12 (P12/Pg)^((12 - M)/(Mp - 12))`,
/// eq. 5-3 of USDA FPL-GTR-282 p. 5-34, near 21 degrees C; above the intersection Mp it is the green value. Not for work
/// to maximum load, impact or tension across the grain.
pub fn at_moisture(at_12: f64, green: f64, moisture_percent: f64, intersection_percent: f64) -> f64 {
    if moisture_percent >= intersection_percent {
        return green;
    }
    at_12 * (at_12 / green).powf((TABLE_PERCENT - moisture_percent) / (intersection_percent - TABLE_PERCENT))
}

/// A strength or stiffness at some moisture.
#[derive(Clone, Debug, PartialEq)]
pub struct Strength<'a> {
    /// In the unit of the property.
    pub value: f64,
    /// Whether it was carried over to the moisture; without a green value it stays that of 12 %.
    pub corrected: bool,
    /// What is known at 12 %.
    pub known: &'a Known,
}

impl Species {
    /// Shear modulus in the planes along the grain, GPa, for the torsion of a screw whose axis is the grain: the mean of
    /// the known ratios, else by [`USUAL_MODULUS_PER_SHEAR_MODULUS`]. `None` without a modulus of elasticity.
    pub fn shear_modulus_gpa(&self) -> Option<f64> {
        let along = TRUE_PER_BENDING_MODULUS * self.value(Property::Moe)?;
        let ratios: Vec<f64> =
            [Property::GRadial, Property::GTangential].into_iter().filter_map(|p| self.value(p)).collect();
        let ratio = if ratios.is_empty() {
            1.0 / USUAL_MODULUS_PER_SHEAR_MODULUS
        } else {
            ratios.iter().sum::<f64>() / ratios.len() as f64
        };
        Some(along * ratio)
    }

    /// A property at a moisture (percent); `None` when it is missing at 12 %. Only properties whose green value is known
    /// are corrected, all others come back as they are at 12 %.
    pub fn strength_at(&self, property: Property, moisture_percent: f64) -> Option<Strength<'_>> {
        let known = self.get(property)?;
        let green = match property {
            Property::Moe => self.value(Property::MoeGreen),
            Property::Mor => self.value(Property::MorGreen),
            Property::Hardness => self.value(Property::HardnessGreen),
            _ => None,
        };
        let intersection = self.value(Property::Intersection).unwrap_or(USUAL_INTERSECTION_PERCENT);
        let value = green
            .map_or(known.value, |green| at_moisture(known.value, green, moisture_percent, intersection));
        Some(Strength { value, corrected: green.is_some(), known })
    }
}
