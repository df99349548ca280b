//! The threads that bear: areas that shear off, flanks that press, the tooth that bends, and how unevenly the load is
//! shared. `threads` are crests side by side in the nut, nut length over pitch, whatever the starts.

use std::f64::consts::PI;

/// Share of the load on each thread of a nut, the first the nearest to the load: a table shown in a machining newsgroup.
/// It is for metal; wood gives more and shares somewhat better.
const SHARES: [f64; 6] = [0.34, 0.23, 0.16, 0.11, 0.09, 0.07];

/// Area of the cylinder on which threads shear off, mm²: pi d b n, `base_mm` being the thickness of a thread there.
pub fn strip_area_mm2(diameter_mm: f64, base_mm: f64, threads: f64) -> f64 {
    PI * diameter_mm * base_mm * threads
}

/// Area of flank, seen along the axis, that bears between a bore and a crest, mm²: pi/4 (d² - D²) n.
pub fn flank_area_mm2(crest_diameter_mm: f64, bore_diameter_mm: f64, threads: f64) -> f64 {
    PI / 4.0 * (crest_diameter_mm.powi(2) - bore_diameter_mm.powi(2)) * threads
}

/// Stress where a tooth bends off its core, MPa: a beam as wide as the thread is long, as thick as its base, loaded at
/// `arm_mm` from the core: 6 F a / (pi d b² n). Derived; for a square thread it is Shigley's 6 F / (pi d n P).
pub fn tooth_bending_mpa(force_n: f64, core_mm: f64, base_mm: f64, arm_mm: f64, threads: f64) -> f64 {
    6.0 * force_n * arm_mm / (PI * core_mm * base_mm.powi(2) * threads)
}

/// Share of the load on the first thread, of so many that are engaged: the table's, as if the others of the table that
/// are not there had their part shared out.
pub fn first_share(threads: f64) -> f64 {
    let mut sum = 0.0;
    for (index, share) in SHARES.iter().enumerate() {
        // A thread that is only partly in the nut takes that part.
        sum += share * (threads - index as f64).clamp(0.0, 1.0);
    }
    if threads < 1.0 { 1.0 } else { (SHARES[0] / sum).min(1.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_threads_leave_the_first_more() {
        assert_eq!(first_share(0.5), 1.0);
        assert_eq!(first_share(1.0), 1.0);
        assert!((first_share(2.0) - 34.0 / 57.0).abs() < 1e-12);
        assert!((first_share(6.0) - 0.34).abs() < 1e-12);
        assert_eq!(first_share(20.0), first_share(6.0));
        assert!(first_share(3.0) > first_share(3.5) && first_share(3.5) > first_share(4.0));
    }
}
