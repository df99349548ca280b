//! What it takes to push an edge through wood: chips, pressure, force and power. Arithmetic on plain numbers, so that
//! both halves may use it; the sizes of a cut come from whoever has its geometry. Lengths in mm, speeds in mm/min.
//!
//! No table of forces was at hand: the numbers below are from memory, and an estimate made with them is good to a
//! factor of two either way ([`BAND`]). Whoever shows such an estimate shows [`FROM_MEMORY`] with it.

use std::f64::consts::TAU;

use serde::Serialize;

use crate::setup::Edge;

/// What the user is told about numbers that rest on memory, one remark a line.
pub const FROM_MEMORY: &[&str] = &[
    "forces: 30 N/mm2 at 650 kg/m3 for chips of 0.1 mm, falling with chip thickness to the power 0.4, half as much again \
     round a blank, a used edge 1.3 times, a dull one 1.75 times; within a factor of two",
    "chips: burning below two edge radii in light wood and three in dense wood, the radius 0.01 mm sharp, 0.015 used, 0.03 \
     dull; tearing above 0.15 mm an edge for cutters of 6 mm and 0.3 mm for 16 mm; trade practice",
    "a last pass takes 0.2 to 0.4 mm off each flank; the blank may bend by 0.2 mm, under the last pass by 0.1, the cutter \
     by 0.1; common practice",
];

/// Estimates of force and power may be so many times too high or too low. Equal densities can differ that much, and
/// for nine species on a router density explains specific energy with r = 0.61 only (Res. Soc. Dev. 11(7), 2022, 29674).
pub const BAND: f64 = 2.0;

/// Pressure on the chip's section at [`AT_DENSITY`] and [`AT_CHIP_MM`], along the grain, sharp; from memory. Between 32
/// and 38 N/mm² were measured on particleboard (Palubicki 2021, Materials 14:2208).
const PRESSURE_N_MM2: f64 = 30.0;
/// Density for which that holds, kg/m³.
const AT_DENSITY: f64 = 650.0;
/// Chip thickness for which that holds.
const AT_CHIP_MM: f64 = 0.1;
/// Thin chips take more: pressure falls with chip thickness to this power; from memory, 0.3 to 0.6.
pub const FALL: f64 = 0.4;
/// Below this the edge rubs and no pressure is known; thinner chips are reckoned as this thick. From memory.
pub const MODEL_FROM_MM: f64 = 0.02;
/// Share by which going round an axially grained blank takes more than planing along it, in the mean of a turn of the
/// edge: it sweeps from along the grain to severing its ends. From memory.
pub const GRAIN_ROUND: f64 = 1.5;

/// Share by which an edge takes more than a sharp one; from memory.
fn wear(edge: Edge) -> f64 {
    match edge {
        Edge::Sharp => 1.0,
        Edge::Used => 1.3,
        Edge::Dull => 1.75,
    }
}

/// Force square to the edge's way as a share of the force along it: 0.2 to 0.6 sharp, up to all of it dull; from memory.
fn thrust_share(edge: Edge) -> f64 {
    match edge {
        Edge::Sharp => 0.4,
        Edge::Used => 0.6,
        Edge::Dull => 1.0,
    }
}

/// Roundness of an edge: new carbide 0.005 to 0.01 mm, worn 0.02 to 0.04; from memory.
fn edge_radius_mm(edge: Edge) -> f64 {
    match edge {
        Edge::Sharp => 0.010,
        Edge::Used => 0.015,
        Edge::Dull => 0.030,
    }
}

/// Pressure on the section of the chip, N/mm² (which is J/cm³ of wood): `30 (density / 650) grain wear (0.1 / chip)^0.4`,
/// the chip reckoned no thinner than [`MODEL_FROM_MM`]. From memory, within [`BAND`].
///
/// `density_kg_m3` at 10 to 12 % moisture; `grain` is 1 along the grain, [`GRAIN_ROUND`] round a blank.
pub fn pressure_n_mm2(density_kg_m3: f64, chip_mm: f64, grain: f64, edge: Edge) -> f64 {
    let thin = (AT_CHIP_MM / chip_mm.max(MODEL_FROM_MM)).powf(FALL);
    PRESSURE_N_MM2 * density_kg_m3 / AT_DENSITY * grain * wear(edge) * thin
}

/// Mean thickness of the chip over the arc on which a side-cutting edge meets wood, as a share of the feed per edge.
/// `engaged` is width of cut over diameter of the cutter: 1 in a slot.
///
/// `2 q / phi`, cos phi = 1 - 2 q: the chip's volume over the length of the arc. Source: the geometry, as in El-Hofy,
/// Fundamentals of Machining Processes, chapter 6.
///
/// ```
/// // In a slot the mean chip is 2 / pi of the feed per edge.
/// assert!((threadwright::pressure::chip_share(1.0) - std::f64::consts::FRAC_2_PI).abs() < 1e-12);
/// ```
pub fn chip_share(engaged: f64) -> f64 {
    let engaged = engaged.clamp(f64::MIN_POSITIVE, 1.0);
    2.0 * engaged / (1.0 - 2.0 * engaged).acos()
}

/// Speed of an edge that turns at a radius, m/s.
pub fn edge_speed_m_s(radius_mm: f64, rpm: f64) -> f64 {
    TAU * radius_mm * rpm / 60.0 / 1000.0
}

/// The wood a cutter meets on its way, seen along that way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Engagement {
    /// Section of the wood it removes.
    pub area_mm2: f64,
    /// Area of the cutter's own surface that lies against that wood: arc times slant height.
    pub contact_mm2: f64,
    /// The section, each part over the radius of the cutter at its height.
    pub over_radius_mm: f64,
    /// Height of the section's middle above the tip.
    pub height_mm: f64,
}

impl Engagement {
    /// Mean thickness of the chips, square to the edge, as a share of the feed per edge: wood over the surface it is
    /// taken off by. In a slot cut by a cone this is `2/pi cos a`, on one flank [`chip_share`] times cos a.
    pub fn chip_share(&self) -> f64 {
        if self.contact_mm2 > 0.0 { self.area_mm2 / self.contact_mm2 } else { 0.0 }
    }
}

/// How a cutter runs through the wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Running {
    /// Turns of the spindle a minute.
    pub rpm: f64,
    /// Cutting edges.
    pub edges: u32,
    /// Speed along the wood at the middle of the section.
    pub speed_mm_per_min: f64,
    /// State of the edges.
    pub edge: Edge,
    /// Density of the wood; without it chips are known, forces not.
    pub density_kg_m3: Option<f64>,
}

/// What a cut asks for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Strain {
    /// Way along the wood from one edge to the next.
    pub feed_per_edge_mm: f64,
    /// Mean thickness of the chips.
    pub chip_mm: f64,
    /// Forces, where the density of the wood is known.
    pub push: Option<Push>,
}

/// Forces and power, each the middle of its band.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Push {
    /// Pressure on the chip.
    pub pressure_n_mm2: f64,
    /// Power at the cutter.
    pub power_w: f64,
    /// Mean force along the edge's way: power over the edge's speed, height by height.
    pub force_n: f64,
    /// The same with the force square to it: what may push blank or cutter aside, in whatever direction.
    pub side_n: f64,
}

/// Reckons a cut. With an area A, a contact S and a feed per edge f the mean chip is f A / S; power is pressure times
/// wood removed; force is the sum over heights of power over edge speed, `pressure f edges / 2 pi` times the section
/// over the cutter's radius.
pub fn strain(engagement: &Engagement, running: &Running) -> Strain {
    let edges = f64::from(running.edges);
    let feed = running.speed_mm_per_min / (edges * running.rpm);
    let chip = feed * engagement.chip_share();
    let push = running.density_kg_m3.map(|density| {
        let pressure = pressure_n_mm2(density, chip, GRAIN_ROUND, running.edge);
        let force = pressure * feed * edges / TAU * engagement.over_radius_mm;
        Push {
            pressure_n_mm2: pressure,
            // N/mm² times mm³/min are N mm/min.
            power_w: pressure * engagement.area_mm2 * running.speed_mm_per_min / 60.0 / 1000.0,
            force_n: force,
            side_n: force * 1.0_f64.hypot(thrust_share(running.edge)),
        }
    });
    Strain { feed_per_edge_mm: feed, chip_mm: chip, push }
}

/// Densities between which the least chip rises from two to three edge radii: light woods forgive more. From memory.
const LIGHT_TO_DENSE_KG_M3: [f64; 2] = [450.0, 700.0];

/// Thinnest mean chip that does not burn: two edge radii in light wood, three in dense wood and in wood of unknown
/// density; sharp and dense 0.03 mm. Trade practice, from memory.
pub fn least_chip_mm(density_kg_m3: Option<f64>, edge: Edge) -> f64 {
    let [light, dense] = LIGHT_TO_DENSE_KG_M3;
    let share = density_kg_m3.map_or(1.0, |density| ((density - light) / (dense - light)).clamp(0.0, 1.0));
    edge_radius_mm(edge) * (2.0 + share)
}

/// Cutter diameters between which the greatest feed per edge rises, and its values there; from memory.
const TEARS: [(f64, f64); 2] = [(6.0, 0.15), (16.0, 0.30)];

/// Greatest feed per edge that does not tear, mm, for the diameter of a cutter; of a V cutter where it leaves the wood at full
/// depth. Trade practice, from memory.
pub fn most_feed_per_edge_mm(diameter_mm: f64) -> f64 {
    let [(thin, least), (thick, most)] = TEARS;
    let share = ((diameter_mm - thin) / (thick - thin)).clamp(0.0, 1.0);
    least + (most - least) * share
}

/// The numbers of this model, for whoever reckons with it elsewhere (the inspection page does). What stands in threes is
/// for sharp, used and dull edges.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Model {
    pressure_n_mm2: f64,
    at_density: f64,
    at_chip_mm: f64,
    fall: f64,
    thinnest_mm: f64,
    grain_round: f64,
    band: f64,
    wear: [f64; 3],
    thrust_share: [f64; 3],
    edge_radius_mm: [f64; 3],
    light_to_dense: [f64; 2],
}

/// The numbers that [`strain`] and [`least_chip_mm`] reckon with.
pub fn model() -> Model {
    const EDGES: [Edge; 3] = [Edge::Sharp, Edge::Used, Edge::Dull];
    Model {
        pressure_n_mm2: PRESSURE_N_MM2,
        at_density: AT_DENSITY,
        at_chip_mm: AT_CHIP_MM,
        fall: FALL,
        thinnest_mm: MODEL_FROM_MM,
        grain_round: GRAIN_ROUND,
        band: BAND,
        wear: EDGES.map(wear),
        thrust_share: EDGES.map(thrust_share),
        edge_radius_mm: EDGES.map(edge_radius_mm),
        light_to_dense: LIGHT_TO_DENSE_KG_M3,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slot cut by a straight cutter: width of the cutter, so deep.
    fn slot(radius: f64, deep: f64) -> Engagement {
        Engagement {
            area_mm2: 2.0 * radius * deep,
            contact_mm2: std::f64::consts::PI * radius * deep,
            over_radius_mm: 2.0 * deep,
            height_mm: deep / 2.0,
        }
    }

    #[test]
    fn power_is_force_times_the_speed_of_the_edge() {
        for edge in [Edge::Sharp, Edge::Used, Edge::Dull] {
            let running = Running {
                rpm: 12_000.0,
                edges: 3,
                speed_mm_per_min: 2500.0,
                edge,
                density_kg_m3: Some(700.0),
            };
            let push = strain(&slot(4.0, 5.0), &running).push.expect("the density is known");
            let power = push.force_n * edge_speed_m_s(4.0, 12_000.0);
            assert!((push.power_w / power - 1.0).abs() < 1e-12, "{push:?}");
            assert!(push.side_n > push.force_n);
        }
    }

    #[test]
    fn without_a_density_chips_are_known_and_forces_not() {
        let running = Running {
            rpm: 18_000.0,
            edges: 2,
            speed_mm_per_min: 1500.0,
            edge: Edge::Sharp,
            density_kg_m3: None,
        };
        let strain = strain(&slot(3.0, 3.0), &running);
        assert!(strain.chip_mm > 0.0 && strain.push.is_none(), "{strain:?}");
    }

    #[test]
    fn limits_rise_with_what_they_should_rise_with() {
        assert_eq!(least_chip_mm(None, Edge::Sharp), 0.03, "what is not known is taken for dense");
        assert!(least_chip_mm(Some(450.0), Edge::Sharp) < least_chip_mm(Some(600.0), Edge::Sharp));
        assert!(least_chip_mm(Some(600.0), Edge::Sharp) < least_chip_mm(Some(600.0), Edge::Dull));
        assert_eq!((most_feed_per_edge_mm(3.0), most_feed_per_edge_mm(40.0)), (0.15, 0.30));
    }
}
