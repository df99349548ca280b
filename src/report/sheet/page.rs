//! The set-up sheet as one HTML file: a page to print, with nothing outside itself.

use std::fmt::Write;

use super::{Sheet, minutes, picture};
use crate::design::Stick;

/// Paper that the sheet fits on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8 1/2 by 11 inches.
    Letter,
}

impl Paper {
    fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "letter",
        }
    }

    /// Width and height between margins, mm.
    fn inside_mm(self) -> [f64; 2] {
        match self {
            Paper::A4 => [190.0, 277.0],
            Paper::Letter => [195.9, 259.4],
        }
    }
}

/// Text that may stand in HTML.
pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// The page.
pub fn page(sheet: &Sheet<'_>, paper: Paper) -> String {
    let job = sheet.job;
    let [width, height] = paper.inside_mm();
    let mut html = String::new();
    let title = escaped(&job.title);
    let _ = writeln!(
        html,
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>{title}: set-up sheet</title>\n\
         <style>@page {{ size: {}; margin: 10mm; }}\n.sheet {{ width: {width}mm; min-height: {height}mm; }}\n{STYLE}</style></head>\n\
         <body><main class=\"sheet{}\">",
        paper.name(),
        if sheet.rows.len() > LOOSE_ROWS { " tight" } else { "" }
    );
    head(&mut html, sheet);
    let _ = writeln!(
        html,
        "<section class=\"pictures\"><figure class=\"side\">{}</figure><figure class=\"end\">{}</figure></section>",
        picture::side(sheet),
        picture::end(sheet)
    );
    html.push_str("<section class=\"columns\">\n");
    zeros(&mut html, sheet);
    cutters(&mut html, sheet);
    html.push_str("</section>\n");
    programs(&mut html, sheet);
    html.push_str("<section class=\"columns three\">\n");
    list(&mut html, "Before the first program", "ticks", &sheet.ticks());
    list(&mut html, "Mind", "mind", &sheet.cautions());
    fields(&mut html, sheet);
    html.push_str("</section>\n");
    let _ = writeln!(
        html,
        "<footer>threadwright {} &middot; job digest {} &middot; a proof sees geometry, travel and speed; it does not \
         see your wood, your clamps or your fingers</footer>\n</main></body></html>",
        env!("CARGO_PKG_VERSION"),
        escaped(&sheet.digest)
    );
    html
}

/// More programs than this are set closer.
const LOOSE_ROWS: usize = 4;

fn head(html: &mut String, sheet: &Sheet<'_>) {
    let job = sheet.job;
    let stick = Stick::of(job, &crate::design::setup(job, sheet.screw));
    let _ = writeln!(
        html,
        "<header><h1>{}</h1><dl><div><dt>wood</dt><dd>{}</dd></div><div><dt>blank</dt><dd>{} {}, {} long</dd></div>\
         <div><dt>machine</dt><dd>{}</dd></div><div><dt>time</dt><dd>about {:.0} min</dd></div></dl></header>",
        escaped(&job.title),
        escaped(&job.wood),
        crate::report::stick::shape_name(stick.shape),
        sheet.show(stick.size_mm),
        sheet.show(stick.length_mm),
        escaped(&job.machine.title),
        sheet.total_minutes()
    );
}

fn zeros(html: &mut String, sheet: &Sheet<'_>) {
    html.push_str("<div><h2>Zero</h2><table class=\"zeros\">");
    for [what, words] in sheet.zeros() {
        let check = if what == "hand check" { " class=\"check\"" } else { "" };
        let _ = write!(html, "<tr{check}><th>{what}</th><td>{}</td></tr>", escaped(&words));
    }
    let _ = writeln!(html, "<tr><th>F</th><td>{}</td></tr></table></div>", escaped(&sheet.feed_words()));
}

fn cutters(html: &mut String, sheet: &Sheet<'_>) {
    html.push_str("<div><h2>Cutters</h2><div class=\"cutters\">");
    for (cutter, numbers) in sheet.cutters() {
        let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        let _ = write!(
            html,
            "<figure>{}<figcaption><b>{}</b> for {} {}<br>{}</figcaption></figure>",
            picture::cutter(sheet, cutter),
            escaped(&cutter.title),
            if numbers.len() == 1 { "program" } else { "programs" },
            numbers.join(", "),
            escaped(&sheet.cutter_words(cutter))
        );
    }
    html.push_str("</div></div>\n");
}

fn programs(html: &mut String, sheet: &Sheet<'_>) {
    html.push_str(
        "<section><h2>Programs, in this order</h2><table class=\"programs\"><thead><tr><th></th><th></th><th>program</th>\
         <th>before</th><th>after</th><th class=\"n\">rev/min</th><th class=\"n\">feed</th><th class=\"n\">min</th></tr></thead><tbody>",
    );
    for (index, row) in sheet.rows.iter().enumerate() {
        let [before, after] = sheet.before_after(row.step);
        let proved = if row.proved { "" } else { " <b class=\"stop\">NOT PROVED</b>" };
        let _ = write!(
            html,
            "<tr><td class=\"box\"></td><td class=\"number\">{}</td><td class=\"file\">{}{proved}</td><td>{}</td><td>{}</td>\
             <td class=\"n\">{:.0}</td><td class=\"n\">{}</td><td class=\"n\">{}</td></tr>",
            index + 1,
            escaped(&row.file),
            escaped(&before),
            escaped(&after),
            row.step.setup.rpm,
            sheet.unit().show_speed(row.step.setup.feed_mm_per_min),
            minutes(row.minutes)
        );
        if !row.depths_mm.is_empty() {
            let depths: Vec<String> = row.depths_mm.iter().map(|depth| sheet.unit().number(*depth)).collect();
            let _ = write!(
                html,
                "<tr class=\"depths\"><td></td><td></td><td colspan=\"6\">depths of each start: {} {}</td></tr>",
                depths.join(" &middot; "),
                sheet.unit()
            );
        }
    }
    html.push_str("</tbody></table></section>\n");
}

fn list(html: &mut String, title: &str, class: &str, items: &[String]) {
    let _ = write!(html, "<div><h2>{title}</h2><ul class=\"{class}\">");
    for item in items {
        let _ = write!(html, "<li>{}</li>", escaped(item));
    }
    html.push_str("</ul></div>\n");
}

fn fields(html: &mut String, sheet: &Sheet<'_>) {
    html.push_str("<div><h2>Measured</h2><table class=\"fields\">");
    for field in sheet.fields() {
        let _ = write!(html, "<tr><th>{}</th><td></td></tr>", escaped(&field));
    }
    html.push_str("</table></div>\n");
}

/// One palette, safe for colour-blind eyes; everything that matters is said in words or shapes as well.
const STYLE: &str = r#"
* { box-sizing: border-box; margin: 0; padding: 0; }
body { font: 10.2pt/1.32 "Source Sans 3", "Segoe UI", "Helvetica Neue", Arial, sans-serif; color: #1c1a17; background: #e7e3dc; }
.sheet { background: #fff; margin: 6mm auto; display: flex; flex-direction: column; gap: 3.4mm; }
@media screen { .sheet { padding: 10mm; box-sizing: content-box; box-shadow: 0 1mm 5mm #0003; } }
@media print { body { background: #fff; } .sheet { margin: 0; min-height: 0; } }
header { border-bottom: 0.7mm solid #1c1a17; padding-bottom: 1.6mm; display: flex; justify-content: space-between; align-items: flex-end; gap: 6mm; }
h1 { flex: 1 1 50mm; min-width: 0; font-size: 20pt; line-height: 1.05; overflow-wrap: anywhere; font-weight: 700; letter-spacing: -0.2pt; }
h1::first-letter { text-transform: uppercase; }
header dl { display: flex; flex: 0 1 auto; flex-wrap: wrap; justify-content: flex-end; gap: 1mm 4mm; font-size: 9.4pt; text-align: right; }
dt { font-size: 7.6pt; color: #6b655c; } dd { font-weight: 600; overflow-wrap: anywhere; }
h2 { font-size: 8.6pt; font-weight: 700; color: #6b655c; border-bottom: 0.25mm solid #cfc8bc; margin-bottom: 1.2mm; padding-bottom: 0.4mm; }
.pictures { display: flex; align-items: center; gap: 2mm; }
.side { flex: 1 1 auto; } .end { flex: 0 0 35mm; } figure svg { display: block; width: 100%; height: auto; }
.columns { display: grid; grid-template-columns: 1fr 1.12fr; gap: 6mm; }
.columns.three { grid-template-columns: 1fr 1.25fr 1fr; gap: 5mm; }
table { border-collapse: collapse; width: 100%; } th { text-align: left; font-weight: 600; vertical-align: top; } td { vertical-align: top; }
.zeros th { width: 14mm; padding: 0.5mm 2mm 0.5mm 0; white-space: nowrap; color: #00568a; } .zeros td { padding: 0.5mm 0; }
.zeros tr.check th, .zeros tr.check td { background: #fff3df; padding: 1mm 1.4mm; color: #1c1a17; font-weight: 700; }
.zeros tr.check th { white-space: normal; }
.cutters { display: flex; gap: 2mm; } .cutters figure { flex: 1 1 0; } .cutters svg { height: 22mm; width: auto; margin: 0 auto; }
figcaption { font-size: 8.2pt; line-height: 1.22; }
.programs th { font-size: 8pt; color: #6b655c; font-weight: 600; padding: 0 2mm 0.6mm 0; } .programs td { padding: 1mm 2mm 1mm 0; border-top: 0.2mm solid #ddd6ca; }
.programs .depths td { border-top: 0; padding-top: 0; font-size: 8.6pt; color: #4d483f; }
.n { text-align: right !important; white-space: nowrap; font-variant-numeric: tabular-nums; } .number { font-weight: 700; } .file { font-family: "Source Code Pro", Consolas, "DejaVu Sans Mono", monospace; font-size: 8.4pt; overflow-wrap: anywhere; min-width: 40mm; }
.programs td:nth-child(4) { white-space: nowrap; }
td.box { width: 6mm; } td.box::before, .ticks li::before { content: ""; display: inline-block; width: 3.4mm; height: 3.4mm; border: 0.35mm solid #1c1a17; border-radius: 0.5mm; }
ul { list-style: none; font-size: 9.2pt; } li { position: relative; padding-left: 5.4mm; margin-bottom: 0.9mm; line-height: 1.25; }
.ticks li::before { position: absolute; left: 0; top: 0.5mm; }
.mind li::before { content: ""; position: absolute; left: 0.4mm; top: 0.9mm; border: 1.5mm solid transparent; border-top: 0; border-bottom: 2.7mm solid #c24e00; }
.fields th { font-weight: 400; font-size: 8.8pt; padding: 1mm 2mm 0.3mm 0; white-space: nowrap; } .fields td { width: 100%; min-width: 14mm; border-bottom: 0.25mm solid #1c1a17; }
.stop { color: #b3260b; } footer { margin-top: auto; font-size: 7.4pt; color: #6b655c; border-top: 0.25mm solid #cfc8bc; padding-top: 1mm; }
.tight { gap: 2.4mm; font-size: 9.6pt; } .tight .programs td { padding: 0.5mm 2mm 0.5mm 0; font-size: 9.2pt; } .tight .zeros td, .tight .zeros th { font-size: 9.4pt; padding-top: 0.3mm; padding-bottom: 0.3mm; } .tight .fields th { font-size: 8.4pt; padding-top: 0.6mm; } .tight ul { font-size: 8.8pt; } .tight li { margin-bottom: 0.6mm; }
svg text { font: 600 16px "Source Sans 3", "Segoe UI", "Helvetica Neue", Arial, sans-serif; fill: #1c1a17; } svg text.what, svg text.name { font-weight: 400; fill: #6b655c; font-size: 14.5px; }
svg .steel { fill: #c6ccd3; stroke: #5b636c; stroke-width: 1; } svg .shank { fill: #dfe3e8; stroke: #5b636c; stroke-width: 1; } svg .cutter { fill: #8f99a5; stroke: #3d444c; stroke-width: 1; }
svg .blank { fill: #f3e4c8; stroke: #a8875a; stroke-width: 1.2; stroke-dasharray: 5 3; } svg .screw { fill: #dfb97f; stroke: #7a5a2c; stroke-width: 1.3; } svg .edge { fill: none; stroke: #a8875a; stroke-width: 0.8; stroke-dasharray: 5 3; }
svg .notch { fill: #f3e4c8; stroke: #7a5a2c; stroke-width: 0.9; } svg .groove { stroke: #7a5a2c; stroke-width: 0.9; } svg .floor { stroke: #a37c45; stroke-width: 0.7; }
svg .axis { stroke: #1c1a17; stroke-width: 0.9; stroke-dasharray: 14 4 3 4; } svg line.zero { stroke: #0072b2; stroke-width: 1.8; } svg .head { fill: #0072b2; stroke: none; } svg text.zero { fill: #00568a; } svg text.halo { paint-order: stroke; stroke: #fff; stroke-width: 3px; }
svg .tick { stroke: #6b655c; stroke-width: 1; } svg .leader { stroke: #c24e00; stroke-width: 1; } svg polygon.mark { fill: #c24e00; stroke: none; } svg text.mark { fill: #a34200; font-size: 14.5px; }
svg path.turn { fill: none; stroke: #0072b2; stroke-width: 2.6; } svg text.turn { fill: #00568a; font-size: 15px; font-weight: 700; }
"#;
