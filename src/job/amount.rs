//! Numbers as people write them in a job: plain (`12.5`), or as text with a fraction, a unit or both
//! (`"1 1/2"`, `"7/8 in"`, `"38 mm"`). Fractions stay exact up to one division. Knows no ranges.

use std::borrow::Cow;
use std::fmt;

use nom::branch::alt;
use nom::bytes::complete::tag_no_case;
use nom::character::complete::{char, digit1, one_of, space0, space1};
use nom::combinator::{all_consuming, map, map_opt, opt, recognize, value};
use nom::{IResult, Parser};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error, Unexpected, Visitor};

use crate::units::LengthUnit;

/// What the deserializer says of nan and inf.
pub(super) const NOT_MEASURABLE: &str = "not a number that can be measured";
/// What the deserializer says of a text that is no temperature.
pub(super) const NO_TEMPERATURE: &str = "a temperature";
/// What the deserializer says of a text that is no length.
pub(super) const NO_LENGTH: &str = "not a length";

/// A number with the unit written beside it, if one was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Amount {
    /// The number as written; always finite.
    pub(super) number: f64,
    /// The unit written beside it.
    pub(super) unit: Option<LengthUnit>,
}

/// A number that is no length: an angle, a share, revolutions. Always finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plain(pub(super) f64);

/// A temperature: a number, or a text with its scale (`"68 F"`). Always finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Warmth {
    number: f64,
    /// Degrees F go with inches, degrees C with mm.
    scale: Option<LengthUnit>,
}

impl From<Warmth> for Amount {
    fn from(warmth: Warmth) -> Self {
        Amount { number: warmth.number, unit: warmth.scale }
    }
}

impl Warmth {
    /// Reads `68 F`, `20 C`, `20 °C` or `20`; `None` when the text is anything else.
    fn parse(text: &str) -> Option<Self> {
        let lower = text.trim().to_lowercase();
        let scales = [("f", LengthUnit::Inch), ("c", LengthUnit::Mm)];
        let scale = scales.into_iter().find(|(letter, _)| lower.ends_with(letter));
        let number = scale.map_or(&lower[..], |(letter, _)| lower.trim_end_matches(letter));
        let number =
            number.trim_end().trim_end_matches("degrees").trim_end_matches("deg").trim_end_matches('°');
        let amount = Amount::parse(number).filter(|amount| amount.unit.is_none())?;
        Some(Warmth { number: amount.number, scale: scale.map(|(_, unit)| unit) })
    }
}

impl From<Plain> for Amount {
    fn from(plain: Plain) -> Self {
        Amount { number: plain.0, unit: None }
    }
}

impl From<u32> for Amount {
    fn from(count: u32) -> Self {
        Amount { number: f64::from(count), unit: None }
    }
}

impl Amount {
    /// Reads `1 1/2`, `1-1/2`, `7/8 in`, `38 mm` or `12.5`; `None` when the text is anything else.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let parsed: IResult<&str, Amount> = all_consuming(amount).parse(text.trim());
        parsed.ok().map(|(_, amount)| amount).filter(|amount| amount.number.is_finite())
    }
}

/// A length as people write it, in mm; a number without a unit is in `unit`.
///
/// # Errors
/// What to write instead, when the text is no length.
pub fn length_mm(text: &str, unit: LengthUnit) -> Result<f64, String> {
    let amount = Amount::parse(text).ok_or_else(|| way_out(text))?;
    Ok(amount.number * amount.unit.unwrap_or(unit).mm())
}

/// What to write instead of a text that is no length.
pub(super) fn way_out(text: &str) -> String {
    let point = text.replace(',', ".");
    if point != text && Amount::parse(&point).is_some() {
        return format!("write {point}, not {text}");
    }
    let lower = text.trim().to_lowercase();
    for (name, of_it, known) in
        [("cm", 10.0, "mm"), ("m", 1000.0, "mm"), ("ft", 12.0, "in"), ("'", 12.0, "in")]
    {
        if let Some(amount) =
            lower.strip_suffix(name).and_then(Amount::parse).filter(|amount| amount.unit.is_none())
        {
            return format!("write \"{} {known}\"", super::limits::tidy(amount.number * of_it, 4));
        }
    }
    "write a number such as 12.5, or a text such as \"1 1/2 in\" or \"38 mm\"".to_owned()
}

fn amount(input: &str) -> IResult<&str, Amount> {
    let number = alt((mixed, fraction, decimal));
    map((number, space0, opt(unit)), |(number, _, unit)| Amount { number, unit }).parse(input)
}

/// `1 1/2` or, as on drawings, `1-1/2`.
fn mixed(input: &str) -> IResult<&str, f64> {
    let gap = alt((recognize(char('-')), space1));
    map_opt(
        (digit1, gap, digit1, char('/'), digit1),
        |(whole, _, top, _, bottom): (&str, _, &str, _, &str)| {
            let (whole, top, bottom) = (number(whole)?, number(top)?, number(bottom)?);
            (bottom > 0.0).then(|| (whole * bottom + top) / bottom)
        },
    )
    .parse(input)
}

/// `7/8`.
fn fraction(input: &str) -> IResult<&str, f64> {
    map_opt((digit1, char('/'), digit1), |(top, _, bottom): (&str, _, &str)| {
        let (top, bottom) = (number(top)?, number(bottom)?);
        (bottom > 0.0).then(|| top / bottom)
    })
    .parse(input)
}

/// `12`, `12.5`, `.5` or `-3`; no exponent.
fn decimal(input: &str) -> IResult<&str, f64> {
    let digits = alt((recognize((digit1, opt((char('.'), opt(digit1))))), recognize((char('.'), digit1))));
    map_opt(recognize((opt(one_of("+-")), digits)), number).parse(input)
}

fn unit(input: &str) -> IResult<&str, LengthUnit> {
    let inch = alt((
        tag_no_case("inches"),
        tag_no_case("inch"),
        tag_no_case("in"),
        tag_no_case("\""),
        tag_no_case("″"),
    ));
    alt((value(LengthUnit::Mm, tag_no_case("mm")), value(LengthUnit::Inch, inch))).parse(input)
}

fn number(digits: &str) -> Option<f64> {
    digits.parse().ok()
}

impl<'de> Deserialize<'de> for Amount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(NumberVisitor { text_too: true })
    }
}

impl<'de> Deserialize<'de> for Plain {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(NumberVisitor { text_too: false }).map(|amount| Plain(amount.number))
    }
}

impl<'de> Deserialize<'de> for Warmth {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(WarmthVisitor)
    }
}

/// A number, or a text as people write lengths.
impl JsonSchema for Amount {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Amount".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": ["number", "string"] })
    }
}

impl JsonSchema for Plain {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Plain".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "number" })
    }
}

impl JsonSchema for Warmth {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Warmth".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": ["number", "string"] })
    }
}

/// Takes whole and decimal numbers, and texts with a scale.
struct WarmthVisitor;

impl Visitor<'_> for WarmthVisitor {
    type Value = Warmth;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(NO_TEMPERATURE)
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Warmth, E> {
        if number.is_finite() { Ok(Warmth { number, scale: None }) } else { Err(E::custom(NOT_MEASURABLE)) }
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Warmth, E> {
        self.visit_f64(number as f64)
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Warmth, E> {
        self.visit_f64(number as f64)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Warmth, E> {
        Warmth::parse(text).ok_or_else(|| E::invalid_type(Unexpected::Str(text), &self))
    }
}

/// Takes whole and decimal numbers, and texts where a length belongs.
struct NumberVisitor {
    text_too: bool,
}

impl Visitor<'_> for NumberVisitor {
    type Value = Amount;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(if self.text_too { "a length" } else { "a plain number" })
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Amount, E> {
        if number.is_finite() { Ok(Amount { number, unit: None }) } else { Err(E::custom(NOT_MEASURABLE)) }
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Amount, E> {
        self.visit_f64(number as f64)
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Amount, E> {
        self.visit_f64(number as f64)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Amount, E> {
        if !self.text_too {
            return Err(E::invalid_type(Unexpected::Str(text), &self));
        }
        Amount::parse(text).ok_or_else(|| E::custom(NO_LENGTH))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_read_as_a_shop_writes_them() {
        let inch = Some(LengthUnit::Inch);
        let mm = Some(LengthUnit::Mm);
        for (text, number, unit) in [
            ("1 1/2", 1.5, None),
            ("1-1/2 in", 1.5, inch),
            ("7/8 in", 0.875, inch),
            ("7/8\"", 0.875, inch),
            ("2 inches", 2.0, inch),
            ("38 mm", 38.0, mm),
            ("38mm", 38.0, mm),
            (".5", 0.5, None),
            (" 12.5 ", 12.5, None),
            ("-3", -3.0, None),
        ] {
            assert_eq!(Amount::parse(text), Some(Amount { number, unit }), "{text}");
        }
    }

    #[test]
    fn texts_that_are_no_length_are_refused() {
        for text in
            ["", "mm", "1/0", "1 1/0 in", "12,5", "3 cm", "1e3", "nan", "inf", "1 2", "1/2/3", "3 mm mm"]
        {
            assert_eq!(Amount::parse(text), None, "{text}");
        }
    }

    #[test]
    fn temperatures_may_say_their_scale() {
        let (fahrenheit, celsius) = (Some(LengthUnit::Inch), Some(LengthUnit::Mm));
        for (text, number, scale) in [
            ("68 F", 68.0, fahrenheit),
            ("20°C", 20.0, celsius),
            ("20 degrees c", 20.0, celsius),
            ("-1", -1.0, None),
        ] {
            assert_eq!(Warmth::parse(text), Some(Warmth { number, scale }), "{text}");
        }
        for text in ["", "F", "warm", "20 K", "20 C F", "20 in C"] {
            assert_eq!(Warmth::parse(text), None, "{text}");
        }
    }

    #[test]
    fn the_way_out_fits_the_slip() {
        assert_eq!(way_out("12,5"), "write 12.5, not 12,5");
        assert_eq!(way_out("3.5 cm"), "write \"35 mm\"");
        assert_eq!(way_out("1 1/2 ft"), "write \"18 in\"");
        assert!(way_out("thick").contains("such as 12.5"));
    }
}
