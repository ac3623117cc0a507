//! The lines that the live logger reports.

use crate::results::figures;

/// A corrected sample.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Corrected {
    pub sequence: u32,
    pub code: i32,
    pub sixteenths: i16,
    pub age: u32,
    pub nanostrain: i32,
    pub bits: i32,
    pub stale: bool,
    pub flags: String,
}

/// Counts by name, in the order in which they are told.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Counts(pub Vec<(String, u32)>);

impl Counts {
    /// Zero for what is not counted.
    pub fn get(&self, name: &str) -> u32 {
        self.0.iter().find(|(known, _)| known == name).map_or(0, |&(_, count)| count)
    }
}

/// A line of the report.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line {
    Corrected(Corrected),
    Uncorrected { sequence: u32, code: i32, at_rail: bool },
    SoFar(Counts),
    InAll(Counts),
}

impl Line {
    pub fn parse(text: &str) -> Result<Self, String> {
        let error = |what: &str| format!("{what} in the line: {text}");
        for (start, kind) in [("so far: ", Self::SoFar as fn(Counts) -> Self), ("in all: ", Self::InAll)] {
            if let Some(counts) = text.strip_prefix(start) {
                return figures(counts).map(Counts).map(kind).ok_or_else(|| error("no count"));
            }
        }
        let (kind, fields) = text.split_once(' ').ok_or_else(|| error("no kind"))?;
        // Flags have spaces between them, and stand last.
        let (fields, flags) = fields.split_once(" flags=").unwrap_or((fields, ""));
        let fields = Fields(fields);
        match kind {
            "corrected" => Ok(Self::Corrected(Corrected {
                sequence: fields.number("sequence").ok_or_else(|| error("no sequence"))?,
                code: fields.number("code").ok_or_else(|| error("no code"))?,
                sixteenths: fields.number("sixteenths").ok_or_else(|| error("no temperature"))?,
                age: fields.number("age").ok_or_else(|| error("no age"))?,
                nanostrain: fields.number("nanostrain").ok_or_else(|| error("no strain"))?,
                bits: fields.number("bits").ok_or_else(|| error("no strain"))?,
                stale: fields.number("stale").ok_or_else(|| error("no staleness"))?,
                flags: flags.to_owned(),
            })),
            "uncorrected" => Ok(Self::Uncorrected {
                sequence: fields.number("sequence").ok_or_else(|| error("no sequence"))?,
                code: fields.number("code").ok_or_else(|| error("no code"))?,
                at_rail: fields.number("at_rail").ok_or_else(|| error("nothing of the rail"))?,
            }),
            _ => Err(error("unknown kind")),
        }
    }
}

/// `name=value` with spaces between.
struct Fields<'a>(&'a str);

impl Fields<'_> {
    fn number<N: std::str::FromStr>(&self, name: &str) -> Option<N> {
        let pairs = self.0.split(' ').filter_map(|field| field.split_once('='));
        pairs.filter(|(known, _)| *known == name).find_map(|(_, value)| value.parse().ok())
    }
}
