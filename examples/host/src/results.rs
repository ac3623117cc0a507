//! The kernels run over all samples of a channel, and what comes out of it in figures.

use crate::kernel::Kernel;
use crate::samples::Series;
use crate::setup::Channel;
use gaugewright::fixed::{Reading, Strain, Temperature};
use gaugewright::units::{Celsius, Nanostrain};
use gaugewright::{Error, Flags};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// One row of one channel, in microstrain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corrected {
    pub indicated: f64,
    /// At the nearest end of the declared range where the temperature lies outside, as in the kernels.
    pub thermal_output: f64,
    pub less_thermal_output: f64,
    pub mechanical: f64,
    pub flags: Flags,
}

/// What the kernels gave for every row of a channel.
pub struct Results<'a> {
    pub series: &'a Series,
    indicated: Vec<Reading>,
    less_thermal_output: Vec<Reading>,
    mechanical: Vec<Reading>,
    thermal_output: Vec<f64>,
}

/// Rows of one channel that stand out: the first of each, among those without a flag.
pub struct Extremes {
    pub coldest: usize,
    pub hottest: usize,
    pub largest: usize,
    pub smallest: usize,
}

/// Distance from the true strain, in microstrain.
#[derive(Clone, Copy, Default)]
pub struct Difference {
    pub worst: f64,
    pub worst_row: usize,
    pub rms: f64,
}

/// The same for no correction, thermal output subtracted, full correction.
pub struct Comparison {
    pub rows: usize,
    pub differences: [Difference; 3],
}

impl<'a> Results<'a> {
    /// # Errors
    /// If the series is not whole, which it always is.
    pub fn of(channel: &Channel, series: &'a Series) -> Result<Self, Error> {
        let run = |kernel: &Kernel| {
            let mut readings = vec![NO_READING; series.codes.len()];
            kernel.readings(&series.codes, &series.temperatures, &series.compensating, &mut readings)?;
            Ok(readings)
        };
        let held = |temperature: Temperature, (low, high): (Celsius, Celsius)| {
            temperature.celsius().0.clamp(low.0, high.0)
        };
        let thermal_output = |row: usize| {
            let own = held(series.temperatures[row], channel.temperatures);
            match &channel.compensating {
                None => channel.measuring_output(own),
                Some(second) => channel.output(own, held(series.compensating[row], second.temperatures)),
            }
        };
        Ok(Self {
            series,
            indicated: run(&channel.indicated)?,
            less_thermal_output: run(&channel.less_thermal_output)?,
            mechanical: run(&channel.mechanical)?,
            thermal_output: (0..series.codes.len()).map(thermal_output).collect(),
        })
    }

    /// The row's values, flagged or not; none if it was rejected.
    pub fn row(&self, row: usize) -> Option<Corrected> {
        if self.series.rejected[row] {
            return None;
        }
        let microstrain = |reading: Reading| reading.strain.strain().microstrain().0;
        let (indicated, mechanical) = (self.indicated[row], self.mechanical[row]);
        let less_thermal_output = self.less_thermal_output[row];
        Some(Corrected {
            indicated: microstrain(indicated),
            thermal_output: self.thermal_output[row],
            less_thermal_output: microstrain(less_thermal_output),
            mechanical: microstrain(mechanical),
            flags: indicated.flags | less_thermal_output.flags | mechanical.flags,
        })
    }

    /// The row's values if nothing was out of range.
    pub fn clear_row(&self, row: usize) -> Option<Corrected> {
        self.row(row).filter(|corrected| corrected.flags.is_clear())
    }

    /// All rows without a flag.
    pub fn clear_rows(&self) -> impl Iterator<Item = (usize, Corrected)> {
        (0..self.series.codes.len()).filter_map(|row| Some((row, self.clear_row(row)?)))
    }

    /// All rows that were not rejected.
    pub fn usable_rows(&self) -> impl Iterator<Item = usize> {
        (0..self.series.codes.len()).filter(|&row| !self.series.rejected[row])
    }

    pub fn rejected_count(&self) -> usize {
        self.series.reasons.len()
    }

    /// How often a flag was raised, and the first row with it.
    pub fn flagged(&self, flag: Flags) -> (usize, Option<usize>) {
        let has_flag = |&row: &usize| self.row(row).is_some_and(|row| row.flags.contains(flag));
        let mut rows = self.usable_rows().filter(has_flag);
        let first = rows.next();
        (rows.count() + usize::from(first.is_some()), first)
    }

    /// Rows with any flag.
    pub fn flagged_count(&self) -> usize {
        self.usable_rows().filter(|&row| self.clear_row(row).is_none()).count()
    }

    /// Mechanical strain of one code more, at the first row without a flag.
    pub fn worth_of_a_code(&self, channel: &Channel) -> Option<Nanostrain> {
        let (row, _) = self.clear_rows().next()?;
        let code = f64::from(self.series.codes[row]);
        let at = self.series.temperatures[row].celsius();
        let strain = |code: f64| channel.model.steps(code, at, at).mechanical.nanostrain().0;
        Some(Nanostrain((strain(code + 1.0) - strain(code)).abs()))
    }

    /// None if no row is without a flag.
    pub fn extremes(&self) -> Option<Extremes> {
        let (first, _) = self.clear_rows().next()?;
        let most = |better: fn(&(Temperature, f64), &(Temperature, f64)) -> bool| {
            let of = |row: usize, corrected: Corrected| (self.series.temperatures[row], corrected.mechanical);
            self.clear_rows()
                .map(|(row, corrected)| (row, of(row, corrected)))
                .reduce(|best, next| if better(&next.1, &best.1) { next } else { best })
                .map_or(first, |(row, _)| row)
        };
        Some(Extremes {
            coldest: most(|a, b| a.0 < b.0),
            hottest: most(|a, b| a.0 > b.0),
            largest: most(|a, b| a.1 > b.1),
            smallest: most(|a, b| a.1 < b.1),
        })
    }

    /// None if the true strain is known in no row without a flag.
    pub fn comparison(&self) -> Option<Comparison> {
        let mut rows = 0;
        let mut differences = [Difference::default(); 3];
        for (row, corrected) in self.clear_rows() {
            let true_strain = self.series.true_strain[row];
            if true_strain.is_nan() {
                continue;
            }
            rows += 1;
            let stages = [corrected.indicated, corrected.less_thermal_output, corrected.mechanical];
            for (difference, strain) in differences.iter_mut().zip(stages) {
                let off = (strain - true_strain).abs();
                difference.rms += off * off;
                if off > difference.worst {
                    difference.worst = off;
                    difference.worst_row = row;
                }
            }
        }
        for difference in &mut differences {
            difference.rms = (difference.rms / rows as f64).sqrt();
        }
        (rows > 0).then_some(Comparison { rows, differences })
    }

    /// The largest distance between the kernel and the double-precision model, over the rows without a flag.
    pub fn worst_against_model(&self, channel: &Channel) -> Option<Nanostrain> {
        self.clear_rows()
            .map(|(row, _)| {
                let code = f64::from(self.series.codes[row]);
                let own = self.series.temperatures[row].celsius();
                let second = self.series.compensating.get(row).map_or(own, |second| second.celsius());
                let model = channel.model.steps(code, own, second);
                let kernel = self.mechanical[row].strain.strain();
                (kernel.nanostrain().0 - model.mechanical.nanostrain().0).abs()
            })
            .reduce(f64::max)
            .map(Nanostrain)
    }
}

/// The full correction of all samples of all channels in blocks: how many, and how long the fastest of
/// several passes took; none without samples.
///
/// # Errors
/// If a series is not whole, which it always is.
pub fn time_kernels<'a>(channels: &[(&'a Channel, &'a Results)]) -> Result<Option<(usize, Duration)>, Error> {
    const PASSES: usize = 7;
    struct Block<'a> {
        kernel: &'a Kernel,
        codes: Vec<i32>,
        temperatures: Vec<Temperature>,
        compensating: Vec<Temperature>,
    }
    let block = |(channel, results): &(&'a Channel, &'a Results)| {
        let series = results.series;
        let rows = || results.usable_rows();
        Block {
            kernel: &channel.mechanical,
            codes: rows().map(|row| series.codes[row]).collect(),
            temperatures: rows().map(|row| series.temperatures[row]).collect(),
            compensating: rows().filter_map(|row| series.compensating.get(row).copied()).collect(),
        }
    };
    let blocks: Vec<Block> = channels.iter().map(block).collect();
    let longest = blocks.iter().map(|block| block.codes.len()).max().unwrap_or(0);
    let mut readings = vec![NO_READING; longest];
    let mut best = Duration::MAX;
    for _ in 0..PASSES {
        let start = Instant::now();
        for Block { kernel, codes, temperatures, compensating } in &blocks {
            let readings = &mut readings[..codes.len()];
            black_box(*kernel).readings(black_box(codes), temperatures, compensating, readings)?;
            black_box(readings);
        }
        best = best.min(start.elapsed());
    }
    let samples = blocks.iter().map(|block| block.codes.len()).sum();
    Ok((samples > 0).then_some((samples, best)))
}

/// What stands in a block before it is filled.
const NO_READING: Reading = Reading { strain: Strain::from_bits(0), flags: Flags::CLEAR };
