//! A report in order passes, and every fault that is planted in one is found out.

use super::super::line::{Corrected, Line};
use super::super::{STEPS, expected, judge};
use super::host::report;

#[test]
fn the_scenario_on_the_host_is_in_order() {
    let judged = judge::present(&report(&STEPS), &STEPS).unwrap();
    // 60 are due; one falls on an unread code, two into the gap of the queue.
    assert_eq!(judged.strains, 57);
    let absent = judge::absent(&report(&[])).unwrap();
    assert_eq!(absent.totals.get("uncorrected"), 1427);
}

#[test]
fn the_scenario_counts_what_one_counts_by_hand() {
    let states = expected::run(true);
    let of = |name: &str| states.last().unwrap().counts.iter().find(|(known, _)| *known == name).unwrap().1;
    // 40, 20 and 100 samples with a temperature due at each tenth.
    assert_eq!([of("address_refused"), of("data_refused"), of("bus")], [4, 2, 10]);
    // Read at 490, too old from 541 on, read again at 600.
    assert_eq!(of("stale"), 59);
    assert_eq!([of("at_rail"), of("unread")], [50, 5]);
    // 901 to 999 are due while 900 is at work, and 31 of them fit.
    assert_eq!(of("overrun"), 99 - 31);
    assert_eq!(of("missing"), 5 + 68);
}

/// What the judge says of a report with the first line for which `plant` gives another one.
fn judged_with(plant: impl Fn(&str) -> Option<String>) -> Result<(), String> {
    let mut lines = report(&STEPS);
    let (place, planted) = lines
        .iter()
        .enumerate()
        .find_map(|(i, line)| Some((i, plant(line)?)))
        .expect("the report has such a line");
    assert_ne!(lines[place], planted);
    lines[place] = planted;
    judge::present(&lines, &STEPS).map(|_| ())
}

#[track_caller]
fn is_found_out(from: &str, to: &str) {
    let error = judged_with(|line| line.contains(from).then(|| line.replacen(from, to, 1))).unwrap_err();
    assert!(error.contains("has to be"), "{error}");
}

#[test]
fn a_wrong_temperature_is_found_out() {
    // The temperature that the strain was not made for, by the smallest step.
    is_found_out("sixteenths=-640", "sixteenths=-641");
    is_found_out("sixteenths=89", "sixteenths=88");
    // The strain that another temperature gives.
    is_found_out("sixteenths=960", "sixteenths=320");
}

#[test]
fn a_temperature_that_never_came_is_found_out() {
    let stuck: Vec<_> = STEPS.iter().map(|_| super::super::Step { given: 21_000, shown: 336 }).collect();
    let error = judge::present(&report(&stuck), &STEPS).unwrap_err();
    assert!(error.contains("has to be"), "{error}");
}

#[test]
fn a_wrong_strain_is_found_out() {
    let one_more = |line: &str| match Line::parse(line) {
        Ok(Line::Corrected(Corrected { bits, .. })) => {
            Some(line.replace(&format!("bits={bits}"), &format!("bits={}", bits + 1)))
        }
        _ => None,
    };
    assert!(judged_with(one_more).unwrap_err().starts_with("strain's bits"));
    is_found_out("nanostrain=-", "nanostrain=");
}

#[test]
fn faults_that_are_hushed_up_are_found_out() {
    is_found_out("stale=true", "stale=false");
    is_found_out("flags=code at rail", "flags=clear");
    is_found_out("flags=temperature outside", "flags=clear");
    is_found_out(" overrun=68", " overrun=67");
    is_found_out(" unread=5", " unread=0");
    is_found_out(" address_refused=4", " address_refused=3");
    is_found_out(" data_refused=2", " data_refused=1");
    is_found_out(" bus=10", " bus=0");
    is_found_out(" stale=59", " stale=58");
    is_found_out("in all: samples=1427", "in all: samples=1428");
    is_found_out(" other=0", " other=1");
}

#[test]
fn a_line_that_is_missing_or_garbled_is_found_out() {
    let whole = report(&STEPS);
    for gone in [0, 1, 40, 41, whole.len() - 1] {
        let mut lines = whole.clone();
        lines.remove(gone);
        assert!(judge::present(&lines, &STEPS).is_err(), "line {gone}");
    }
    let mut lines = whole.clone();
    lines.push(whole[0].clone());
    assert!(judge::present(&lines, &STEPS).is_err());
    assert!(judge::present(&whole[..10], &STEPS).is_err());
    assert!(Line::parse("corrected sequence=1 code=2").is_err());
    assert!(Line::parse("panic: somewhere").is_err());
}

#[test]
fn a_strain_without_a_thermometer_is_found_out() {
    assert!(judge::absent(&report(&STEPS)).is_err());
    assert!(judge::present(&report(&[]), &STEPS).is_err());
}

#[test]
fn strains_that_do_not_follow_thermal_output_are_found_out() {
    let lines: Vec<Corrected> = report(&STEPS)
        .iter()
        .filter_map(|line| match Line::parse(line) {
            Ok(Line::Corrected(line)) => Some(line),
            _ => None,
        })
        .collect();
    let judge_all =
        |lines: &[Corrected]| judge::thermal_output_between_temperatures(&lines.iter().collect::<Vec<_>>());
    assert!(judge_all(&lines).unwrap() < 1.0);
    // As if all were made at one temperature, and off by two nanostrain in one place.
    let mut uncorrected = lines.clone();
    for line in &mut uncorrected {
        line.bits = lines.iter().find(|other| other.code == line.code).unwrap().bits;
    }
    assert!(judge_all(&uncorrected).is_err());
    let mut off = lines;
    off[4].bits += 34;
    assert!(judge_all(&off).is_err());
}
