//! What is to be done: the channel of the file, with what the command line says instead.

use crate::options::Options;
use crate::run::Load;
use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::fit::Degree;
use gaugewright::commissioning::prediction::FoilResistance;
use gaugewright::units::{Celsius, ExpansionPerCelsius, GaugeFactor, Microstrain, Percent};
use host::channel_file::commissioning::{Commissioning, Expansion as Words, Uncertainty};
use host::channel_file::{self, Basis, ChannelFile, Description, Problem};
use host::circuit::ThermalOutput;
use host::contradictions::{MICROSTRAIN, PPM, not_in_ppm, uncertainty_not_in_millionths};
use host::keys::{self, told_of_expansion, told_of_foil};
use std::collections::BTreeSet;

/// Their names fit beside the curves of a picture.
const MOST_OFFERS: usize = 24;

/// One channel to be commissioned, and how.
pub struct Job {
    pub time_column: String,
    pub description: Description,
    /// Where the channel stands in the file.
    pub index: usize,
    /// Of the channel before the run: at rest, and with the shunt.
    pub at_rest_codes: Option<Vec<i32>>,
    /// In C.
    pub at_rest_temperature: Option<f64>,
    pub shunted_codes: Option<Vec<i32>>,
    /// Of the run with load, where that is stated.
    pub load: Option<Load>,
    pub run_source: RunSource,
    /// Lines of the run, in rising order.
    pub leave_out: Vec<u64>,
    pub degree: Degree,
    pub coverage: Percent,
    /// In rising order, without repetition; empty where none is on offer.
    pub offers: Vec<ExpansionPerCelsius>,
    pub window: Option<(Celsius, Celsius)>,
    pub part: Option<Material>,
    pub package_material: Option<Material>,
    pub foil: Option<Foil>,
    pub uncertainty: Uncertainty,
}

/// What the run holds.
pub enum RunSource {
    /// Indicated strain in microstrain, at a gauge factor.
    Strain(String, GaugeFactor),
    /// What the channel itself gives.
    OwnColumn,
}

/// How a material expands, with room of its own for a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    law: Law,
    uncertainty: ExpansionPerCelsius,
}

#[derive(Clone, Debug, PartialEq)]
enum Law {
    Coefficient(ExpansionPerCelsius),
    Table(Vec<(Celsius, ExpansionPerCelsius)>),
    MeanTable(Celsius, Vec<(Celsius, ExpansionPerCelsius)>),
}

/// The foil by itself.
pub struct Foil {
    pub material: Material,
    /// Of the free foil, where it is stated.
    pub resistance: Option<FoilResistance>,
}

impl Material {
    pub const fn coefficient(coefficient: ExpansionPerCelsius) -> Self {
        Self { law: Law::Coefficient(coefficient), uncertainty: ExpansionPerCelsius(0.0) }
    }

    pub fn expansion(&self) -> Expansion<'_> {
        match &self.law {
            Law::Coefficient(coefficient) => Expansion::coefficient(*coefficient),
            Law::Table(rows) => Expansion::coefficient_table(rows),
            Law::MeanTable(from, rows) => Expansion::mean_coefficient_table(*from, rows),
        }
        .standard_uncertainty(self.uncertainty)
    }

    pub const fn uncertainty(&self) -> ExpansionPerCelsius {
        self.uncertainty
    }

    fn of(words: &Words) -> Result<Self, String> {
        let rows = |table: &[[f64; 2]]| -> Vec<_> {
            table.iter().map(|[celsius, ppm]| (Celsius(*celsius), ExpansionPerCelsius::ppm(*ppm))).collect()
        };
        let law = match (words.ppm_per_c, &words.table, &words.mean_table, words.mean_from_c) {
            (Some(ppm), None, None, None) => Law::Coefficient(ExpansionPerCelsius::ppm(ppm)),
            (None, Some(table), None, None) => Law::Table(rows(table)),
            (None, None, Some(table), Some(from)) => Law::MeanTable(Celsius(from), rows(table)),
            _ => return Err("needs ppm_per_c, or table, or mean_table and mean_from_c".to_string()),
        };
        let of_rows = |rows: &Option<Vec<[f64; 2]>>| -> Vec<f64> {
            rows.iter().flatten().map(|[_, ppm]| *ppm).collect()
        };
        let uncertainty = words.standard_uncertainty_ppm_per_c.unwrap_or(0.0);
        let in_other_unit = [
            not_in_ppm("ppm_per_c", words.ppm_per_c.as_slice()),
            not_in_ppm("the largest of table", &of_rows(&words.table)),
            not_in_ppm("the largest of mean_table", &of_rows(&words.mean_table)),
            uncertainty_not_in_millionths("standard_uncertainty_ppm_per_c", PPM, uncertainty),
        ];
        if let Some(text) = in_other_unit.into_iter().flatten().next() {
            return Err(text);
        }
        let uncertainty = ExpansionPerCelsius::ppm(uncertainty);
        let material = Self { law, uncertainty };
        material.expansion().check().map_err(|error| told_of_expansion(words, error))?;
        Ok(material)
    }
}

impl Foil {
    fn of(words: &channel_file::commissioning::Foil) -> Result<Self, String> {
        let terms = |given: &[f64]| -> [f64; FoilResistance::TERMS] {
            std::array::from_fn(|k| given.get(k).copied().unwrap_or_default())
        };
        let material = Material::of(&words.expansion).map_err(|text| format!("expansion {text}"))?;
        let uncertainties = words.resistance_uncertainties.as_deref().unwrap_or_default();
        let resistance = match (&words.resistance_coefficients, words.between_c) {
            (None, None) if uncertainties.is_empty() => None,
            (Some(given), Some([low, high])) => {
                if !(1..=FoilResistance::TERMS).contains(&given.len()) {
                    return Err("resistance_coefficients has one to five numbers".to_string());
                }
                if uncertainties.len() > given.len() {
                    return Err(
                        "resistance_uncertainties has more numbers than resistance_coefficients".to_string()
                    );
                }
                let foil = FoilResistance::new(terms(given)).standard_uncertainty(terms(uncertainties));
                let foil = foil.between(Celsius(low), Celsius(high));
                foil.check().map_err(told_of_foil)?;
                Some(foil)
            }
            _ => {
                return Err(
                    "resistance_coefficients and between_c go together, and resistance_uncertainties with them"
                        .to_string(),
                );
            }
        };
        Ok(Self { material, resistance })
    }
}

impl Job {
    /// # Errors
    /// Everything that is wrong with the channel's own words or with the command line, and what cannot be commissioned.
    pub fn all(file: ChannelFile, options: &Options) -> Result<Vec<Self>, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut jobs = Vec::new();
        for (index, description) in chosen(file.channels, &options.channel)? {
            match Self::of(&file.time_column, index, description, options) {
                Ok(job) => jobs.push(job),
                Err(more) => problems.extend(more),
            }
        }
        if problems.is_empty() { Ok(jobs) } else { Err(problems) }
    }

    fn of(
        time_column: &str,
        index: usize,
        mut description: Description,
        options: &Options,
    ) -> Result<Self, Vec<Problem>> {
        let words = description.commissioning.take().unwrap_or_default();
        let mut problems: Vec<String> = Vec::new();

        if !shows_thermal_output(&description) {
            problems.push(
                "there is no thermal output to commission: only a channel of one gauge that shows its own, \
                 or of two in opposite arms, without [channel.compensating]"
                    .to_string(),
            );
        }
        problems.extend(check_installation(&description, &words));
        let load = of_table("load", &words.load, |words| load(&description, words), &mut problems);
        let run_source = run_source(&words).unwrap_or_else(|text| {
            problems.push(text);
            RunSource::OwnColumn
        });
        if matches!(run_source, RunSource::Strain(..)) && description.balance.is_none() {
            problems.push(
                "run_strain_column needs [channel.balance]: the zero of another instrument is not the channel's".to_string(),
            );
        }
        let part = of_table("part", &words.part, Material::of, &mut problems);
        let package_material =
            of_table("package_material", &words.package_material, Material::of, &mut problems);
        problems.extend(no_expansion("--part", options.part.as_slice()));
        let one = |ppm: Option<f64>| ppm.map(|ppm| Material::coefficient(ExpansionPerCelsius::ppm(ppm)));
        let part = one(options.part).or(part).or(one(description.specimen_expansion_ppm_per_c));

        let foil = of_table("foil", &words.foil, Foil::of, &mut problems);
        if foil.is_some() && part.is_none() {
            problems.push("[channel.commissioning.foil] needs [channel.commissioning.part]".to_string());
        }
        let (key, offers) = if options.matches.is_empty() {
            ("one of offered_matches_ppm_per_c", words.offered_matches_ppm_per_c.unwrap_or_default())
        } else {
            ("one of --matches", options.matches.clone())
        };
        problems.extend(no_expansion(key, &offers));
        if offers.len() > MOST_OFFERS {
            problems.push(format!("{} matches on offer, allowed: {MOST_OFFERS} at most", offers.len()));
        }
        if !offers.is_empty() && description.gauge.matched_expansion_ppm_per_c.is_none() {
            problems.push(
                "matches on offer need matched_expansion_ppm_per_c of [channel.gauge]: what this gauge is matched to"
                    .to_string(),
            );
        }
        let window = match (&options.window[..], words.window_c) {
            ([], None) => None,
            ([], Some([low, high])) | (&[low, high], _) => Some((Celsius(low), Celsius(high))),
            _ => {
                problems.push("--window takes two temperatures, as -75,45".to_string());
                None
            }
        };
        if let Some((low, high)) = window.filter(|(low, high)| low.0.total_cmp(&high.0).is_ge()) {
            let key = if options.window.is_empty() { "window_c" } else { "--window" };
            problems
                .push(format!("{key} is {} to {} C: the first has to be below the second", low.0, high.0));
        }
        let uncertainty = words.uncertainty.unwrap_or_default();
        problems.extend(check_uncertainty(&uncertainty));
        let reading = uncertainty.reading_microstrain.unwrap_or(0.0);
        let key = "reading_microstrain of [channel.commissioning.uncertainty]";
        problems.extend(uncertainty_not_in_millionths(key, MICROSTRAIN, reading));
        if !(50.0..=99.9).contains(&options.coverage) {
            problems.push(format!("--coverage is {}, allowed: 50 to 99.9 percent", options.coverage));
        }
        if let Some(degree) = options.degree.filter(|degree| *degree > 5) {
            problems.push(format!("--degree is {degree}, allowed: 0 to 5"));
        }
        if !problems.is_empty() {
            return Err(problems.into_iter().map(|text| description.problem(text)).collect());
        }
        Ok(Self {
            time_column: time_column.to_string(),
            offers: sorted(offers, description.gauge.matched_expansion_ppm_per_c),
            description,
            index,
            at_rest_codes: words.at_rest_codes,
            at_rest_temperature: words.at_rest_temperature_c,
            shunted_codes: words.shunted_codes,
            load,
            run_source,
            leave_out: BTreeSet::from_iter(options.leave_out.iter().copied()).into_iter().collect(),
            degree: options.degree.map_or(Degree::by_f_test(Percent(1.0)), Degree::Exactly),
            coverage: Percent(options.coverage),
            window,
            part,
            package_material,
            foil,
            uncertainty,
        })
    }

    /// Standard uncertainty of the thermometer, C, where it is stated.
    pub fn temperature_uncertainty(&self) -> Option<f64> {
        self.uncertainty.temperature_c.or(self.description.temperature_uncertainty())
    }

    /// Of the gauge package.
    pub fn reference(&self) -> Celsius {
        // As the library has it where nothing is stated.
        Celsius(self.description.gauge.reference_temperature_c.unwrap_or(24.0))
    }

    /// What the library refuses of the channel.
    pub fn refused(&self, error: gaugewright::Error) -> Problem {
        self.description.problem(keys::told(&self.description, error))
    }
}

/// What a table of `[channel.commissioning]` is, if it is there; what is wrong with it goes to the problems.
fn of_table<W, T>(
    key: &str,
    words: &Option<W>,
    of: impl FnOnce(&W) -> Result<T, String>,
    problems: &mut Vec<String>,
) -> Option<T> {
    of(words.as_ref()?).map_err(|text| problems.push(format!("[channel.commissioning.{key}]: {text}"))).ok()
}

/// Why some of these are no expansions.
fn no_expansion(key: &str, values: &[f64]) -> Vec<String> {
    let mut problems: Vec<String> = values.iter().filter_map(|ppm| not_in_ppm(key, &[*ppm])).collect();
    if let Some(ppm) = values.iter().find(|ppm| !(-1_000.0..=1_000.0).contains(*ppm)) {
        problems.push(format!("{key} is {ppm}, allowed: -1000 to 1000 ppm per C"));
    }
    problems
}

/// Those that the command line names; without any, those that have words for it, or the only one.
fn chosen(channels: Vec<Description>, asked: &[String]) -> Result<Vec<(usize, Description)>, Vec<Problem>> {
    let names: Vec<String> = channels.iter().map(|channel| channel.name.clone()).collect();
    let of_file = |text: String| vec![Problem::of_file(&text)];
    if let Some(name) = asked.iter().find(|name| !names.contains(name)) {
        let names = names.join(", ");
        return Err(of_file(format!("there is no channel {name:?}; its channels are: {names}")));
    }
    let is_only = names.len() == 1;
    let found: Vec<(usize, Description)> = channels
        .into_iter()
        .enumerate()
        .filter(|(_, channel)| {
            let has_words = is_only || channel.commissioning.is_some();
            if asked.is_empty() { has_words } else { asked.contains(&channel.name) }
        })
        .collect();
    if found.is_empty() {
        return Err(of_file(format!(
            "say with --channel which ones are commissioned, or give them [channel.commissioning]; \
             the channels are: {}",
            names.join(", ")
        )));
    }
    Ok(found)
}

fn shows_thermal_output(description: &Description) -> bool {
    // A channel without a circuit and without an instrument is told elsewhere.
    ThermalOutput::of(description) == ThermalOutput::Shows
}

/// Codes before the run, and what they are compared with.
fn check_installation(description: &Description, words: &Commissioning) -> Vec<String> {
    /// As many as the library takes a mean of.
    const MOST: usize = 65_536;
    let site = description.on_site.as_ref();
    let has_tolerance = site.is_some_and(|site| site.resistor_tolerance_percent.is_some());
    let has_shunt = site.is_some_and(|site| site.shunt.is_some());
    let (at_rest, shunted) = (words.at_rest_codes.as_ref(), words.shunted_codes.as_ref());
    let counts = [("at_rest_codes", at_rest), ("shunted_codes", shunted)];
    let wrong_count = counts.into_iter().find_map(|(key, codes)| {
        let count = codes.map(Vec::len).filter(|count| !(1..=MOST).contains(count))?;
        Some(format!("{key} has {count} codes, allowed: 1 to {MOST}"))
    });
    let rules = [
        (
            at_rest.is_some() && !has_tolerance && !has_shunt,
            "at_rest_codes needs resistor_tolerance_percent or shunt of [channel.on_site]",
        ),
        (shunted.is_some() && at_rest.is_none(), "shunted_codes needs at_rest_codes"),
        (
            words.at_rest_temperature_c.is_some() && at_rest.is_none(),
            "at_rest_temperature_c needs at_rest_codes",
        ),
        (shunted.is_some() && !has_shunt, "shunted_codes needs shunt of [channel.on_site]"),
    ];
    let broken = rules.into_iter().filter(|(wrong, _)| *wrong).map(|(_, text)| text.to_string());
    wrong_count.into_iter().chain(broken).collect()
}

fn load(description: &Description, words: &channel_file::commissioning::Load) -> Result<Load, String> {
    if description.gauge.gauge_factor_refers_to == Basis::FreeFoil {
        return Err("a loaded run does not give a gauge factor that refers to the free foil".to_string());
    }
    match (&words.strain_column, words.strain_microstrain) {
        (Some(column), None) => Ok(Load::Column(column.clone())),
        (None, Some(strain)) if (1.0..=62_500.0).contains(&strain.abs()) => {
            Ok(Load::All(Microstrain(strain)))
        }
        (None, Some(strain)) => {
            Err(format!("strain_microstrain is {strain}, allowed: 1 to 62500, either way"))
        }
        _ => Err("needs one of strain_column and strain_microstrain".to_string()),
    }
}

fn run_source(words: &Commissioning) -> Result<RunSource, String> {
    match (&words.run_strain_column, words.run_gauge_factor) {
        (None, None) => Ok(RunSource::OwnColumn),
        (Some(column), Some(factor)) if (0.1..=500.0).contains(&factor) => {
            Ok(RunSource::Strain(column.clone(), GaugeFactor(factor)))
        }
        (Some(_), Some(factor)) => Err(format!("run_gauge_factor is {factor}, allowed: 0.1 to 500")),
        _ => Err("run_strain_column and run_gauge_factor go together".to_string()),
    }
}

fn check_uncertainty(words: &Uncertainty) -> Vec<String> {
    [
        ("temperature_c", words.temperature_c, 100.0),
        ("gauge_factor_percent", words.gauge_factor_percent, 50.0),
        ("gauge_factor_slope_percent_per_100_c", words.gauge_factor_slope_percent_per_100_c, 100.0),
        ("reading_microstrain", words.reading_microstrain, 1e5),
    ]
    .into_iter()
    .filter_map(|(name, number, most)| {
        let number = number.filter(|number| !(0.0..=most).contains(number))?;
        Some(format!("[channel.commissioning.uncertainty]: {name} is {number}, allowed: 0 to {most}"))
    })
    .collect()
}

/// With the match that the gauge has, so that staying is always compared.
fn sorted(mut offers: Vec<f64>, present: Option<f64>) -> Vec<ExpansionPerCelsius> {
    if !offers.is_empty() {
        offers.extend(present);
    }
    offers.sort_by(f64::total_cmp);
    offers.dedup();
    offers.into_iter().map(ExpansionPerCelsius::ppm).collect()
}
