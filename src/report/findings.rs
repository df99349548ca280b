//! Findings as a person reads them: what, where in the text with the place underlined, where on the blank, and a way
//! out.

use std::borrow::Cow;
use std::collections::BTreeMap;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::finding::{Finding, Severity, Spot};
use crate::source::Mark;
use crate::units::{LengthUnit, tidy_zero};

/// Longest line shown whole; of a longer one, so many bytes about the mark.
const LONGEST_LINE: usize = 160;
/// Width that texts are laid out for.
const WIDTH: usize = 110;

/// All findings as text, a blank line between them. Lengths of places in `unit`; `styled` adds terminal colours.
pub fn render(findings: &[Finding], unit: LengthUnit, styled: bool) -> String {
    let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.decor_style(DecorStyle::Ascii).term_width(WIDTH);
    let texts: Vec<String> = folded(findings).iter().map(|one| render_one(one, unit, &renderer)).collect();
    texts.join("\n\n")
}

/// So many findings alike are each shown whole.
const SHOWN_WHOLE: usize = 4;
/// Of more, so many are; the others are named by their lines.
const SHOWN_FIRST: usize = 2;
/// Lines named at most.
const LINES_NAMED: usize = 12;

/// What findings have in common that are one slip made many times over: code, weight, way out, file.
type Likeness<'a> = (&'static str, Severity, Option<&'a str>, &'a str);

fn likeness(finding: &Finding) -> Option<Likeness<'_>> {
    let mark = finding.mark.as_ref()?;
    Some((finding.code.name, finding.severity, finding.help.as_deref(), mark.source.name()))
}

/// Findings to show: where one slip was made many times over, the first and one that names the lines of the others.
fn folded(findings: &[Finding]) -> Vec<Cow<'_, Finding>> {
    let mut groups: BTreeMap<Likeness<'_>, Vec<&Finding>> = BTreeMap::new();
    for finding in findings {
        if let Some(likeness) = likeness(finding) {
            groups.entry(likeness).or_default().push(finding);
        }
    }
    let mut passed: BTreeMap<Likeness<'_>, usize> = BTreeMap::new();
    let show = |finding| {
        let Some(likeness) = likeness(finding) else { return Some(Cow::Borrowed(finding)) };
        let alike = &groups[&likeness];
        let before = passed.entry(likeness).or_default();
        *before += 1;
        match *before - 1 {
            _ if alike.len() <= SHOWN_WHOLE => Some(Cow::Borrowed(finding)),
            before if before < SHOWN_FIRST => Some(Cow::Borrowed(finding)),
            SHOWN_FIRST => Some(Cow::Owned(rest(finding, &alike[SHOWN_FIRST..]))),
            _ => None,
        }
    };
    findings.iter().filter_map(show).collect()
}

/// One finding for others like it, of which it is the first.
fn rest(first: &Finding, others: &[&Finding]) -> Finding {
    let mut lines: Vec<usize> = Vec::new();
    for mark in others.iter().filter_map(|other| other.mark.as_ref()) {
        let (line, _) = mark.line_column();
        if lines.last() != Some(&line) {
            lines.push(line);
        }
        if LINES_NAMED < lines.len() {
            break;
        }
    }
    let named: Vec<String> = lines.iter().take(LINES_NAMED).map(usize::to_string).collect();
    let more = if named.len() < lines.len() { " and on" } else { "" };
    let line = if lines.len() == 1 { "line" } else { "lines" };
    let words = format!("{} more like these, at {line} {}{more}", others.len(), named.join(", "));
    Finding { follows: first.follows, ..Finding::new(first.code, words).weighs(first.severity) }
}

/// How many findings of each weight: `1 stop, 2 cares, no notes` in fewer words when there are none.
pub fn count(findings: &[Finding]) -> String {
    let words = [(Severity::Stop, "stop"), (Severity::Care, "care"), (Severity::Note, "note")];
    let parts: Vec<String> = words
        .into_iter()
        .map(|(severity, word)| (findings.iter().filter(|f| f.severity == severity).count(), word))
        .filter(|&(count, _)| count > 0)
        .map(|(count, word)| counted(count, word))
        .collect();
    if parts.is_empty() { "no findings".to_owned() } else { parts.join(", ") }
}

/// `1 move`, `2 moves`.
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

fn render_one(finding: &Finding, unit: LengthUnit, renderer: &Renderer) -> String {
    let level = match finding.severity {
        Severity::Stop => Level::ERROR.with_name(Some("stop")),
        Severity::Care => Level::WARNING.with_name(Some("care")),
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(finding.message.as_str()).id(finding.code.name);
    let windows: Vec<(Window<'_>, AnnotationKind, &str)> = finding
        .mark
        .iter()
        .map(|mark| (Window::about(mark), AnnotationKind::Primary, ""))
        .chain(
            finding
                .also
                .iter()
                .map(|(mark, words)| (Window::about(mark), AnnotationKind::Context, &words[..])),
        )
        .collect();
    let mut group: Group<'_> = Group::with_title(title);
    for (window, kind, label) in &windows {
        let annotation = kind.span(window.span.clone());
        let annotation = if label.is_empty() { annotation } else { annotation.label(*label) };
        group = group.element(
            Snippet::source(window.text).path(window.path).line_start(window.line).annotation(annotation),
        );
    }
    let place = place(&finding.spot, unit);
    if !place.is_empty() {
        group = group.element(Level::NOTE.with_name(Some("place")).message(place));
    }
    if let Some(cause) = finding.follows {
        let words = format!("follows from {}: mend that first, then prove again", cause.name);
        group = group.element(Level::NOTE.message(words));
    }
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(help.as_str()));
    }
    renderer.render(&[group])
}

/// The line or lines that a mark lies in.
struct Window<'a> {
    text: &'a str,
    path: &'a str,
    line: usize,
    span: std::ops::Range<usize>,
}

impl<'a> Window<'a> {
    fn about(mark: &'a Mark) -> Window<'a> {
        let source = &mark.source;
        let (line, _) = mark.line_column();
        let whole = source.line_span(line);
        let text = source.text();
        let start = mark.span.start.clamp(whole.start, whole.end);
        let end = mark.span.end.clamp(start, whole.end);
        let (mut from, mut to) = (whole.start, whole.end);
        if to - from > LONGEST_LINE {
            from = start.saturating_sub(LONGEST_LINE / 2).max(from);
            to = (from + LONGEST_LINE).min(to);
            from = (from..=start).find(|&at| text.is_char_boundary(at)).unwrap_or(start);
            to = (to..=whole.end).find(|&at| text.is_char_boundary(at)).unwrap_or(whole.end);
        }
        let end = end.min(to);
        Window { text: &text[from..to], path: source.name(), line, span: start - from..end - from }
    }
}

/// Where on the machine and the blank, in words.
pub(super) fn place(spot: &Spot, unit: LengthUnit) -> String {
    let length = |value: f64| unit.number(value);
    let degrees = |value: f64| tidy_zero(format!("{value:.1}"));
    let mut words = Vec::new();
    let axes = [("X", spot.x_mm.map(length)), ("Z", spot.z_mm.map(length)), ("A", spot.a_deg.map(degrees))];
    words.extend(axes.into_iter().filter_map(|(axis, value)| Some(format!("{axis}{}", value?))));
    if let Some(s) = spot.s_mm {
        let side = if s < 0.0 { "beyond" } else { "from" };
        words.push(format!("{} {side} the nose", unit.show(s.abs())));
    }
    if let Some(theta) = spot.theta_deg {
        words.push(format!("{} degrees round the blank", degrees(theta)));
    }
    if let Some(angle) = spot.angle_deg {
        words.push(format!("{} degrees round from X+", degrees(angle)));
    }
    if let Some(r) = spot.r_mm {
        words.push(format!("{} from the axis", unit.show(r)));
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::{job, proof};
    use crate::source::Source;

    #[test]
    fn a_finding_is_shown_with_its_place_and_a_way_out() {
        let source = Source::new("press.toml", "[screw]\npitch = 7.5\nstarts = 2\nlead = 30\n");
        let finding = Finding::new(&job::DISAGREE, "lead is 30 mm, pitch times starts is 15 mm")
            .at(Mark::new(&source, 38..40))
            .also_at(Some(&Mark::new(&source, 16..19)), "the pitch")
            .help("write lead = 15, or leave lead out");
        insta::assert_snapshot!(render(&[finding], LengthUnit::Mm, false), @r"
        stop[disagree]: lead is 30 mm, pitch times starts is 15 mm
         --> press.toml:4:8
          |
        4 | lead = 30
          |        ^^
          |
         ::: press.toml:2:9
          |
        2 | pitch = 7.5
          |         --- the pitch
          |
          = help: write lead = 15, or leave lead out
        ");
    }

    #[test]
    fn places_on_the_blank_are_told_in_words() {
        let mut finding = Finding::new(&proof::WOOD_LEFT, "wood stands proud");
        finding.spot =
            Spot { s_mm: Some(12.0), theta_deg: Some(45.0), x_mm: Some(-0.001), ..Spot::default() };
        let text = render(&[finding], LengthUnit::Mm, false);
        assert!(text.contains("X0.00, 12.00 mm from the nose, 45.0 degrees round the blank"), "{text}");
    }
}
