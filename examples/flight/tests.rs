//! The stream against the CSV it is made from, and the command line.

use crate::options::Options;
use gaugewright::fixed::Temperature;
use gaugewright::units::Celsius;
use host::simulation;
use host::stream::Header;
use host::stream_of_csv::stream;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// What stands in the columns of raw sensors in [`one_row`].
const RAW: [(&str, &str); 4] = [
    ("strut_south_ohm", "102.5"),
    ("strut_south_pair_ohm", "2.5"),
    ("valve_body_millivolt", "0"),
    ("valve_body_cold_junction_celsius", "-10"),
];

/// The header and one row, with the numbers of the row in order: 1, 2, 3 and so on, but for raw sensors.
fn one_row() -> String {
    let header = simulation::header();
    let mut plain = 0..;
    let cell = |name: &str| match RAW.iter().find(|(raw, _)| *raw == name) {
        Some((_, cell)) => cell.to_string(),
        None => plain.next().unwrap_or(0).to_string(),
    };
    let cells: Vec<String> = header.split(',').map(cell).collect();
    format!("# said before\n{header}\n{}\n", cells.join(","))
}

fn refused(text: &str) -> String {
    stream(text.as_bytes()).unwrap_err().to_string()
}

/// Every number of the stream. The temperatures of raw sensors are compared with those of replay by its tests; here they
/// are only near to what a thermometer beside them says.
#[test]
fn the_stream_holds_the_rows_of_the_csv() {
    let mut csv = Vec::new();
    simulation::write_rows(&mut csv, simulation::Noise::Flown, &mut |_| ()).unwrap();
    let stream = stream(csv.as_slice()).unwrap();

    let (header, rows) = stream.split_first_chunk().unwrap();
    let header = Header::from_bytes(header).unwrap();
    assert_eq!(header, Header { rows: 52_000, bytes_per_row: 68, rows_per_second: 5 });
    assert_eq!(rows.len(), 52_000 * 68);
    let mut numbers = rows.chunks_exact(4).map(|bytes| i32::from_le_bytes(bytes.try_into().unwrap()));

    let mut table = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(csv.as_slice());
    let names = table.headers().unwrap().clone();
    let (mut codes, mut temperatures, mut raw) = (0, 0, 0);
    for row in table.records() {
        for (name, cell) in names.iter().zip(&row.unwrap()) {
            if RAW.iter().any(|(raw, _)| *raw == name) {
                // They stand in the stream in place of the column before them.
                assert!(!cell.is_empty(), "{name}");
                continue;
            }
            if name.ends_with("_code") {
                assert_eq!(numbers.next(), Some(cell.parse().unwrap()), "{name}");
                codes += 1;
            } else if name.ends_with("_celsius") {
                let celsius: f64 = cell.parse().unwrap();
                let bits = numbers.next().unwrap();
                if ["strut_south_celsius", "valve_body_celsius"].contains(&name) {
                    let apart: f64 = Temperature::from_bits(bits).celsius().0 - celsius;
                    // Seven deviations of the noise of both. Seen: 0.037.
                    assert!(apart.abs() < 0.06, "{name}: {apart}");
                    raw += 1;
                    continue;
                }
                assert_eq!(bits, Temperature::from_celsius(Celsius(celsius)).unwrap().to_bits(), "{name}");
                // Nothing was rounded on the way.
                assert_eq!(Temperature::from_bits(bits).celsius(), Celsius(celsius), "{name}");
                temperatures += 1;
            }
        }
    }
    assert_eq!(numbers.next(), None);
    assert_eq!((codes, temperatures, raw), (52_000 * 8, 52_000 * 7, 52_000 * 2));
}

#[test]
fn the_channels_stand_in_their_order_with_the_block_behind_its_gauge() {
    let stream = stream(one_row().as_bytes()).unwrap();
    let numbers: Vec<i32> = stream[Header::BYTES..]
        .chunks(4)
        .map(|bytes| i32::from_le_bytes(bytes.try_into().unwrap()))
        .collect();
    let celsius = |whole: i32| whole << 20;
    // In the CSV a cell with the true strain follows each channel.
    let plain = |first: i32| [first, celsius(first + 1)];
    // 100 ohm; no voltage, so as warm as its cold junction.
    let platinum = [4, 0];
    let thermocouple = [13, celsius(-10)];
    let spare = [16, celsius(17), celsius(18)];
    let expected = [&plain(1)[..], &platinum, &plain(7), &plain(10), &thermocouple, &spare].concat();
    assert_eq!(numbers[..13], expected);
    assert_eq!(numbers[13..], [plain(20), plain(23)].concat());
    let header = stream.first_chunk().unwrap();
    assert_eq!(Header::from_bytes(header).unwrap().rows, 1);
}

#[test]
fn a_text_that_is_not_of_the_flight_is_refused() {
    let good = one_row();
    // Line 3, behind an explanation and the header.
    for (from, to, expected) in [
        ("\n0,1,", "\n0,1.5,", "line 3: strut_north_code: not a code: \"1.5\""),
        ("\n0,1,", "\n0,2147483648,", "line 3: strut_north_code: not a code: \"2147483648\""),
        (",17,", ",17.001,", "strut_spare_celsius: not a temperature in steps of 2^-8 C: \"17.001\""),
        (",18,", ",nan,", "strut_spare_block_celsius: not a temperature in steps of 2^-8 C: \"nan\""),
        (",18,", ",2048,", "strut_spare_block_celsius: not a temperature in steps of 2^-8 C: \"2048\""),
        (",18,", ",", "line 3: 29 cells, not 30"),
        (
            ",102.5,",
            ",inf,",
            "line 3: strut_south_ohm: measured resistance (ohm) is inf, allowed: 2.5 to 100000000",
        ),
        (",102.5,", ",900,", "line 3: strut_south_ohm: resistance of the temperature sensor (ohm) is 897.5"),
        (",2.5,", ",two,", "line 3: strut_south_pair_ohm: not a number: \"two\""),
        (",0,-10,", ",60,-10,", "line 3: valve_body_millivolt: thermocouple EMF (mV) is 60"),
        (",0,-10,", ",0,0.001,", "valve_body_cold_junction_celsius: not a temperature in steps of 2^-8 C"),
        ("boom_root_celsius", "boom_root_kelvin", "its columns are not those of the flight"),
    ] {
        let bad = good.replace(from, to);
        assert_ne!(bad, good);
        assert!(refused(&bad).contains(expected), "{expected}\n{}", refused(&bad));
    }
    assert_eq!(refused("# a word\n"), "there is no header in it");
    // The smallest step from zero is none too small, and this not too cold.
    let far = good.replace(",17,", ",-2047,").replace(",18,", ",-0.00390625,");
    assert_ne!(stream(far.as_bytes()).unwrap(), stream(good.as_bytes()).unwrap());
}

#[test]
fn a_header_of_something_else_is_refused() {
    let header = Header { rows: 3, bytes_per_row: 68, rows_per_second: 5 };
    let bytes = header.to_bytes();
    assert_eq!(Header::from_bytes(&bytes), Ok(header));
    assert_eq!(bytes[..12], *b"gwflight\x01\0\0\0");
    let with = |place: usize| {
        let mut bytes = bytes;
        bytes[place] ^= 1;
        Header::from_bytes(&bytes)
    };
    assert_eq!(with(7), Err("not the stream of a flight"));
    assert_eq!(with(11), Err("the stream of a flight, in another version of the format"));
}

#[test]
fn options_are_taken_in_any_order_and_the_wrong_ones_named() {
    let of = |arguments: &[&str]| Options::of(arguments.iter().map(OsString::from));
    let none = of(&[]).unwrap();
    assert_eq!((none.out.as_path(), none.stream), (Path::new("target/flight.csv"), None));
    let both = Options {
        out: PathBuf::from("a"),
        stream: Some(PathBuf::from("b")),
        noise: simulation::Noise::Flown,
    };
    assert_eq!(of(&["--out", "a", "--stream", "b"]).as_ref(), Ok(&both));
    assert_eq!(of(&["--stream", "b", "--out", "a"]), Ok(both));
    for (arguments, expected) in [
        (&["--stream"][..], "--stream needs a file"),
        (&["--out", ""], "--out needs a file"),
        (&["--out", "a", "--out", "b"], "--out is given twice"),
        (&["flight.bin"], "\"flight.bin\" is no option"),
    ] {
        assert_eq!(of(arguments), Err(expected.to_string()));
    }
}
