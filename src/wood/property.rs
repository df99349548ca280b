//! The properties of a wood, their names and units.

use serde::Serialize;

/// A property of a wood. Strengths are averages of small clear pieces at 12 % moisture unless the name says otherwise:
/// no design values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Property {
    /// Density at 12 % moisture, kg/m³.
    Density,
    /// Oven-dry mass over volume at 12 % moisture, water being 1.
    #[serde(rename = "gravity-12")]
    Gravity12,
    /// Oven-dry mass over green volume, water being 1.
    GravityGreen,
    /// Radial shrinkage from green to oven-dry, % of the green size.
    ShrinkRadial,
    /// Tangential shrinkage from green to oven-dry, % of the green size.
    ShrinkTangential,
    /// Radial movement, share of the size per point of moisture.
    MoveRadial,
    /// Tangential movement, share of the size per point of moisture.
    MoveTangential,
    /// Moisture at which shrinkage begins, %.
    FibreSaturation,
    /// Modulus of elasticity in bending, GPa.
    Moe,
    /// Modulus of rupture, MPa.
    Mor,
    /// Shear strength along the grain, MPa.
    Shear,
    /// Compression across the grain at the proportional limit, MPa.
    CompressionAcross,
    /// Side hardness by the 0.444 inch ball, N.
    Hardness,
    /// Radial over longitudinal modulus of elasticity.
    ERadial,
    /// Tangential over longitudinal modulus of elasticity.
    ETangential,
    /// Shear modulus in the longitudinal-radial plane over longitudinal modulus of elasticity.
    GRadial,
    /// Shear modulus in the longitudinal-tangential plane over longitudinal modulus of elasticity.
    GTangential,
    /// Modulus of elasticity of green wood, GPa.
    MoeGreen,
    /// Modulus of rupture of green wood, MPa.
    MorGreen,
    /// Side hardness of green wood, N.
    HardnessGreen,
    /// Moisture below which strength begins to grow in drying, %.
    Intersection,
}

impl Property {
    /// Every property, in the order in which they are shown.
    pub const ALL: [Property; 21] = [
        Property::Density,
        Property::Gravity12,
        Property::GravityGreen,
        Property::ShrinkRadial,
        Property::ShrinkTangential,
        Property::MoveRadial,
        Property::MoveTangential,
        Property::FibreSaturation,
        Property::Moe,
        Property::Mor,
        Property::Shear,
        Property::CompressionAcross,
        Property::Hardness,
        Property::ERadial,
        Property::ETangential,
        Property::GRadial,
        Property::GTangential,
        Property::MoeGreen,
        Property::MorGreen,
        Property::HardnessGreen,
        Property::Intersection,
    ];

    /// The name in the table.
    pub fn name(self) -> &'static str {
        match self {
            Property::Density => "density",
            Property::Gravity12 => "gravity-12",
            Property::GravityGreen => "gravity-green",
            Property::ShrinkRadial => "shrink-radial",
            Property::ShrinkTangential => "shrink-tangential",
            Property::MoveRadial => "move-radial",
            Property::MoveTangential => "move-tangential",
            Property::FibreSaturation => "fibre-saturation",
            Property::Moe => "moe",
            Property::Mor => "mor",
            Property::Shear => "shear",
            Property::CompressionAcross => "compression-across",
            Property::Hardness => "hardness",
            Property::ERadial => "e-radial",
            Property::ETangential => "e-tangential",
            Property::GRadial => "g-radial",
            Property::GTangential => "g-tangential",
            Property::MoeGreen => "moe-green",
            Property::MorGreen => "mor-green",
            Property::HardnessGreen => "hardness-green",
            Property::Intersection => "intersection",
        }
    }

    /// The property of that name.
    pub fn of_name(name: &str) -> Option<Property> {
        Property::ALL.into_iter().find(|property| property.name() == name)
    }

    /// Words for people.
    pub fn words(self) -> &'static str {
        match self {
            Property::Density => "density at 12 % moisture",
            Property::Gravity12 => "specific gravity, dry mass over volume at 12 %",
            Property::GravityGreen => "specific gravity, dry mass over green volume",
            Property::ShrinkRadial => "shrinkage, green to dry, radial",
            Property::ShrinkTangential => "shrinkage, green to dry, tangential",
            Property::MoveRadial => "movement per point of moisture, radial",
            Property::MoveTangential => "movement per point of moisture, tangential",
            Property::FibreSaturation => "fibre saturation",
            Property::Moe => "modulus of elasticity",
            Property::Mor => "modulus of rupture",
            Property::Shear => "shear along the grain",
            Property::CompressionAcross => "compression across the grain",
            Property::Hardness => "side hardness",
            Property::ERadial => "elasticity, radial to along the grain",
            Property::ETangential => "elasticity, tangential to along the grain",
            Property::GRadial => "shear modulus, radial, to elasticity along",
            Property::GTangential => "shear modulus, tangential, to elasticity along",
            Property::MoeGreen => "modulus of elasticity, green",
            Property::MorGreen => "modulus of rupture, green",
            Property::HardnessGreen => "side hardness, green",
            Property::Intersection => "moisture below which strength grows",
        }
    }

    /// What a value is multiplied by to be shown, the decimals it is shown with, and its unit.
    fn shown(self) -> (f64, usize, &'static str) {
        match self {
            Property::Density => (1.0, 0, "kg/m3"),
            Property::Gravity12 | Property::GravityGreen => (1.0, 2, ""),
            Property::ShrinkRadial | Property::ShrinkTangential => (1.0, 1, "%"),
            Property::MoveRadial | Property::MoveTangential => (100.0, 3, "%"),
            Property::FibreSaturation | Property::Intersection => (1.0, 0, "%"),
            Property::Moe | Property::MoeGreen => (1.0, 1, "GPa"),
            Property::Mor | Property::MorGreen => (1.0, 0, "MPa"),
            Property::Shear | Property::CompressionAcross => (1.0, 1, "MPa"),
            Property::Hardness | Property::HardnessGreen => (1.0, 0, "N"),
            Property::ERadial | Property::ETangential | Property::GRadial | Property::GTangential => {
                (1.0, 3, "")
            }
        }
    }

    /// A value in words: `770 kg/m3`, `0.165 %`.
    pub fn show(self, value: f64) -> String {
        let (factor, decimals, unit) = self.shown();
        let number = format!("{:.decimals$}", value * factor);
        if unit.is_empty() { number } else { format!("{number} {unit}") }
    }
}
