//! The section of a thread in plain characters, for the terminal.

use super::draw::form::Form;
use crate::drawing::Drawing;

/// Characters across the sketch.
const WIDE: usize = 56;
/// A character is about so many times as high as it is wide.
const TALL: f64 = 2.0;

/// Two pitches of the drawn section with its sizes beside it, ending in a line end.
pub fn section(drawing: &Drawing) -> String {
    let form = Form::of(drawing);
    let (pitch, crest) = (form.pitch(), form.crest());
    let depth = crest - form.root();
    let step = 2.0 * pitch / WIDE as f64;
    let rows = (depth / step / TALL).round().max(1.0) as usize;
    // A groove in the middle, a whole crest on either side of it.
    let level = |column: usize| {
        let s = (column as f64 + 0.5) * step - pitch;
        let radius = form.groove_radius((s - pitch * (s / pitch).round()).abs());
        let below = crest - radius.min(crest);
        (below / depth * rows as f64).round() as usize
    };
    let mut lines = vec![vec![' '; WIDE]; rows + 1];
    let mut before = level(0);
    for column in 0..WIDE {
        let here = level(column);
        let (top, bottom) = (here.min(before), here.max(before));
        if top == bottom {
            lines[here][column] = '_';
        } else {
            let flank = if here > before { '\\' } else { '/' };
            for line in &mut lines[top + 1..=bottom] {
                line[column] = flank;
            }
        }
        before = here;
    }
    let unit = drawing.unit;
    let mut text = String::new();
    for (index, line) in lines.iter().enumerate() {
        let line: String = line.iter().collect();
        let words = match index {
            0 => format!("  crest {}", unit.show(2.0 * crest)),
            _ if index == rows => format!("  root {}", unit.show(drawing.root_diameter_mm)),
            _ => String::new(),
        };
        text.push_str(format!("  {line}{words}").trim_end());
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{self, sample};

    #[test]
    fn a_section_is_drawn_in_characters() {
        let job = sample::job();
        let (screw, _) = design::screw(&job);
        let drawing = design::drawing(&job, &screw.expect("the sample has a screw"));
        insta::assert_snapshot!(section(&drawing), @r"
                       ___                         ___              crest 50.00 mm
                      /   \                       /   \
                     /     \                     /     \
                    /       \                   /       \
                   /         \                 /         \
                  /           \               /           \
                _/             \_           _/             \_
               /                 \         /                 \
              /                   \       /                   \
             /                     \     /                     \
          __/                       \___/                       \_  root 36.00 mm
        ");
    }
}
