//! What the firmware of `tests/on-target` reports, judged.

use std::path::Path;

use crate::cores::Core;
use crate::cycles;
use crate::elf::Sizes;
use crate::emulator::{Firmware, read};
use crate::notebooks;
use crate::results::{Line, differences};
use crate::wording::{as_displayed, normal};
use on_target::channels::CHANNELS;
use on_target::thermometers::{PLATINUM_FIXED, PLATINUM_IN_C};
use on_target::{commissioning, sweep, thermometers, values};

/// Lines of results, and what is wrong.
#[derive(Default)]
pub struct Judged {
    pub lines: Vec<Line>,
    pub wrong: Vec<String>,
    /// In one sentence.
    pub summary: String,
    /// That built the firmware.
    pub compiler: String,
}

/// Runs all three on a core, from its folder.
pub fn check(core: &Core, folder: &Path) -> Result<Judged, String> {
    // What is measured is in two firmwares: the paths of each are in its own ELF.
    let (mut report, mut judged) = (Vec::new(), Judged::default());
    for name in ["on-target", "commissioning"] {
        let firmware = Firmware { core, elf: folder.join(name) };
        let sizes = Sizes::of(&firmware.elf)?;
        let lines = firmware.report(&[])?;
        count(core, &lines, &sizes, &mut judged)?;
        cycles::add(&firmware, &sizes, &mut judged.lines)?;
        judged.compiler = sizes.compiler;
        report.extend(lines);
    }
    judged.wrong.extend(cycles::unpriced(core, &judged.lines));
    report.extend(Firmware { core, elf: folder.join("values") }.report(&[])?);
    let calibration =
        report.iter().find_map(|line| line.strip_prefix("calibration ")).unwrap_or("is missing");
    let of = |kind: &str| {
        let prefix = format!("{kind} ");
        report
            .iter()
            .filter_map(move |line| line.strip_prefix(&prefix).map(str::to_owned))
            .collect::<Vec<_>>()
    };
    let wrong = &mut judged.wrong;
    wrong.extend(report.iter().filter(|line| line.starts_with("vectors: ")).cloned());
    if !is_calibrated(calibration) {
        wrong.push(format!("instructions are not counted right: {calibration}"));
    }
    let (vectors, sweeps, words) = (vectors()?, sweeps(), values::words(as_displayed));
    let expected = vectors.map(|count| format!("{count} of {count}"));
    wrong.extend(differences("vectors", &expected, &of("vectors")));
    wrong.extend(differences("compiled on target", &compiled(), &of("compiled")));
    wrong.extend(differences("sweep", &sweeps, &of("sweep")));
    let normal = |words: &[String]| words.iter().map(|words| normal(words)).collect::<Vec<_>>();
    wrong.extend(differences("defmt", &normal(&words), &normal(&of("value"))));
    judged.summary = format!(
        "{}: {} committed vectors, {} channels compiled there as here, {} sweeps of {} inputs with the host's hashes, {} \
         values through defmt",
        core.name,
        vectors.iter().sum::<usize>(),
        CHANNELS.len(),
        sweeps.len(),
        sweep::of(0).inputs,
        words.len(),
    );
    Ok(judged)
}

/// The lines of results of a report, each with the code of its path.
fn count(core: &Core, report: &[String], sizes: &Sizes, judged: &mut Judged) -> Result<(), String> {
    for words in report.iter().filter_map(|line| line.strip_prefix("count ")) {
        let (kernel, figures) = words.split_once(' ').ok_or("a count without figures")?;
        let mut line = Line::parse(kernel, core.name, figures)?;
        let code = sizes.code(kernel)?;
        let place = line.figures.iter().position(|(name, _)| name == "kernel").ok_or("no kernel size")?;
        line.set(place, "code", code.within as f64);
        // The table looks up an index, so that it shows that a panic is seen.
        if code.can_panic != kernel.starts_with("peer_table") {
            let word = if code.can_panic { "can" } else { "cannot" };
            judged.wrong.push(format!("{line}: its code {word} panic"));
        }
        if code.outside > 0 {
            line.set(place + 1, "outside", code.outside as f64);
        }
        // What they take in place of the compiler of channels and of the solution of a network, and what a record takes at a start.
        let whole = ["adjusted", "_check", "record_read"];
        if whole.iter().any(|part| kernel.contains(part)) {
            line.set(place + 1, "linked", code.linked as f64);
        }
        for (name, bound) in bounds(kernel) {
            let error = line.figure(name).ok_or_else(|| format!("{kernel}: no {name}"))?;
            if error > bound || error == 0.0 {
                judged.wrong.push(format!("{line}: {name} is {error} nanostrain, the bound {bound}"));
            }
        }
        judged.lines.push(line);
    }
    Ok(())
}

/// A stretch of known length: `known=N counted=M`, which may differ by a tick of the timer and the calls around it.
fn is_calibrated(words: &str) -> bool {
    let line = Line::parse("calibration", "", words);
    let figure = |name: &str| line.as_ref().ok()?.figure(name);
    match (figure("known"), figure("counted")) {
        (Some(known), Some(counted)) => known > 1e5 && (counted / known - 1.0).abs() < 1e-3,
        _ => false,
    }
}

/// The certified bounds on the two channels, of the paths that have one and tell their error.
fn bounds(kernel: &str) -> Vec<(&'static str, f64)> {
    let (wide, mild) = (notebooks::channel(&notebooks::WIDE), notebooks::channel(&notebooks::MILD));
    let fixed =
        [("wide", wide.fixed::<4, 1, 0>().error_bound()), ("mild", mild.fixed::<4, 1, 0>().error_bound())];
    let single = [
        ("wide", wide.float32::<4, 1, 0>().error_bound()),
        ("mild", mild.float32::<4, 1, 0>().error_bound()),
    ];
    let of = |bounds: [(&'static str, gaugewright::kernel::ErrorBound); 2], point: bool| {
        let path = |bound: gaugewright::kernel::ErrorBound| if point { bound.point } else { bound.reading };
        bounds.map(|(name, bound)| (name, path(bound).total.0)).to_vec()
    };
    match kernel {
        "fixed_reading" => of(fixed, false),
        "fixed_point" => of(fixed, true),
        "f32_reading" => of(single, false),
        "f32_point" => of(single, true),
        _ => Vec::new(),
    }
}

/// Lines of committed results: of channels, of paths in the first firmware, and in the second.
fn vectors() -> Result<[usize; 3], String> {
    let lines = |name: &str| {
        let text = read(&Path::new("tests/data").join(name))?;
        let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1);
        Ok::<_, String>(rows.map(str::to_owned).collect::<Vec<_>>())
    };
    let paths = lines("paths.csv")?;
    let second = paths.iter().filter(|line| on_target::paths::is_in_second(line)).count();
    Ok([lines("vectors.csv")?.len(), paths.len() - second, second])
}

fn compiled() -> Vec<String> {
    let channels = CHANNELS.iter().map(|(name, _)| format!("{name} same=true blocks-differing=0"));
    let others = [
        "thermometers same=true",
        "points of the product cost the same=true",
        "record_read is written and read=true",
        "record_read_compensated is written and read=true",
    ];
    channels.chain(others.map(str::to_owned)).collect()
}

fn sweeps() -> Vec<String> {
    let channels = CHANNELS.iter().enumerate().map(|(i, (name, _))| (*name, sweep::of(i)));
    let all = channels.chain([("two temperatures", sweep::compensated())]);
    let strains = all.map(|(name, hashes)| {
        format!(
            "{name} inputs={} fixed={:016x} fixed-point={:016x} f32={:016x} f32-point={:016x}",
            hashes.inputs, hashes.fixed, hashes.fixed_point, hashes.single, hashes.single_point
        )
    });
    let thermometers = [
        ("platinum", thermometers::platinum(&PLATINUM_FIXED)),
        ("platinum in C", thermometers::platinum(&PLATINUM_IN_C)),
        ("thermocouple", thermometers::thermocouple()),
    ];
    let temperatures = thermometers.map(|(name, hashes)| {
        format!("{name} inputs={} fixed={:016x} f32={:016x}", hashes.inputs, hashes.fixed, hashes.single)
    });
    let (fit, uncertainty) = (commissioning::fit(), commissioning::uncertainty());
    let around = [
        format!("fit inputs={} f32={:016x} f64={:016x}", fit.inputs, fit.single, fit.double),
        format!(
            "uncertainty inputs={} fixed={:016x} f32={:016x} f64={:016x}",
            uncertainty.inputs, uncertainty.fixed, uncertainty.single, uncertainty.double
        ),
    ];
    strains.chain(temperatures).chain(around).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use on_target::channels::FIXED;

    #[test]
    fn a_wrong_clock_is_seen() {
        assert!(is_calibrated("known=200000 counted=200080"));
        assert!(!is_calibrated("known=200000 counted=201000"));
        assert!(!is_calibrated("is missing"));
    }

    /// What is refused has a hash of zero, here as there, and no difference would be seen.
    #[test]
    fn fits_and_uncertainties_are_not_refused() {
        let lines = sweeps();
        for name in ["fit ", "uncertainty "] {
            let line = lines.iter().find(|line| line.starts_with(name)).unwrap();
            assert!(!line.contains("=0000000000000000") && !line.contains("inputs=0 "), "{line}");
        }
    }

    #[test]
    fn the_sweep_reaches_every_flag_and_hashes_tell_channels_apart() {
        for i in 0..CHANNELS.len() {
            let flags = |wanted| {
                sweep::inputs(&FIXED[i]).any(|(code, t)| FIXED[i].reading(code, t).flags.contains(wanted))
            };
            for (flag, name) in gaugewright::Flags::ALL {
                // A channel of no declared strain has no strain outside; how old a temperature is, no kernel has.
                let is_possible = match flag {
                    gaugewright::Flags::STRAIN_OUTSIDE => CHANNELS[i].0 != "coarse codes",
                    gaugewright::Flags::TEMPERATURE_DOUBTFUL => false,
                    _ => true,
                };
                assert_eq!(flags(flag), is_possible, "{}: {name}", CHANNELS[i].0);
            }
            assert_eq!(sweep::blocks_that_differ(i), 0);
        }
        let lines = sweeps();
        for i in 1..lines.len() {
            assert!(
                lines[..i].iter().all(|line| line.split("fixed=").nth(1) != lines[i].split("fixed=").nth(1))
            );
        }
    }
}
