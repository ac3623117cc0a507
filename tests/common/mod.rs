//! What the tests share: the data files, the channels of the test set, a source of random channels, and
//! the table of tolerances.
#![allow(dead_code)] // each test binary uses its own part

pub mod arithmetic;
pub mod recipe;
pub mod registers;
pub mod tolerance;

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use gaugewright::units::*;
use gaugewright::*;

/// A row of a data file, by column name.
pub struct Row(HashMap<String, String>);

impl Row {
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub fn number(&self, column: &str) -> f64 {
        f64::from_str(self.text(column)).unwrap_or_else(|_| panic!("{column}: {}", self.text(column)))
    }

    /// `None` for an empty cell.
    pub fn maybe(&self, column: &str) -> Option<f64> {
        if self.text(column).is_empty() { None } else { Some(self.number(column)) }
    }
}

/// The folder that holds everything: the crate's own, or one above where a crate in a folder of tests uses this file.
pub fn repository() -> PathBuf {
    let mut folders = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors();
    folders.find(|folder| folder.join("tests/data").is_dir()).unwrap().to_owned()
}

/// All rows of a file of tests/data.
pub fn data(name: &str) -> Vec<Row> {
    let path = repository().join(format!("tests/data/{name}.csv"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let header = reader.headers().unwrap().clone();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            Row(header.iter().map(str::to_owned).zip(record.iter().map(str::to_owned)).collect())
        })
        .collect()
}

/// A gauge of the data files, with its thermal output in Celsius over -200 to 300 C.
pub fn gauge(id: &str, degree: usize) -> Gauge {
    gauge_in(id, degree, "degC", "exact")
}

/// The same in the given unit and form.
pub fn gauge_in(id: &str, degree: usize, unit: &str, form: &str) -> Gauge {
    let row = data("gauges").into_iter().find(|row| row.text("gauge_id") == id).unwrap();
    let coefficients: Vec<f64> = data("polynomials")
        .iter()
        .filter(|row| {
            row.text("gauge_id") == id
                && row.number("degree") == degree as f64
                && row.text("unit") == unit
                && row.text("form") == form
        })
        .map(|row| row.number("coefficient_ue_per_deg_k"))
        .collect();
    assert_eq!(coefficients.len(), degree + 1);
    let curve = if unit == "degC" {
        ThermalOutput::celsius_from(&coefficients)
    } else {
        ThermalOutput::fahrenheit_from(&coefficients)
    };
    Gauge::new(GaugeFactor(row.number("F_24")))
        .gauge_factor_slope(PercentPer100C(row.number("gf_slope_pct_per_100C")))
        .matched_to(ExpansionPerCelsius::ppm(row.number("alpha_matched_ppm_per_degC")))
        .reference_temperature(Celsius(row.number("reference_temperature_degC")))
        .thermal_output(
            curve
                .stated_for(GaugeFactor(row.number("F_T_of_thermal_output")))
                .between(Celsius(-200.0), Celsius(300.0)),
        )
}

pub const GAUGES: [&str; 6] = [
    "gauge_on_steel",
    "gauge_on_austenitic",
    "gauge_on_aluminium",
    "gauge_on_titanium",
    "gauge_on_low_expansion",
    "gauge_nickel_chromium",
];

/// +-34 500 microstrain, -200 to 300 C.
pub fn wide(id: &str, degree: usize) -> Channel {
    Channel::new(
        gauge(id, degree),
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    )
    .balanced(98_765.25, Celsius(21.5))
    .strain_within(Microstrain(34_500.0))
}

/// +-5 200 microstrain, -80 to 100 C.
pub fn mild(id: &str, degree: usize) -> Channel {
    Channel::new(
        gauge(id, degree),
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .balanced(-123_456.75, Celsius(18.5))
    .strain_within(Microstrain(5_200.0))
    .temperature_within(Celsius(-80.0), Celsius(100.0))
}

/// A gauge factor that is not linear: the cubic is invented, with a total change of 3.6 % over the range.
pub fn cubic_factor() -> Channel {
    let channel_gauge = gauge("gauge_on_steel", 5).gauge_factor_polynomial([6.0e-5, 1.5e-7, -2.0e-10]);
    Channel::new(
        channel_gauge,
        Bridge::quarter_two_wire(Ohms(120.0), Ohms(0.8)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    )
    .specimen(ExpansionPerCelsius::ppm(16.2))
    .balanced(-400_000.5, Celsius(150.0))
    .strain_within(Microstrain(20_000.0))
}

/// A 32-bit converter, whose codes are finer than the strain format.
pub fn fine_codes() -> Channel {
    Channel::new(
        gauge("gauge_on_titanium", 4),
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(2.5)),
        Converter::bipolar(32, Ratio(1.0 / 128.0)),
    )
    .balanced(31_000_000.5, Celsius(20.0))
    .strain_within(Microstrain(10_000.0))
}

/// A 16-bit converter that sees the whole range of its codes, with no declared strain range.
pub fn coarse_codes() -> Channel {
    Channel::new(
        gauge("gauge_nickel_chromium", 5),
        Bridge::quarter_ideal(Ohms(1000.0)),
        Converter::bipolar(16, Ratio(1.0 / 64.0)),
    )
    .balanced(-777.5, Celsius(25.0))
}

/// An instrument that shows strain at a gauge factor of 2.
pub fn instrument() -> Channel {
    Channel::from_readings(
        gauge("gauge_on_aluminium", 4),
        Instrument::showing(Microstrain(0.01), GaugeFactor(2.0)),
    )
    .balanced(1234.0, Celsius(30.0))
    .strain_within(Microstrain(8_000.0))
}

/// A circuit with its bridge, on the same converter.
pub fn circuit(bridge: Bridge) -> Channel {
    Channel::new(gauge("gauge_on_aluminium", 4), bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .balanced(54_321.5, Celsius(20.0))
        .strain_within(Microstrain(3_000.0))
        .temperature_within(Celsius(-80.0), Celsius(100.0))
}

/// One bridge of every circuit but the quarter.
pub fn bridges() -> Vec<Bridge> {
    let (gauge, lead) = (Ohms(350.0), Ohms(1.2));
    vec![
        Bridge::half_compensated(gauge, lead),
        Bridge::half_poisson(gauge, lead, 0.33),
        Bridge::half_bending(gauge, lead).reversed(),
        Bridge::full_bending(gauge).leads(lead).remote_sense(),
        Bridge::full_poisson(gauge, 0.33).leads(lead),
        Bridge::full_torsion(gauge).leads(lead),
        Bridge::opposite_arms(gauge).leads(lead).input_resistance(Ohms(1e7)),
    ]
}

/// Every channel that the error bounds are shown on.
pub fn test_set() -> Vec<(String, Channel)> {
    let mut set = Vec::new();
    for degree in [4, 5] {
        for id in GAUGES {
            set.push((format!("wide {id} {degree}"), wide(id, degree)));
            set.push((format!("mild {id} {degree}"), mild(id, degree)));
        }
    }
    set.push(("cubic factor".into(), cubic_factor()));
    set.push(("fine codes".into(), fine_codes()));
    set.push(("coarse codes".into(), coarse_codes()));
    set.push(("instrument".into(), instrument()));
    for bridge in bridges() {
        set.push((bridge.circuit().name().into(), circuit(bridge)));
    }
    set.push((
        "indicated".into(),
        wide("gauge_on_steel", 4).correction(Correction::None).instrument_gauge_factor(GaugeFactor(2.0)),
    ));
    set.push(("subtraction only".into(), mild("gauge_on_steel", 4).correction(Correction::ThermalOutput)));
    set
}

/// Half bridges whose compensating gauge has a temperature of its own.
pub fn compensated_set() -> Vec<(String, Channel)> {
    let mut set = Vec::new();
    for (measuring, compensating) in
        [("gauge_on_aluminium", "gauge_on_aluminium"), ("gauge_on_steel", "gauge_nickel_chromium")]
    {
        for degree in [4, 5] {
            let channel = Channel::new(
                gauge(measuring, degree),
                Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
                Converter::bipolar(24, Ratio(1.0 / 128.0)),
            )
            .balanced(54_321.5, Celsius(20.0))
            .strain_within(Microstrain(4_000.0))
            .temperature_within(Celsius(-80.0), Celsius(100.0))
            .compensated_by(CompensatingGauge::new(gauge(compensating, degree)).balanced_at(Celsius(19.0)));
            set.push((format!("{measuring} against {compensating} {degree}"), channel));
        }
    }
    set
}

/// The README, as it stands in the tree.
pub fn readme() -> String {
    std::fs::read_to_string(repository().join("README.md")).unwrap()
}

/// A small generator for sweeps: the same numbers everywhere.
pub struct Random(pub u64);

impl Random {
    pub fn bits(&mut self) -> u64 {
        // SplitMix64 (Steele, Lea and Flood, 2014).
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from `low` to `high`, both included.
    pub fn between(&mut self, low: i32, high: i32) -> i32 {
        let count = (i64::from(high) - i64::from(low) + 1) as u128;
        (i64::from(low) + ((u128::from(self.bits()) * count) >> 64) as i64) as i32
    }
}

/// The ends of the declared temperature range in steps of 2^-20 C.
pub fn temperature_ends(channel: &Channel) -> (i32, i32) {
    let (low, high) = channel.temperatures();
    (
        (low.0 * f64::from(fixed::Temperature::PER_DEGREE)).ceil() as i32,
        (high.0 * f64::from(fixed::Temperature::PER_DEGREE)).floor() as i32,
    )
}

/// The lowest and highest codes that a kernel does not flag at any temperature tried: found from
/// outside, by asking.
pub fn code_ends(channel: &Channel) -> (i32, i32) {
    let kernel: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
    let (low, high) = temperature_ends(channel);
    let good = |code: i32| {
        (0..=16).any(|i| {
            let t = i64::from(low) + (i64::from(high) - i64::from(low)) * i / 16;
            kernel.reading(code, fixed::Temperature::from_bits(t as i32)).flags.is_clear()
        })
    };
    // Clear codes are an interval for these channels; find one, then bisect both ways.
    let mut random = Random(7);
    let seed = (0..100_000)
        .map(|i| if i == 0 { 0 } else { random.between(i32::MIN, i32::MAX) >> (i % 24) })
        .find(|&code| good(code))
        .expect("some code is clear");
    let edge = |mut inside: i64, mut outside: i64| {
        while (outside - inside).abs() > 1 {
            let middle = (inside + outside) / 2;
            if good(middle as i32) { inside = middle } else { outside = middle }
        }
        inside as i32
    };
    (edge(i64::from(seed), i64::from(i32::MIN) - 1), edge(i64::from(seed), i64::from(i32::MAX) + 1))
}
