//! Facts and the history of the wood as one compressed text that the page unpacks: gzip, then base64.
//!
//! Unpacked it holds, all little-endian: the length of the facts (4 bytes), the facts as JSON, the number of shavings (4
//! bytes), the length of the heads (4 bytes), the heads, the values. Heads and values are whole numbers of seven bits
//! a byte, the lowest first, the top bit meaning "more follows"; numbers that may be negative are folded (0, -1, 1, -2
//! become 0, 1, 2, 3). A head is four numbers: motion, row, column, each as the difference to the shaving before (row
//! and column folded), and how many values follow. Values are radii in steps: the first as the difference to the first of
//! the shaving before, then one difference, then differences of differences, all folded: along a straight flank those
//! are nearly all nothing, which is what makes the pack small.

use std::io::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use flate2::Compression;
use flate2::write::GzEncoder;

use crate::stock::History;

/// Finest step of a radius in a pack, mm: a twentieth of the tolerances that deviations are held against.
const FINEST_STEP_MM: f64 = 0.002;

/// Step of a radius, mm: the finest with which every radius of the blank fits into 16 bits.
pub(super) fn step_mm(history: &History) -> f64 {
    let widest = history.blank_mm.iter().copied().fold(0.0, f64::max);
    let mut step = FINEST_STEP_MM;
    while widest / step >= f64::from(u16::MAX) {
        step *= 2.0;
    }
    step
}

/// The pack as text.
pub(super) fn pack(facts: &str, history: &History) -> std::io::Result<String> {
    let (heads, values) = streams(history);
    let mut zip = GzEncoder::new(Vec::new(), Compression::new(7));
    zip.write_all(&length(facts.len()))?;
    zip.write_all(facts.as_bytes())?;
    zip.write_all(&length(history.shavings.len()))?;
    zip.write_all(&length(heads.len()))?;
    zip.write_all(&heads)?;
    zip.write_all(&values)?;
    Ok(STANDARD.encode(zip.finish()?))
}

fn length(count: usize) -> [u8; 4] {
    (count as u32).to_le_bytes()
}

fn streams(history: &History) -> (Vec<u8>, Vec<u8>) {
    let step = step_mm(history);
    let (mut heads, mut values) = (Vec::new(), Vec::new());
    let (mut motion, mut row, mut column, mut first) = (0, 0, 0, 0);
    for shaving in &history.shavings {
        number(&mut heads, (shaving.motion - motion) as u64);
        folded(&mut heads, shaving.row as i64 - row);
        folded(&mut heads, shaving.column as i64 - column);
        number(&mut heads, shaving.radii_mm.len() as u64);
        (motion, row, column) = (shaving.motion, shaving.row as i64, shaving.column as i64);
        let steps = shaving.radii_mm.iter().map(|&radius| (f64::from(radius) / step).round() as i64);
        let (mut before, mut slope) = (first, 0);
        for (index, radius) in steps.enumerate() {
            folded(&mut values, radius - before - slope);
            if index == 0 {
                first = radius;
            } else {
                slope = radius - before;
            }
            before = radius;
        }
    }
    (heads, values)
}

fn folded(to: &mut Vec<u8>, value: i64) {
    number(to, ((value << 1) ^ (value >> 63)) as u64);
}

fn number(to: &mut Vec<u8>, mut value: u64) {
    while value >= 0x80 {
        to.push((value & 0x7f) as u8 | 0x80);
        value >>= 7;
    }
    to.push(value as u8);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The encoding of 300 is the example of the protocol buffers guide ("Base 128 Varints"), from memory.
    #[test]
    fn numbers_take_seven_bits_a_byte() {
        let mut bytes = Vec::new();
        number(&mut bytes, 300);
        folded(&mut bytes, -2);
        assert_eq!(bytes, [0b1010_1100, 0b0000_0010, 3]);
    }
}
