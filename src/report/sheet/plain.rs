//! The set-up sheet as plain text, 78 characters wide: for a printer, a terminal, or a screen reader.

use comfy_table::{ContentArrangement, Table, presets};

use super::{Sheet, minutes};

/// Width of a line.
const WIDTH: u16 = 78;

/// The sheet.
pub fn text(sheet: &Sheet<'_>) -> String {
    let job = sheet.job;
    let mut page = String::new();
    let mut put = |line: &str| {
        page.push_str(line);
        page.push('\n');
    };
    put(&format!("{}: {}, on {}", job.title, job.wood, job.machine.title));
    put(&format!("job digest {}, threadwright {}", sheet.digest, env!("CARGO_PKG_VERSION")));
    put("");
    let stick = crate::design::Stick::of(
        job,
        &sheet
            .rows
            .first()
            .map_or_else(|| crate::design::setup(job, sheet.screw), |row| row.step.setup.clone()),
    );
    let mut facts = Table::new();
    style(&mut facts);
    let blank = format!(
        "{}, {}, {} long: {} before the nose face, {} after the head end, {} in the chuck",
        crate::report::stick::shape_name(stick.shape),
        sheet.show(stick.size_mm),
        sheet.show(stick.length_mm),
        sheet.show(stick.waste_nose_mm),
        sheet.show(stick.waste_head_mm),
        sheet.show(stick.grip_mm)
    );
    facts.add_row(["blank".to_owned(), blank]);
    for (cutter, numbers) in sheet.cutters() {
        let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        let what = format!("cutter for {}", numbers.join(", "));
        facts.add_row([what, format!("{}: {}", cutter.title, sheet.cutter_words(cutter))]);
    }
    for row in sheet.zeros() {
        facts.add_row(row);
    }
    facts.add_row(["F".to_owned(), sheet.feed_words()]);
    put(&facts.trim_fmt());
    put("");
    put("programs, in this order");
    for (index, row) in sheet.rows.iter().enumerate() {
        let [before, after] = sheet.before_after(row.step);
        let feed = sheet.unit().show_speed(row.step.setup.feed_mm_per_min);
        // A file's name stays on one line, however long: it is what is looked for in a list.
        put(&format!("[ ] {}  {}", index + 1, row.file));
        let proved = if row.proved { "" } else { ": NOT PROVED" };
        put(&format!(
            "       {:.0} rev/min, {feed}, about {} min{proved}",
            row.step.setup.rpm,
            minutes(row.minutes)
        ));
        for line in wrapped(&format!("{before} -> {after}"), usize::from(WIDTH) - 7) {
            put(&format!("       {line}"));
        }
    }
    put(&format!("together about {:.0} minutes", sheet.total_minutes()));
    if let Some(row) = sheet.rows.iter().find(|row| !row.depths_mm.is_empty()) {
        let depths: Vec<String> = row.depths_mm.iter().map(|depth| sheet.unit().number(*depth)).collect();
        put(&format!("depths of each start: {} {}", depths.join(", "), sheet.unit()));
    }
    put("");
    put("before the first program");
    for tick in sheet.ticks() {
        put(&format!("[ ] {tick}"));
    }
    put("");
    put("mind");
    for caution in sheet.cautions() {
        for (number, line) in wrapped(&caution, usize::from(WIDTH) - 2).iter().enumerate() {
            put(&format!("{} {line}", if number == 0 { "-" } else { " " }));
        }
    }
    put("");
    put("measured");
    for field in sheet.fields() {
        put(&format!("{field:<48} ______________"));
    }
    page
}

fn style(table: &mut Table) {
    table.load_style(presets::NOTHING);
    table.set_content_arrangement(ContentArrangement::Dynamic);
    table.set_width(WIDTH);
}

/// Breaks words into lines.
fn wrapped(words: &str, room: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.len() + 1 + word.len() <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
