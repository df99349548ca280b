//! Woods as a list and one wood as a card, each value with its source and the mark of memory.

use std::fmt::Write;

use comfy_table::{CellAlignment, Table};
use serde_json::{Map, Value, json};

use super::lines::{plain, wrapped};
use crate::report::page::Panel;
use crate::setup::Dust;
use crate::wood::{Property, Species, change, dust};

/// A size and a change of moisture that show what a movement means.
const EXAMPLE_MM: f64 = 50.0;
const EXAMPLE_POINTS: f64 = 4.0;

/// Marks a value that rests on memory.
const MEMORY: char = '*';

/// A list, one line a wood.
pub fn list(woods: &[&Species]) -> String {
    let mut table = Table::new();
    table.set_header([
        "\nwood",
        "\nbotanical name",
        "\nkg/m3",
        "moves\nradial",
        "\ntangent.",
        "shear\nMPa",
        "\ndust",
    ]);
    let value = |species: &Species, property: Property| {
        species.get(property).map_or("-".to_owned(), |known| {
            let shown = property.show(known.value);
            let number = shown.split(' ').next().unwrap_or_default();
            if known.origin.from_memory() { format!("{number}{MEMORY}") } else { number.to_owned() }
        })
    };
    for species in woods {
        let dust = species.dust.as_ref().map_or("-".to_owned(), |dust| {
            let memory = if dust.origin.from_memory() { MEMORY.to_string() } else { String::new() };
            format!("{}{memory}", short(dust.class))
        });
        table.add_row([
            species.name.clone(),
            species
                .botanical
                .split(" (")
                .next()
                .and_then(|name| name.split(" / ").next())
                .unwrap_or("")
                .to_owned(),
            value(species, Property::Density),
            value(species, Property::MoveRadial),
            value(species, Property::MoveTangential),
            value(species, Property::Shear),
            dust,
        ]);
    }
    for index in 2..=5 {
        if let Some(column) = table.column_mut(index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let more = wrapped(&format!(
        "moves: in % of its size for one point of moisture, radial and tangential. {MEMORY} rests on memory, - not known."
    ));
    format!(
        "{}\n\n{more}\n`threadwright woods NAME` tells all about one, with its sources.\n",
        plain(table, false)
    )
}

fn short(class: Dust) -> &'static str {
    match class {
        Dust::NoneDocumented => "none found",
        other => other.name(),
    }
}

/// Everything about one wood.
pub fn card(species: &Species) -> String {
    let mut text = format!("{}\n", species.full_name());
    let also = species.other_names.join(", ");
    for (what, value) in [("also called", &also), ("grows in", &species.region)] {
        if !value.is_empty() {
            let _ = writeln!(text, "{}", wrapped(&format!("{what} {value}")));
        }
    }
    let _ = writeln!(text, "\n{}", values(species));
    if let Some(words) = movement(species) {
        let _ = writeln!(text, "\n{}", wrapped(&words));
    }
    let missing: Vec<&str> =
        WANTED.into_iter().filter(|&p| species.get(p).is_none()).map(Property::words).collect();
    if !missing.is_empty() {
        let _ = writeln!(text, "\n{}", wrapped(&format!("not known: {}", missing.join("; "))));
    }
    let _ = writeln!(text, "\n{}", dust_words(species));
    let strengths = [Property::Moe, Property::Mor, Property::Shear, Property::Hardness];
    if strengths.into_iter().any(|property| species.get(property).is_some()) {
        let words = "strengths are averages of small clear pieces at 12 % moisture: nothing to rely on without a wide margin.";
        let _ = writeln!(text, "\n{}", wrapped(words));
    }
    text
}

/// What a wood should be known for; the rest is welcome.
const WANTED: [Property; 8] = [
    Property::Density,
    Property::ShrinkRadial,
    Property::ShrinkTangential,
    Property::Moe,
    Property::Mor,
    Property::Shear,
    Property::CompressionAcross,
    Property::Hardness,
];

/// The values, each with the number of its source, and the sources.
fn values(species: &Species) -> String {
    let mut table = Table::new();
    let (rows, sources) = value_cells(species);
    table.add_rows(rows);
    if let Some(column) = table.column_mut(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    let mut text = format!("{}\n", plain(table, false));
    for source in sources {
        let _ = write!(text, "\n{}", wrapped(&source));
    }
    text
}

/// What is known of a wood, a row a value; and the numbered sources: how the value got here, from where, what else is to be
/// said about it.
fn value_cells(species: &Species) -> (Vec<Vec<String>>, Vec<String>) {
    let mut sources: Vec<String> = Vec::new();
    let mut rows = Vec::new();
    for (property, known) in species.known() {
        let note = if known.note.is_empty() { String::new() } else { format!(" ({})", known.note) };
        let source = format!("{}: {}{note}", known.origin.words(), known.source);
        let at = sources.iter().position(|other| *other == source).unwrap_or_else(|| {
            sources.push(source);
            sources.len() - 1
        });
        let memory = if known.origin.from_memory() { " from memory" } else { "" };
        rows.push(vec![
            property.words().to_owned(),
            property.show(known.value),
            format!("[{}]{memory}", at + 1),
        ]);
    }
    let numbered = sources.iter().enumerate().map(|(index, source)| format!("[{}] {source}", index + 1));
    (rows, numbered.collect())
}

/// What is known of a wood, for a page.
pub fn panel(species: &Species) -> Panel {
    let (rows, sources) = value_cells(species);
    let missing: Vec<&str> =
        WANTED.into_iter().filter(|&p| species.get(p).is_none()).map(Property::words).collect();
    let says = (!missing.is_empty()).then(|| format!("not known: {}", missing.join("; ")));
    let dust = match &species.dust {
        None => "dust: nothing is known of this wood".to_owned(),
        Some(known) => format!("dust: {}", dust::words(known.class)),
    };
    Panel {
        title: format!("The wood: {}", species.name),
        says: [Some(dust), says].into_iter().flatten().collect(),
        heads: ["", "value", "where from"].map(str::to_owned).to_vec(),
        rows,
        notes: sources,
        ..Panel::default()
    }
}

/// What the movement means for a screw.
fn movement(species: &Species) -> Option<String> {
    let [radial, tangential] =
        [Property::MoveRadial, Property::MoveTangential].map(|property| species.value(property));
    let grown = |per_point: f64| change(EXAMPLE_MM, per_point, EXAMPLE_POINTS);
    Some(format!(
        "a screw of {EXAMPLE_MM:.0} mm that takes up {EXAMPLE_POINTS:.0} points grows by {:.2} mm square to its rings \
         and {:.2} mm along them",
        grown(radial?),
        grown(tangential?)
    ))
}

fn dust_words(species: &Species) -> String {
    let known = match &species.dust {
        None => "dust: nothing is known of this wood".to_owned(),
        Some(known) if known.class == Dust::NoneDocumented => {
            wrapped(&format!("dust: {}", dust::words(known.class)))
        }
        Some(known) => {
            let words = if known.words.is_empty() { String::new() } else { format!(" ({})", known.words) };
            let known_words = format!("dust: {}: {}{words}", known.class.name(), dust::words(known.class));
            let source = format!("{}: {}", known.origin.words(), known.source);
            format!("{}\n{}", wrapped(&known_words), wrapped(&source))
        }
    };
    let mut text =
        format!("{known}\nevery hardwood dust is classed as a cause of cancer: extract it where it arises\n");
    text.push_str("limits in the air over eight hours, as they were met; your local rules decide:\n");
    for limit in dust::LIMITS {
        let line = format!(
            "{} mg/m3: {}, {} ({}: {})",
            limit.mg_m3,
            limit.place,
            limit.of,
            limit.origin.words(),
            limit.source
        );
        let _ = writeln!(text, "{}", wrapped(&line));
    }
    text.trim_end().to_owned()
}

/// One wood for `--json`.
pub fn json(species: &Species) -> Value {
    let mut values = Map::new();
    for property in Property::ALL {
        let known = species.get(property);
        values.insert(property.name().replace('-', "_"), json!(known));
    }
    json!({
        "name": species.name,
        "other_names": species.other_names,
        "botanical": species.botanical,
        "region": species.region,
        "own": species.own,
        "dust": species.dust,
        "values": values,
    })
}
