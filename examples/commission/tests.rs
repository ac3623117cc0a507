//! The demonstration's files, and the channel file as it is written.

use crate::bench::{Bench, commissioned};
use crate::fitted::Fitted;
use crate::job::Job;
use crate::options::Options;
use crate::run::{Point, Value};
use crate::{chamber, demo, package};
use clap::Parser;
use gaugewright::commissioning::fit::Direction;
use gaugewright::units::{Celsius, Microstrain};
use host::channel_file::{Problem, parse};
use host::simulation;

const FLIGHT: &str = include_str!("../replay/flight.toml");

fn job(text: &str, options: &[&str]) -> Result<Job, Vec<Problem>> {
    let mut jobs = Job::all(parse(text)?, &Options::parse_from(["commission"].iter().chain(options)))?;
    Ok(jobs.remove(0))
}

#[test]
fn the_keel_is_that_of_the_flight() {
    let keel = job(demo::CHANNELS, &[]).unwrap().description;
    let flight = parse(FLIGHT).unwrap().channels.into_iter().find(|it| it.name == keel.name).unwrap();
    let (ours, theirs) = (keel.gauge, flight.gauge);
    assert_eq!(ours.gauge_factor, theirs.gauge_factor);
    assert_eq!(ours.gauge_factor_slope_percent_per_100_c, theirs.gauge_factor_slope_percent_per_100_c);
    assert_eq!(ours.matched_expansion_ppm_per_c, theirs.matched_expansion_ppm_per_c);
    let curve = |gauge: Option<host::channel_file::ThermalOutput>| gauge.unwrap().coefficients;
    assert_eq!(curve(ours.thermal_output), curve(theirs.thermal_output));
    assert_eq!(keel.specimen_expansion_ppm_per_c, flight.specimen_expansion_ppm_per_c);
    let balance = keel.balance.unwrap();
    assert_eq!(balance.code, flight.balance.unwrap().code);
    let notes = simulation::balance_codes();
    let note = notes.iter().find(|note| note.channel == keel.name).unwrap();
    assert_eq!((balance.code, balance.temperature_c), (Some(f64::from(note.code)), note.celsius));
}

#[test]
fn the_codes_before_the_run_are_those_of_the_bridge() {
    let job = job(demo::CHANNELS, &[]).unwrap();
    let [at_rest, shunted] = chamber::codes_before_the_run().map(Vec::from);
    assert_eq!((job.at_rest_codes.unwrap(), job.shunted_codes.unwrap()), (at_rest, shunted));
}

/// Points of a parabola, without scatter but for a saw of a tenth.
fn points() -> Vec<Point> {
    let point = |k: u32| {
        let celsius = f64::from(k) * 4.0 - 86.0;
        let saw = if k.is_multiple_of(2) { 0.1 } else { -0.1 };
        Point {
            line: u64::from(k),
            time: f64::from(k),
            temperature: Celsius(celsius),
            reading: Microstrain(2.0 * celsius - 0.01 * celsius * celsius + saw),
            applied: Microstrain(0.0),
            sweep: Direction::Heating,
        }
    };
    (0..=48).map(point).collect()
}

#[test]
fn only_the_curve_of_the_channel_changes() {
    let job = job(FLIGHT, &["--channel", "fitting_keel"]).unwrap();
    let bench = Bench::of(&job).unwrap();
    let fitted = Fitted::of(&job, bench.run_factor, points()).unwrap();
    let found = package::Found { job: &job, fitted: &fitted, loaded: None, new_span: None, run: "points" };
    let written = found.commissioned(FLIGHT).unwrap();
    let lost: Vec<&str> =
        FLIGHT.lines().filter(|line| !written.text.lines().any(|other| other == *line)).collect();
    // The parabola has taken the place of the package's curve, and the part's own expansion is in it.
    assert_eq!(lost.len(), 2, "{lost:?}");
    assert!(lost[0].starts_with("specimen_expansion_ppm_per_c = 10.1"), "{lost:?}");
    assert_eq!(lost[1], "coefficients = [-32.9603, 2.70279, -0.0608708, 2.33371e-4, -1.62185e-7]");
    let channel = commissioned(&written.text, job.index).unwrap();
    assert!(channel.others.is_empty());
    let gauge = parse(&written.text).unwrap().channels.swap_remove(job.index).gauge;
    let curve = gauge.thermal_output.unwrap();
    assert_eq!(curve.fitted_between, [-86.0, 106.0]);
    assert_eq!(curve.stated_for_gauge_factor, Some(2.045));
    // As it was fitted, to the last bit.
    assert_eq!(curve.coefficients, fitted.curve.polynomial().coefficients()[..3]);
    assert_eq!(gauge.matched_expansion_ppm_per_c, Some(9.0));
}

#[test]
fn a_strain_is_indicated_as_the_channel_reads_it() {
    let keel = demo::CHANNELS
        .replace("run_strain_column = \"fitting_keel_reading_microstrain\"\n", "")
        .replace("run_gauge_factor = 2.0\n", "");
    let bench = Bench::of(&job(&keel, &[]).unwrap()).unwrap();
    assert_eq!(bench.indicated(Value::Strain(Microstrain(3.5))), Microstrain(3.5));
    assert!(bench.indicated(Value::Code(454_192.0)).0.abs() < 1e-9);
    assert_eq!(bench.run_factor.0, 2.045);
    assert_eq!(bench.rails, Some((-8_388_608.0, 8_388_607.0)));
    assert_eq!(chamber::INSTRUMENT_FACTOR, 2.0);
}
