//! Sticks in words: what to saw for one screw, and the blank list of several.

use comfy_table::{CellAlignment, Table, presets};

use crate::design::{Octagon, Stick, octagon};
use crate::setup::BlankShape;
use crate::units::{LengthUnit, MM_PER_INCH};

/// Name of a section.
pub fn shape_name(shape: BlankShape) -> &'static str {
    match shape {
        BlankShape::Round => "round",
        BlankShape::Octagon => "octagon",
        BlankShape::Square => "square",
    }
}

/// Volume in the unit that goes with a length.
pub fn volume(unit: LengthUnit, mm3: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{:.2} dm3", mm3 / 1e6),
        LengthUnit::Inch => format!("{:.1} in3", mm3 / MM_PER_INCH.powi(3)),
    }
}

/// Lines of a table about a stick: what, value, more.
pub fn lines(unit: LengthUnit, stick: &Stick) -> Vec<[String; 3]> {
    let show = |mm: f64| unit.show(mm);
    let mut lines = Vec::new();
    let mut add = |what: &str, value: String, more: String| lines.push([what.to_owned(), value, more]);
    if stick.tenon_mm > 0.0 {
        add("tenon", show(stick.tenon_mm), "a part of the screw".to_owned());
    }
    add(
        "stick",
        show(stick.length_mm + stick.kerf_mm),
        format!(
            "{} of it for one saw cut; the chuck holds {}; {} or {:.2} board feet",
            show(stick.kerf_mm),
            show(stick.grip_mm),
            volume(unit, stick.volume_mm3()),
            stick.board_feet()
        ),
    );
    if stick.shape != BlankShape::Round {
        add(
            "least stick",
            show(stick.least_size_mm),
            "across flats, off centre and trued as the job allows".to_owned(),
        );
    }
    if stick.shape == BlankShape::Octagon {
        let Octagon { side_mm, set_in_mm, stands_over_mm, square_stands_over_mm, .. } =
            octagon(stick.size_mm);
        add("octagon", show(side_mm), format!("each side, from a square of {}", show(stick.size_mm)));
        add(
            "fence",
            show(set_in_mm),
            "in from the edge, on the face, to the saw tilted to 45 degrees; its kerf on the corner's side"
                .to_owned(),
        );
        let beyond = (stick.size_mm - stick.crest_diameter_mm) / 2.0;
        let (corner, square) = (show(stands_over_mm + beyond), show(square_stands_over_mm + beyond));
        add("corners", corner, format!("stand over the finished round; those of the square {square}"));
    }
    lines
}

/// A blank list, a line for each stick, and what they take together.
pub fn list(unit: LengthUnit, sticks: &[Stick]) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(["for", "wood", "section", "size", "length", "screw", "volume", "board feet"]);
    for stick in sticks {
        let unit = stick.unit;
        table.add_row([
            stick.title.clone(),
            stick.wood.clone(),
            shape_name(stick.shape).to_owned(),
            unit.show(stick.size_mm),
            unit.show(stick.length_mm),
            unit.show(stick.screw_mm),
            volume(unit, stick.volume_mm3()),
            format!("{:.2}", stick.board_feet()),
        ]);
    }
    let (all, feet) =
        (sticks.iter().map(Stick::volume_mm3).sum(), sticks.iter().map(Stick::board_feet).sum::<f64>());
    let empty = String::new;
    table.add_row([
        "together".to_owned(),
        empty(),
        empty(),
        empty(),
        empty(),
        empty(),
        volume(unit, all),
        format!("{feet:.2}"),
    ]);
    for column in table.column_iter_mut().skip(3) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table.trim_fmt()
}
