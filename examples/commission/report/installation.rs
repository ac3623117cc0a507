//! The part of the report that says whether the wiring is in order and the span is right.

use super::line;
use crate::installation::Installation;
use crate::job::Job;
use gaugewright::installation::Diagnosis;
use host::channel_file::on_site::Place;
use std::fmt::{Formatter, Result};

pub fn write(f: &mut Formatter<'_>, job: &Job, installation: &Installation) -> Result {
    writeln!(f, "\ninstallation, before the run")?;
    match &installation.at_rest {
        None => line(f, "at rest", "not checked: at_rest_codes is not stated")?,
        Some(at_rest) => {
            let mean = format!("code {:.2}, mean of {}", at_rest.mean.code, at_rest.mean.count);
            match &at_rest.diagnosis {
                None => line(
                    f,
                    "at rest",
                    &format!("{mean}; wiring not checked: resistor_tolerance_percent is not stated"),
                )?,
                Some((tolerance, diagnosis)) => {
                    let verdict = if diagnosis.healthy {
                        format!("a bridge in order, with resistors within {} %", tolerance.0)
                    } else {
                        "a fault, see above".to_string()
                    };
                    let ratio = 1e3 * diagnosis.ratio.0;
                    line(f, "at rest", &format!("{mean}, {ratio:.4} mV/V: {verdict}"))?;
                    let shunt_answers = installation.shunted.as_ref().is_some_and(|it| it.span.is_ok());
                    line(f, "faults", &faults(diagnosis, shunt_answers))?;
                }
            }
        }
    }
    match (&installation.shunted, job.description.on_site.as_ref().and_then(|site| site.shunt.as_ref())) {
        (Some(shunted), Some(words)) => {
            let place = if words.at == Place::Gauge { "gauge" } else { "instrument" };
            let what = format!(
                "{} ohm across arm {} at the {place}, within {} %",
                words.ohm,
                words.arm,
                words.tolerance_percent.unwrap_or(0.0)
            );
            line(f, "shunt", &what)?;
            let (expected, tolerance) = (shunted.expected.indicated, shunted.expected.uncertainty);
            let expected = format!(
                "expected: {:+.1} codes ({:.2} microstrain, within {:.2} by that tolerance)",
                shunted.expected.codes,
                expected.microstrain().0,
                tolerance.microstrain().0
            );
            line(f, "", &expected)?;
            let observed = format!(
                "observed: {:+.1} codes, standard uncertainty {:.1}",
                shunted.observed, shunted.uncertainty
            );
            line(f, "", &observed)?;
            let [tolerance, unbalance, scatter] = shunted.explained.map(|part| 100.0 * part);
            let explained = format!(
                "{:.3} % are explained: {tolerance:.3} by the tolerance, {unbalance:.3} because the resistor that unbalances \
                 the bridge is not known, {scatter:.3} by the scatter of the codes",
                100.0 * shunted.allowance()
            );
            let text = match (&shunted.span, installation.new_span()) {
                (Err(_), _) => format!("not known, see above; {explained}"),
                (Ok(span), Some(_)) => format!("{span:.6} in place of {}; {explained}", shunted.stated),
                (Ok(span), None) => {
                    format!("{span:.6} by the shunt; {} stays; {explained}", shunted.stated)
                }
            };
            line(f, "span", &text)?;
        }
        _ => line(f, "shunt", "not checked: shunted_codes is not stated")?,
    }
    match &installation.leads {
        Some(effect) => line(
            f,
            "leads",
            &format!(
                "each C that they are warmer than at balance: {:+.4} microstrain, {:+.4} % of sensitivity",
                effect.indicated.microstrain().0,
                100.0 * effect.sensitivity
            ),
        ),
        None => line(f, "leads", "not known: the bridge of an instrument's readings is not stated"),
    }
}

/// Faults that read as the bridge does, and those of which a reading at rest says nothing.
fn faults(diagnosis: &Diagnosis, shunt_answers: bool) -> String {
    use gaugewright::installation::Verdict;
    let of = |verdict: Verdict| -> Vec<String> {
        let found = diagnosis.findings().filter(|finding| finding.verdict == verdict);
        found.map(|finding| finding.fault.to_string()).collect()
    };
    let (alike, unseen) = (of(Verdict::Consistent), of(Verdict::Inconclusive));
    let mut text = match alike.is_empty() {
        true => "none reads like this".to_string(),
        false => format!("read like this: {}", alike.join(", ")),
    };
    if !unseen.is_empty() {
        text += &format!("; not seen at rest: {}", unseen.join(", "));
    }
    if shunt_answers && !(alike.is_empty() && unseen.is_empty()) {
        text += "; the shunt excludes them";
    }
    text
}
