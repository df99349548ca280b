//! A small writer of SVG: lines, shapes and texts in millimetres of paper, with fixed decimals, so that the same drawing
//! gives the same bytes.

use std::fmt::Write;

/// A place on the paper, mm from its left and top edge.
pub type At = [f64; 2];

/// A drawing being put together.
#[derive(Clone, Debug, Default)]
pub struct Svg {
    body: String,
}

/// Where a text stands to its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

impl Svg {
    /// A straight line of a class.
    pub fn line(&mut self, class: &str, from: At, to: At) {
        self.put(&format!(r#"<path class="{class}" d="M{}L{}"/>"#, place(from), place(to)));
    }

    /// Straight lines from place to place; places that are none break the line.
    pub fn polyline(&mut self, class: &str, places: impl IntoIterator<Item = Option<At>>, closed: bool) {
        let mut path = String::new();
        let mut pen_down = false;
        for at in places {
            if let Some(at) = at {
                path.push(if pen_down { 'L' } else { 'M' });
                path.push_str(&place(at));
            }
            pen_down = at.is_some();
        }
        if !path.is_empty() {
            self.put(&format!(r#"<path class="{class}" d="{path}{}"/>"#, if closed { "Z" } else { "" }));
        }
    }

    /// A circle.
    pub fn circle(&mut self, class: &str, centre: At, radius: f64) {
        let [x, y] = centre.map(number);
        self.put(&format!(r#"<circle class="{class}" cx="{x}" cy="{y}" r="{}"/>"#, number(radius)));
    }

    /// An arc of a circle between two angles, degrees clockwise from the right.
    pub fn arc(&mut self, class: &str, centre: At, radius: f64, from_deg: f64, to_deg: f64) {
        let at = |deg: f64| {
            let (sin, cos) = deg.to_radians().sin_cos();
            place([centre[0] + radius * cos, centre[1] + radius * sin])
        };
        let large = i32::from((to_deg - from_deg).abs() > 180.0);
        let r = number(radius);
        self.put(&format!(
            r#"<path class="{class}" d="M{}A{r} {r} 0 {large} 1 {}"/>"#,
            at(from_deg),
            at(to_deg)
        ));
    }

    /// A text, turned by degrees clockwise about its place.
    pub fn text(&mut self, class: &str, at: At, anchor: Anchor, turned_deg: f64, text: &str) {
        let [x, y] = at.map(number);
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => r#" text-anchor="middle""#,
            Anchor::End => r#" text-anchor="end""#,
        };
        let turned = if turned_deg == 0.0 {
            String::new()
        } else {
            format!(r#" transform="rotate({} {x} {y})""#, number(turned_deg))
        };
        let text = super::page::escaped(text);
        self.put(&format!(r#"<text class="{class}" x="{x}" y="{y}"{anchor}{turned}>{text}</text>"#));
    }

    /// Ready-made markup.
    pub fn put(&mut self, markup: &str) {
        self.body.push_str(markup);
        self.body.push('\n');
    }

    /// The whole file: a sheet of so many millimetres with a style and a title for screen readers.
    pub fn finish(self, size: At, style: &str, title: &str) -> String {
        let [wide, high] = size.map(number);
        let title = super::page::escaped(title);
        let mut text = String::new();
        let _ = write!(
            text,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{high}mm\" \
             viewBox=\"0 0 {wide} {high}\" role=\"img\" aria-label=\"{title}\">\n<title>{title}</title>\n\
             <style>\n{style}</style>\n{}</svg>\n",
            self.body
        );
        text
    }
}

/// A number with two decimals at most: hundredths of a millimetre of paper.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn place([x, y]: At) -> String {
    format!("{} {}", number(x), number(y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_fixed_decimals_and_texts_are_safe() {
        let mut svg = Svg::default();
        svg.line("thick", [0.0, -0.001], [1.0 / 3.0, 20.0]);
        svg.text("words", [1.5, 2.0], Anchor::Middle, 0.0, "1 < 2 & \"so\"");
        svg.polyline(
            "thin",
            [Some([0.0, 0.0]), Some([1.0, 0.0]), None, Some([2.0, 0.0]), Some([3.0, 1.0])],
            false,
        );
        insta::assert_snapshot!(svg.body, @r#"
        <path class="thick" d="M0 0L0.33 20"/>
        <text class="words" x="1.5" y="2" text-anchor="middle">1 &lt; 2 &amp; &quot;so&quot;</text>
        <path class="thin" d="M0 0L1 0M2 0L3 1"/>
        "#);
    }
}
