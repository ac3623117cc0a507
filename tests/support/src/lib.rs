//! What the tests share: the data files, the channels of the test set, a source of random channels, and
//! the table of tolerances.

pub mod arithmetic;
pub mod described;
pub mod exact;
pub mod keel;
pub mod network;
pub mod omissions;
pub mod perturbed;
pub mod picture;
pub mod program;
pub mod recipe;
pub mod refusal;
pub mod registers;
pub mod search;
pub mod set;
pub mod tolerance;

pub use set::GAUGES;

use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use gaugewright::units::*;
use gaugewright::*;

/// What is made of each number below `count`, on as many threads as there are cores.
pub fn in_parallel<T: Send>(count: usize, of: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let (next, made) = (AtomicUsize::new(0), Mutex::new(BTreeMap::new()));
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                loop {
                    let i = next.fetch_add(1, Ordering::Relaxed);
                    if i >= count {
                        return;
                    }
                    let one = of(i);
                    made.lock().unwrap().insert(i, one);
                }
            });
        }
    });
    made.into_inner().unwrap().into_values().collect()
}

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

/// What this library computes now against the file of tests/data that holds what it did: line by line, to the letter.
/// `GAUGEWRIGHT_WRITE_VECTORS=1` writes the file anew before; do that only for a change of numeric results that the
/// release notes tell.
#[track_caller]
pub fn as_committed(file: &str, now: &str) {
    let path = repository().join("tests/data").join(file);
    if std::env::var_os("GAUGEWRIGHT_WRITE_VECTORS").is_some() {
        std::fs::write(&path, now).unwrap();
    }
    let committed = std::fs::read_to_string(path).unwrap();
    for (i, (now, then)) in now.lines().zip(committed.lines()).enumerate() {
        assert_eq!(now, then, "{file}, line {}", i + 1);
    }
    assert_eq!(now.lines().count(), committed.lines().count());
}

/// All rows of a file of tests/data.
pub fn data(name: &str) -> Vec<Row> {
    program::table(&repository().join(format!("tests/data/{name}.csv"))).into_iter().map(Row).collect()
}

/// An error limit that refuses nothing: also a kernel whose polynomial leaves much out of a gauge factor that refers to the free foil,
/// which the tests allow for.
pub const ANY_ERROR: Nanostrain = Nanostrain(f64::INFINITY);

/// A gauge of the data files, with its thermal output in Celsius over -200 to 300 C.
pub fn gauge(id: &str, degree: usize) -> Gauge {
    gauge_in(id, degree, "degC", "exact")
}

/// The gauge factor that the thermal output of a gauge of the data files is stated for.
pub fn data_stated(id: &str) -> f64 {
    thread_local!(static STATED: Vec<(String, f64)> = data("gauges")
        .iter()
        .map(|row| (row.text("gauge_id").to_owned(), row.number("F_T_of_thermal_output")))
        .collect());
    STATED.with(|all| all.iter().find(|(name, _)| name == id).unwrap().1)
}

/// The same in the given unit and form.
pub fn gauge_in(id: &str, degree: usize, unit: &str, form: &str) -> Gauge {
    set::package(id, degree, unit, form).gauge()
}

/// Every channel of the test set, by name.
pub fn test_set() -> Vec<(String, Channel)> {
    set::described().into_iter().map(|(name, described)| (name, described.channel())).collect()
}

pub fn wide(id: &str, degree: usize) -> Channel {
    set::wide(id, degree).channel()
}

pub fn mild(id: &str, degree: usize) -> Channel {
    set::mild(id, degree).channel()
}

pub fn cubic_factor() -> Channel {
    set::cubic_factor().channel()
}

pub fn fine_codes() -> Channel {
    set::fine_codes().channel()
}

pub fn coarse_codes() -> Channel {
    set::coarse_codes().channel()
}

pub fn instrument() -> Channel {
    set::instrument().channel()
}

/// A circuit with its bridge, on the same converter as the other circuits.
pub fn circuit(bridge: Bridge) -> Channel {
    Channel::new(gauge("gauge_on_aluminium", 4), bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .balanced(54_321.5, Celsius(20.0))
        .strain_within(Microstrain(3_000.0))
        .temperature_within(Celsius(-80.0), Celsius(100.0))
}

/// One bridge of every circuit but the quarter.
pub fn bridges() -> Vec<Bridge> {
    set::bridges().iter().map(described::Wired::bridge).collect()
}

/// Half bridges whose compensating gauge has a temperature of its own.
pub fn compensated_set() -> Vec<(String, CompensatedChannel)> {
    let mut channels = Vec::new();
    for (measuring, compensating) in
        [("gauge_on_aluminium", "gauge_on_aluminium"), ("gauge_on_steel", "gauge_nickel_chromium")]
    {
        for degree in [4, 5] {
            let channel = set::compensated(gauge(measuring, degree), gauge(compensating, degree));
            channels.push((format!("{measuring} against {compensating} {degree}"), channel));
        }
    }
    channels
}

/// A document of the repository, as it stands in the tree.
pub fn document(path: &str) -> String {
    std::fs::read_to_string(repository().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// The files in a folder of the repository and in the folders in it, as paths that [`document`] takes, sorted.
pub fn documents(folder: &str) -> Vec<String> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(repository().join(folder)).unwrap() {
        let entry = entry.unwrap();
        let path = format!("{folder}/{}", entry.file_name().to_str().unwrap());
        if entry.file_type().unwrap().is_dir() {
            found.extend(documents(&path));
        } else {
            found.push(path);
        }
    }
    found.sort_unstable();
    found
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

    /// From 0 up to 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Up to `radius` either way.
    pub fn within(&mut self, radius: f64) -> f64 {
        (2.0 * self.share() - 1.0) * radius
    }

    /// A normal deviate, by the sum of twelve (bounded by six standard deviations; kurtosis 2.9).
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }

    /// A whole number from `low` to `high`, both included.
    pub fn between(&mut self, low: i32, high: i32) -> i32 {
        let count = (i64::from(high) - i64::from(low) + 1) as u128;
        (i64::from(low) + ((u128::from(self.bits()) * count) >> 64) as i64) as i32
    }
}

/// The ends of the declared temperature range in Q20 degrees Celsius.
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
