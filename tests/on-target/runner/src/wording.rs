//! The words of defmt and those of `Debug`, made comparable.
//!
//! Inside a larger value, defmt shows units, flags and faults as `Display` does, while `Debug` shows their type; and it
//! writes numbers its own way. So the former are replaced in what `Debug` says, and numbers are compared as numbers.

use gaugewright::Flags;
use gaugewright::channel::Arm;
use gaugewright::installation::Fault;
use gaugewright::temperature::ThermometerFlags;
use gaugewright::units::*;

/// What `Debug` says, with units, flags and faults in the words of `Display`.
pub fn as_displayed(debug: &str) -> String {
    let mut text = debug.to_owned();
    // First the longer name: the other is its end.
    for flags in (0..=u8::MAX).filter_map(ThermometerFlags::from_bits) {
        text = text.replace(&format!("{flags:?}"), &flags.to_string());
    }
    for flags in (0..=u8::MAX).filter_map(Flags::from_bits) {
        text = text.replace(&format!("{flags:?}"), &flags.to_string());
    }
    let of_arms = Arm::ALL
        .into_iter()
        .flat_map(|arm| [Fault::ArmOpen(arm), Fault::ArmShorted(arm), Fault::ArmLeadBroken(arm)]);
    for fault in of_arms.chain([Fault::ExcitationLeadBroken, Fault::OutputLeadBroken, Fault::Reversed]) {
        text = text.replace(&format!("{fault:?}"), &fault.to_string());
    }
    // The symbol of a unit is what follows the number.
    macro_rules! units {
        ($($unit:ident)*) => {
            $(text = unwrapped(&text, stringify!($unit), &$unit(0.0).to_string()[1..]);)*
        };
    }
    units!(Celsius Fahrenheit Microstrain Nanostrain Strain GaugeFactor Ohms Ratio MillivoltsPerVolt PercentPer100C Percent
        ExpansionPerCelsius ExpansionPerFahrenheit Kelvin Millivolts MicrovoltsPerCelsius OhmsPerCelsius Milliamperes
        Milliwatts MilliwattsPerCelsius);
    text
}

/// `Unit(1.5)` as `1.5 symbol`, where it holds a number with a fraction: whole ones are integers of the same name.
fn unwrapped(text: &str, unit: &str, symbol: &str) -> String {
    let start = format!("{unit}(");
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(&start) {
        let (before, from) = rest.split_at(at);
        let inside = &from[start.len()..];
        let is_whole_word = !before.ends_with(|c: char| c.is_alphanumeric());
        let number = inside.split(')').next().unwrap_or("");
        out += before;
        if is_whole_word && number.contains(['.', 'e', 'N']) {
            out += number;
            out += symbol;
            rest = &inside[number.len() + 1..];
        } else {
            out += &start;
            rest = inside;
        }
    }
    out + rest
}

/// With every number in one way of writing.
pub fn normal(text: &str) -> String {
    let characters: Vec<char> = text.chars().collect();
    let mut out = String::new();
    let mut i = 0;
    while i < characters.len() {
        let inside_word = i > 0 && (characters[i - 1].is_alphanumeric() || characters[i - 1] == '_');
        let longest = if inside_word { None } else { number_at(&characters[i..]) };
        match longest {
            Some((length, number)) => {
                out += &format!("{number:e}");
                i += length;
            }
            None => {
                out.push(characters[i]);
                i += 1;
            }
        }
    }
    out
}

/// The longest number that the text starts with.
fn number_at(characters: &[char]) -> Option<(usize, f64)> {
    let count = characters.iter().take_while(|c| c.is_ascii_digit() || "+-.e".contains(**c)).count();
    (1..=count).rev().find_map(|length| {
        let text: String = characters[..length].iter().collect();
        let starts = text.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit());
        Some((length, text.parse().ok().filter(|_| starts)?))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_compared_as_numbers() {
        assert_eq!(normal("a: 5.0, b: [1e-3, -2]"), normal("a: 5, b: [0.001, -2.0]"));
        assert_ne!(normal("a: 5.0"), normal("a: 5.1"));
        assert_ne!(normal("a: 5.0"), normal("b: 5.0"));
        assert_ne!(normal("x1"), normal("x1.0"));
    }

    #[test]
    fn units_are_shown_as_units() {
        assert_eq!(
            as_displayed("X { a: Celsius(1.5), b: Some(Strain(1e-3)) }"),
            "X { a: 1.5 C, b: Some(1e-3) }"
        );
        assert_eq!(as_displayed("Strain(17)"), "Strain(17)");
        assert_eq!(as_displayed("ArmOpen(Two), Flags(CODE_AT_RAIL)"), "arm 2 open, code at rail");
        assert_eq!(as_displayed("ThermometerFlags(OPEN | STALE), Flags(CLEAR)"), "sensor open, stale, clear");
    }
}
