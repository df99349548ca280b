//! The inspection page: one HTML file that shows what programs would cut, line by line, and needs nothing else. Its
//! markup, looks and scripts are the files beside this one, joined as they are; the facts come from the other rooms.
//! Nothing is computed here that was not found out there.

mod facts;
mod pack;
pub mod tones;

use std::sync::Arc;

use serde::Serialize;

use crate::drawing::Drawing;
use crate::finding::Finding;
use crate::proof::{Proof, Story};
use crate::setup::Setup;
use crate::source::Source;

/// A program on a page.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// What it is called where there are several.
    pub name: &'a str,
    /// Its text.
    pub text: &'a Arc<Source>,
    /// The shop as it is then.
    pub setup: &'a Setup,
    /// What must stand after it, and its proof against that, unless only the cut itself is to be shown.
    pub proof: Option<(&'a Drawing, &'a Proof)>,
}

/// All that a page shows.
#[derive(Clone, Copy, Debug)]
pub struct Page<'a> {
    /// What the shop calls the job.
    pub title: &'a str,
    /// Name of the wood.
    pub wood: &'a str,
    /// The programs in the order in which they are run.
    pub programs: &'a [Shown<'a>],
    /// Everything there is to say: about the job first, then about the programs.
    pub findings: &'a [Finding],
    /// The course of the cut.
    pub story: &'a Story,
    /// The shop drawing, as SVG, if there is one.
    pub sheet: Option<&'a str>,
    /// What is known of the wood, and how screw and nut fit through the year.
    pub panels: &'a [Panel],
}

/// A table with words above and below it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Panel {
    /// Its name.
    pub title: String,
    /// What it says in a few words, a sentence a line.
    pub says: Vec<String>,
    /// Heads of the columns; none for a table of two columns that needs none.
    pub heads: Vec<String>,
    /// Its rows; the first cell names the row.
    pub rows: Vec<Vec<String>>,
    /// A picture as SVG in the page's own classes; empty for none.
    pub picture: String,
    /// What has to be known to read it.
    pub notes: Vec<String>,
}

const SKELETON: &str = include_str!("page.html");
const LOOKS: &str = include_str!("page.css");
/// The scripts, in the order in which each needs those before it.
const SCRIPTS: [&str; 15] = [
    include_str!("units.js"),
    include_str!("colours.js"),
    include_str!("unpack.js"),
    include_str!("wood.js"),
    include_str!("thread.js"),
    include_str!("cursor.js"),
    include_str!("map.js"),
    include_str!("section.js"),
    include_str!("shaders.js"),
    include_str!("solid.js"),
    include_str!("times.js"),
    include_str!("lists.js"),
    include_str!("whatif.js"),
    include_str!("paper.js"),
    include_str!("start.js"),
];

/// The page as text.
///
/// # Errors
/// None in practice: the packing writes to memory.
pub fn html(page: &Page<'_>) -> std::io::Result<String> {
    let facts = facts::of(page).to_string();
    let pack = pack::pack(&facts, &page.story.history)?;
    let scripts = SCRIPTS.join("\n");
    let title = escaped(page.title);
    let parts = [("title", title.as_str()), ("looks", LOOKS), ("pack", &pack), ("scripts", &scripts)];
    Ok(filled(SKELETON, &parts))
}

/// A text with its `{{name}}` places filled.
fn filled(skeleton: &str, parts: &[(&str, &str)]) -> String {
    let mut text =
        String::with_capacity(skeleton.len() + parts.iter().map(|(_, part)| part.len()).sum::<usize>());
    let mut rest = skeleton;
    while let Some((before, after)) = rest.split_once("{{") {
        text.push_str(before);
        let (name, behind) = after.split_once("}}").unwrap_or(("", after));
        text.push_str(parts.iter().find(|(known, _)| *known == name).map_or("", |(_, part)| part));
        rest = behind;
    }
    text.push_str(rest);
    text
}

/// Text made safe between tags and in attributes.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            _ => safe.push(c),
        }
    }
    safe
}
