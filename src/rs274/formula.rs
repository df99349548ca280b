//! Expressions, parameters and functions: how they are written and what they come to. Values come from a table of
//! parameters; nothing here knows what a value is for.

use std::fmt;

use nom::branch::alt;
use nom::bytes::complete::{tag, take_while};
use nom::character::complete::char as one;
use nom::combinator::map;
use nom::sequence::preceded;
use nom::{IResult, Parser};

use super::number::read_number;
use super::parameters::Parameters;
use super::slip::{Slip, What};

/// Result of a rule: the rest of the text and what was read.
pub(super) type Parsed<'a, T> = IResult<&'a [u8], T, Slip>;

/// A value as it is written. A line of 256 characters bounds how deep it can nest.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Formula {
    Number(f64),
    Parameter(Box<Formula>),
    Applied(Function, Box<Formula>),
    /// `ATAN[rise]/[run]`.
    Atan(Box<Formula>, Box<Formula>),
    Joined(Operator, Box<Formula>, Box<Formula>),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Function {
    Abs,
    Acos,
    Asin,
    Cos,
    Exp,
    Fix,
    Fup,
    Ln,
    Round,
    Sin,
    Sqrt,
    Tan,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Operator {
    Power,
    Times,
    Over,
    Mod,
    Plus,
    Minus,
    Or,
    Xor,
    And,
}

/// A real value outside brackets: number, bracket, parameter or function (NISTIR 6556 section 3.3.2).
pub(super) fn value(text: &[u8]) -> Parsed<'_, Formula> {
    alt((map(number, Formula::Number), bracket, parameter, applied, no_value)).parse(text)
}

/// A number that is not followed by more of one.
fn number(text: &[u8]) -> Parsed<'_, f64> {
    let Some((value, length)) = read_number(text) else { return Err(Slip::error(text)) };
    let rest = &text[length..];
    match rest.first() {
        Some(b'.') => Err(Slip::failure(What::NumberBad, text)),
        Some(b',') => Err(Slip::failure(What::DecimalComma, text)),
        _ => Ok((rest, value)),
    }
}

fn parameter(text: &[u8]) -> Parsed<'_, Formula> {
    map(preceded(one('#'), value), |index| Formula::Parameter(Box::new(index))).parse(text)
}

fn bracket(text: &[u8]) -> Parsed<'_, Formula> {
    let (inside, _) = one('[').parse(text)?;
    let (rest, sum) = sum(inside)?;
    match rest.first() {
        Some(b']') => Ok((&rest[1..], sum)),
        _ if !rest.contains(&b']') => Err(Slip::failure(What::BracketOpen, text)),
        Some(b'.' | b',') => Err(Slip::failure(What::NumberBad, rest)),
        Some(b'0'..=b'9' | b'#' | b'[') => Err(Slip::failure(What::LetterMissing, rest)),
        _ => Err(Slip::failure(What::NameUnknown, rest)),
    }
}

/// A function: every run of letters where a value belongs must be one.
fn applied(text: &[u8]) -> Parsed<'_, Formula> {
    let (rest, name) = take_while(|byte: u8| byte.is_ascii_uppercase()).parse(text)?;
    let function = match name {
        b"ATAN" => return atan(text, rest),
        b"ABS" => Function::Abs,
        b"ACOS" => Function::Acos,
        b"ASIN" => Function::Asin,
        b"COS" => Function::Cos,
        b"EXP" => Function::Exp,
        b"FIX" => Function::Fix,
        b"FUP" => Function::Fup,
        b"LN" => Function::Ln,
        b"ROUND" => Function::Round,
        b"SIN" => Function::Sin,
        b"SQRT" => Function::Sqrt,
        b"TAN" => Function::Tan,
        _ if name.len() < 2 => return Err(Slip::error(text)),
        _ => return Err(Slip::failure(What::NameUnknown, text)),
    };
    if rest.first() != Some(&b'[') {
        return Err(Slip::failure(What::BracketMissing, text));
    }
    map(bracket, |inside| Formula::Applied(function, Box::new(inside))).parse(rest)
}

fn atan<'a>(text: &'a [u8], after_name: &'a [u8]) -> Parsed<'a, Formula> {
    let parts = |what| Slip::failure(what, text);
    if after_name.first() != Some(&b'[') {
        return Err(parts(What::BracketMissing));
    }
    let (rest, rise) = bracket(after_name)?;
    if !rest.starts_with(b"/[") {
        return Err(parts(What::AtanParts));
    }
    let (rest, run) = bracket(&rest[1..])?;
    Ok((rest, Formula::Atan(Box::new(rise), Box::new(run))))
}

/// Says why no value can be read here.
fn no_value(text: &[u8]) -> Parsed<'_, Formula> {
    let what = match text {
        [b'+' | b'-', b'#' | b'[', ..] => What::SignStray,
        [b'+' | b'-', a, b, ..] if a.is_ascii_uppercase() && b.is_ascii_uppercase() => What::SignStray,
        [b'+' | b'-' | b'.', ..] => What::NumberBad,
        _ => What::NumberMissing,
    };
    Err(Slip::failure(what, text))
}

/// A value inside brackets: where it is missing, a sum lacks something, not a letter.
fn operand(text: &[u8]) -> Parsed<'_, Formula> {
    value(text).map_err(|error| match error {
        nom::Err::Failure(slip) if slip == Slip::at(What::NumberMissing, text) => {
            Slip::failure(What::OperandMissing, text)
        }
        other => other,
    })
}

/// The third level: `+ - OR XOR AND`, left to right (NISTIR 6556 section 3.3.2.3).
fn sum(text: &[u8]) -> Parsed<'_, Formula> {
    let operator = alt((
        map(one('+'), |_| Operator::Plus),
        map(one('-'), |_| Operator::Minus),
        map(tag(&b"OR"[..]), |_| Operator::Or),
        map(tag(&b"XOR"[..]), |_| Operator::Xor),
        map(tag(&b"AND"[..]), |_| Operator::And),
    ));
    level(text, operator, product)
}

/// The second level: `* / MOD`.
fn product(text: &[u8]) -> Parsed<'_, Formula> {
    let operator = alt((
        map(one('*'), |_| Operator::Times),
        map(one('/'), |_| Operator::Over),
        map(tag(&b"MOD"[..]), |_| Operator::Mod),
    ));
    level(text, operator, power)
}

/// The first level: `**`.
fn power(text: &[u8]) -> Parsed<'_, Formula> {
    level(text, map(tag(&b"**"[..]), |_| Operator::Power), operand)
}

/// Operands of one level with operators between them, taken from left to right.
fn level<'a>(
    text: &'a [u8],
    mut operator: impl Parser<&'a [u8], Output = Operator, Error = Slip>,
    next_level: fn(&'a [u8]) -> Parsed<'a, Formula>,
) -> Parsed<'a, Formula> {
    let (mut rest, mut left) = next_level(text)?;
    while let Ok((after, operator)) = operator.parse(rest) {
        let (after, right) = next_level(after)?;
        left = Formula::Joined(operator, Box::new(left), Box::new(right));
        rest = after;
    }
    Ok((rest, left))
}

/// Why a value cannot be worked out.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Trouble {
    /// The index is no whole number from 1 to 5399.
    Index(f64),
    /// The program never set this parameter.
    Unset(usize),
    /// A parameter may be missing for a reason that was told.
    Told,
    /// The sum has no answer, such as a division by zero.
    NoAnswer(String),
}

impl Formula {
    /// Works the value out with the parameters as they stand.
    ///
    /// # Errors
    /// [`Trouble`] when a parameter has no valid index or no value, and when a function or operator has no answer.
    pub(super) fn value(&self, parameters: &Parameters) -> Result<f64, Trouble> {
        let (value, sum) = match self {
            Formula::Number(value) => return Ok(*value),
            Formula::Parameter(index) => {
                let index = parameter_index(index.value(parameters)?)?;
                let missing = if parameters.in_doubt { Trouble::Told } else { Trouble::Unset(index) };
                return parameters.get(index).ok_or(missing);
            }
            Formula::Applied(function, inside) => {
                let inside = inside.value(parameters)?;
                (function.of(inside), format_args!("{function:?}[{inside}]").to_string())
            }
            Formula::Atan(rise, run) => {
                return Ok(rise.value(parameters)?.atan2(run.value(parameters)?).to_degrees());
            }
            Formula::Joined(operator, left, right) => {
                let (left, right) = (left.value(parameters)?, right.value(parameters)?);
                (operator.join(left, right), format!("{left} {operator} {right}"))
            }
        };
        if value.is_finite() { Ok(value) } else { Err(Trouble::NoAnswer(sum.to_uppercase())) }
    }
}

/// Greatest index that a program may use (NISTIR 6556 section 3.3.2.2).
pub(super) const LAST_PARAMETER: usize = 5399;

/// How far a value may lie from a whole number and still pass for it (NISTIR 6556 section 3.3.2.1).
const WHOLE_WITHIN: f64 = 0.0001;

/// The whole number that a value stands for, if it lies near enough to one.
pub(super) fn whole(value: f64) -> Option<f64> {
    let nearest = value.round();
    ((value - nearest).abs() < WHOLE_WITHIN).then_some(nearest)
}

/// The index of a parameter from its value.
///
/// # Errors
/// [`Trouble::Index`] when it is no whole number from 1 to [`LAST_PARAMETER`].
pub(super) fn parameter_index(value: f64) -> Result<usize, Trouble> {
    match whole(value) {
        Some(index) if (1.0..=LAST_PARAMETER as f64).contains(&index) => Ok(index as usize),
        _ => Err(Trouble::Index(value)),
    }
}

impl Function {
    /// Angles in degrees on both sides (NISTIR 6556 section 3.3.2.4); `NaN` or infinite where there is no answer.
    /// `ROUND` takes a half away from zero, which the report leaves open (from memory).
    fn of(self, x: f64) -> f64 {
        match self {
            Function::Abs => x.abs(),
            Function::Acos => x.acos().to_degrees(),
            Function::Asin => x.asin().to_degrees(),
            Function::Cos => x.to_radians().cos(),
            Function::Exp => x.exp(),
            Function::Fix => x.floor(),
            Function::Fup => x.ceil(),
            Function::Ln => x.ln(),
            Function::Round => x.round(),
            Function::Sin => x.to_radians().sin(),
            Function::Sqrt => x.sqrt(),
            Function::Tan => x.to_radians().tan(),
        }
    }
}

impl Operator {
    /// Logic takes zero for false and anything else for true (NISTIR 6556 section 3.3.2.3). The rest of a division is
    /// never negative (from memory: the report shows positive numbers only).
    fn join(self, left: f64, right: f64) -> f64 {
        let truth = |holds: bool| if holds { 1.0 } else { 0.0 };
        match self {
            Operator::Power => left.powf(right),
            Operator::Times => left * right,
            Operator::Over => left / right,
            Operator::Mod => left.rem_euclid(right),
            Operator::Plus => left + right,
            Operator::Minus => left - right,
            Operator::Or => truth(left != 0.0 || right != 0.0),
            Operator::Xor => truth((left != 0.0) != (right != 0.0)),
            Operator::And => truth(left != 0.0 && right != 0.0),
        }
    }
}

impl fmt::Display for Operator {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Operator::Power => "**",
            Operator::Times => "*",
            Operator::Over => "/",
            Operator::Mod => "MOD",
            Operator::Plus => "+",
            Operator::Minus => "-",
            Operator::Or => "OR",
            Operator::Xor => "XOR",
            Operator::And => "AND",
        })
    }
}
