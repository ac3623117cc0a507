//! The first check: whether the wiring is in order and the span is right, by the library's `installation`, from codes at rest
//! and with the shunt; and what leads do that get warmer.

use crate::bench::Bench;
use crate::job::Job;
use gaugewright::error::Field;
use gaugewright::installation::{Diagnosis, LeadEffect, ShuntEffect};
use gaugewright::units::{Celsius, Percent};
use gaugewright::{Channel, Error};
use host::channel_file::on_site::Shunt;
use host::keys::{told, told_on_site};
use host::on_site::shunt;

/// What the scatter of the codes may leave open of the span: as much as the tolerance of a usual resistor for it (common practice, no
/// source).
const MOST_BY_SCATTER: f64 = 0.001;

pub struct Installation {
    pub at_rest: Option<AtRest>,
    pub shunted: Option<Shunted>,
    /// Of one degree; none where the bridge is not known.
    pub leads: Option<LeadEffect>,
}

/// What the channel read before the run, without load.
pub struct AtRest {
    pub mean: Mean,
    /// None where no tolerance of the resistors is stated.
    pub diagnosis: Option<(Percent, Diagnosis)>,
}

/// The change of code when the shunt was switched on.
pub struct Shunted {
    pub expected: ShuntEffect,
    pub observed: f64,
    /// Its standard uncertainty, from the scatter of the codes.
    pub uncertainty: f64,
    /// How far the change may be off, as a part of it: by the resistor's tolerance; as it is not stated which resistor takes the bridge
    /// out of balance; by two standard uncertainties of the codes.
    pub explained: [f64; 3],
    /// The correction of the span, or why the change is none of the shunt.
    pub span: Result<f64, Error>,
    /// Of the channel file.
    pub stated: f64,
}

/// Of codes.
#[derive(Clone, Copy)]
pub struct Mean {
    pub code: f64,
    pub count: usize,
    /// Standard deviation of one of them.
    scatter: f64,
    rails: Option<(f64, f64)>,
    /// One at a rail, if there is.
    at_rail: Option<i32>,
}

impl Installation {
    /// # Errors
    /// What the library refuses.
    pub fn of(job: &Job, bench: &Bench) -> Result<Self, String> {
        let channel = &bench.channel;
        let description = &job.description;
        let plain = |error| told(description, error);
        let site = description.on_site.as_ref();
        let rails = bench.rails;
        let at_rest = job.at_rest_codes.as_ref().map(|codes| Mean::of(codes, rails));
        let tolerance = site.and_then(|site| site.resistor_tolerance_percent).map(Percent);
        let words = site.and_then(|site| site.shunt.as_ref());
        let shunted = match (&at_rest, &job.shunted_codes, words) {
            (Some(without), Some(codes), Some(words)) => {
                let with = Mean::of(codes, rails);
                let told = |error| format!("shunt of [channel.on_site]: {}", told_on_site(error));
                Some(Shunted::of(job, channel, words, [*without, with]).map_err(told)?)
            }
            _ => None,
        };
        let at_rest = at_rest.map(|mean| -> Result<AtRest, String> {
            let code = mean.at_rail.unwrap_or(mean.code.round() as i32);
            let diagnosis = tolerance.map(|it| Ok((it, channel.diagnose(code, it)?))).transpose();
            let told = |error: Error| format!("resistor_tolerance_percent of [channel.on_site]: {error}");
            Ok(AtRest { mean, diagnosis: diagnosis.map_err(told)? })
        });
        let leads = description.bridge.as_ref().map(|_| channel.lead_effect(Celsius(1.0)).map_err(plain));
        Ok(Self { at_rest: at_rest.transpose()?, shunted, leads: leads.transpose()? })
    }

    /// What is wrong, a sentence each.
    pub fn findings(&self) -> Vec<String> {
        let mut findings = Vec::new();
        if let Some((tolerance, diagnosis)) = self.at_rest.as_ref().and_then(|it| it.diagnosis.as_ref()) {
            let faults: Vec<String> =
                diagnosis.explaining().map(|finding| finding.fault.to_string()).collect();
            let why = match (faults.is_empty(), diagnosis.off_nominal) {
                (false, _) => format!("explained by: {}", faults.join(", ")),
                (true, Some(off)) => format!(
                    "no fault of the wiring explains it; the gauge of arm 1 alone would be {:+.2} % off",
                    off.0
                ),
                (true, None) => "no fault of the wiring explains it".to_string(),
            };
            if !diagnosis.healthy {
                findings.push(format!(
                    "at rest the channel reads {}{:.4} mV/V, which a bridge with resistors within {} % does not give: {why}",
                    if diagnosis.at_rail { "a rail of the converter, beyond " } else { "" },
                    1e3 * diagnosis.ratio.0,
                    tolerance.0
                ));
            }
        }
        if let Some((shunted, error)) = self.shunted.as_ref().and_then(|it| Some((it, it.span.err()?))) {
            let (expected, observed) = (shunted.expected.codes, shunted.observed);
            let is_at_rail =
                matches!(error, Error::Invalid { field: Field::BalanceCode | Field::ShuntCode, .. });
            let why = if is_at_rail {
                ""
            } else if observed.abs() < 0.01 * expected.abs() {
                ": the shunt is not connected, or nothing is excited"
            } else if observed * expected < 0.0 {
                ": the wrong sign, as where OUT+ and OUT- are exchanged or the shunt is across another arm"
            } else {
                ""
            };
            findings.push(format!("with the shunt, {error}{why}"));
        }
        if let Some(shunted) = self.shunted.as_ref().filter(|it| it.explained[2] > MOST_BY_SCATTER) {
            findings.push(format!(
                "the codes at rest or with the shunt scatter so much that {:.2} % of the span stay open ({:.2} % at most): one of \
                 them does not belong there, or a load changed meanwhile",
                100.0 * shunted.explained[2],
                100.0 * MOST_BY_SCATTER
            ));
        }
        findings
    }

    /// The mean of the codes at rest, unless they are those of a fault.
    pub fn sound_rest(&self) -> Option<&Mean> {
        let at_rest = self.at_rest.as_ref()?;
        let is_healthy = at_rest.diagnosis.as_ref().is_none_or(|(_, diagnosis)| diagnosis.healthy);
        (is_healthy && at_rest.mean.at_rail.is_none()).then_some(&at_rest.mean)
    }

    /// The span that takes the place of the stated one: where it differs by more than can be explained.
    pub fn new_span(&self) -> Option<f64> {
        let shunted = self.shunted.as_ref()?;
        let span = *shunted.span.as_ref().ok()?;
        (f64::abs(span / shunted.stated - 1.0) > shunted.allowance()).then_some(span)
    }
}

impl Shunted {
    fn of(job: &Job, channel: &Channel, words: &Shunt, [without, with]: [Mean; 2]) -> Result<Self, Error> {
        let shunt = shunt(words);
        let expected = shunt.effect(&channel.span_correction(1.0))?;
        let observed = with.code - without.code;
        let uncertainty = with.uncertainty().hypot(without.uncertainty());
        let description = &job.description;
        let bridge = description.bridge.as_ref();
        let is_solved =
            bridge.is_none_or(|it| it.completion_ohm.is_none() || it.reference_half_ohm.is_none());
        // As the library has it of a shunt: four times the ratio at rest.
        let unbalance = without.code * expected.ratio.0 / expected.codes;
        let explained = [
            (expected.uncertainty.0 / expected.indicated.0).abs(),
            if is_solved { 4.0 * unbalance.abs() } else { 0.0 },
            2.0 * (uncertainty / expected.codes).abs(),
        ];
        let stated =
            description.converter.as_ref().and_then(|converter| converter.span_correction).unwrap_or(1.0);
        let range = description.on_site.as_ref().and_then(|site| site.span_correction_within);
        let [low, high] = range.unwrap_or([stated; 2]);
        let allowance: f64 = explained.iter().sum();
        // What the stated span or one of the range can be taken for, and no more than the library takes.
        let low = (low.min(stated) * (1.0 - allowance)).max(0.8);
        let high = (high.max(stated) * (1.0 + allowance)).min(1.2);
        let at_rail = [(Field::BalanceCode, without), (Field::ShuntCode, with)]
            .into_iter()
            .find_map(|(field, mean)| Some((field, mean.at_rail?, mean.rails?)));
        let span = match at_rail {
            Some((field, code, (low, high))) => {
                let (low, high) = (low + 1.0, high - 1.0);
                Err(Error::Invalid { field, value: f64::from(code), low, high })
            }
            None => match expected.codes / observed {
                span if (low..=high).contains(&span) => Ok(span),
                value => Err(Error::Invalid { field: Field::SpanCorrection, value, low, high }),
            },
        };
        Ok(Self { expected, observed, uncertainty, explained, span, stated })
    }

    /// Of the span, as a part of it: what is explained as limits either way, the scatter of the codes as it is.
    pub fn standard_uncertainty(&self) -> f64 {
        let [tolerance, unbalance, twice_scatter] = self.explained;
        (tolerance / 3.0_f64.sqrt()).hypot(unbalance / 3.0_f64.sqrt()).hypot(twice_scatter / 2.0)
    }

    /// All that a span may be off by and be right.
    pub fn allowance(&self) -> f64 {
        self.explained.iter().sum()
    }
}

impl Mean {
    fn of(codes: &[i32], rails: Option<(f64, f64)>) -> Self {
        let count = codes.len();
        let sum: i64 = codes.iter().map(|&code| i64::from(code)).sum();
        let code = sum as f64 / count as f64;
        let squares: f64 = codes.iter().map(|&it| (f64::from(it) - code).powi(2)).sum();
        let is_at_rail = |code: &&i32| {
            rails.is_some_and(|(low, high)| f64::from(**code) <= low || f64::from(**code) >= high)
        };
        Self {
            code,
            count,
            scatter: if count > 1 { (squares / (count - 1) as f64).sqrt() } else { 0.0 },
            rails,
            at_rail: codes.iter().find(is_at_rail).copied(),
        }
    }

    pub fn uncertainty(&self) -> f64 {
        self.scatter / (self.count as f64).sqrt()
    }
}
