//! What is known of a channel when all of its samples were seen: figures that are kept up block by block, in the order of the rows.

use crate::kernel::Kernel;
use crate::results::{Corrected, NO_READING, Results};
use crate::setup::Channel;
use crate::uncertainty::SampleUncertainty;
use gaugewright::fixed::Temperature;
use gaugewright::units::Nanostrain;
use gaugewright::{Error, Flags};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// One row of one channel, without a flag, that is kept.
#[derive(Clone, Copy)]
pub struct Moment {
    pub time: f64,
    pub code: i32,
    pub temperature: Temperature,
    /// Of the compensating gauge, where it has one of its own.
    pub compensating: Option<Temperature>,
    pub corrected: Corrected,
}

/// Rows that stand out: the first of each.
#[derive(Clone, Copy)]
pub struct Extremes {
    pub coldest: Moment,
    pub hottest: Moment,
    pub largest: Moment,
    pub smallest: Moment,
}

/// Distance from the true strain, in microstrain.
#[derive(Clone, Copy, Default)]
pub struct Difference {
    pub worst: f64,
    /// When it was.
    pub worst_at: f64,
    pub rms: f64,
}

/// The same for no correction, thermal output subtracted, full correction.
pub struct Comparison {
    pub rows: usize,
    pub differences: [Difference; 3],
}

/// A lowest and a highest value, once there is one.
pub type Ends<T> = Option<(T, T)>;

/// The uncertainties of the rows without a flag.
#[derive(Clone, Copy)]
pub struct Uncertainties {
    /// The first row of the largest expanded uncertainty: its number, the first row below the header being 1.
    pub row: u64,
    pub moment: Moment,
    pub largest: SampleUncertainty,
    /// The smallest expanded uncertainty.
    pub least: f64,
    /// Rows of which the true strain is known, and those of them where it is within the expanded uncertainty.
    pub known: usize,
    pub within: usize,
}

/// The figures of a channel. Rows with a flag count where it is not said that they do not.
#[derive(Default)]
pub struct Figures {
    /// Time of the first row of all.
    start: Option<f64>,
    /// All rows, with those that were rejected.
    rows: u64,
    /// That were not rejected.
    pub samples: usize,
    pub rejected: usize,
    /// With any flag.
    pub flagged: usize,
    /// How often each was raised, and when first, in the order of [`Flags::ALL`].
    pub flags: [(usize, Option<f64>); Flags::ALL.len()],
    pub codes: Ends<i32>,
    pub temperatures: Ends<Temperature>,
    pub compensating: Ends<Temperature>,
    /// The temperature less that of the compensating gauge, in degrees.
    pub apart: Ends<f64>,
    /// The first row without a flag.
    first: Option<Moment>,
    /// Among the rows without a flag.
    pub extremes: Option<Extremes>,
    /// Where thermal output changes most with temperature among the rows without a flag, if that is to be known, and how much.
    steepest: Option<(Moment, f64)>,
    worst_against_model: Option<f64>,
    /// Rows without a flag of which the true strain is known, and sums of squares in place of `rms`.
    compared: (usize, [Difference; 3]),
    /// Where the channel's file states uncertainties.
    pub uncertainties: Option<Uncertainties>,
    timed: Timed,
}

impl Figures {
    /// Adds the next rows, of which these are the times.
    pub fn add(&mut self, times: &[f64], results: &Results) {
        let series = &results.series;
        self.start = self.start.or(times.first().copied());
        for (row, &time) in times.iter().enumerate() {
            self.rows += 1;
            let Some(corrected) = results.row(row) else { continue };
            let (code, temperature) = (series.codes[row], series.temperatures[row]);
            let compensating = series.compensating.get(row).copied();
            self.samples += 1;
            widen(&mut self.codes, code, Ord::min, Ord::max);
            widen(&mut self.temperatures, temperature, Ord::min, Ord::max);
            if let Some(second) = compensating {
                widen(&mut self.compensating, second, Ord::min, Ord::max);
                let apart = temperature.celsius().0 - second.celsius().0;
                widen(&mut self.apart, apart, f64::min, f64::max);
            }
            self.timed.add(code, temperature, compensating);
            if corrected.flags.is_clear() {
                let moment = Moment { time, code, temperature, compensating, corrected };
                self.add_clear(&moment, series.true_strain[row]);
                if let Some(uncertainty) = results.uncertainty(row) {
                    self.add_uncertainty(&moment, uncertainty, series.true_strain[row]);
                }
            } else {
                self.flagged += 1;
                for ((count, first), (flag, _)) in self.flags.iter_mut().zip(Flags::ALL) {
                    if corrected.flags.contains(flag) {
                        *count += 1;
                        first.get_or_insert(time);
                    }
                }
            }
        }
        self.rejected += series.reasons.len();
        let worst = [self.worst_against_model, results.worst_against_model];
        self.worst_against_model = worst.into_iter().flatten().reduce(f64::max);
        if let Some((row, slope)) = results.steepest {
            if self.steepest.is_none_or(|(_, steepest)| slope > steepest) {
                let compensating = series.compensating.get(row).copied();
                let (code, temperature) = (series.codes[row], series.temperatures[row]);
                let moment = results.row(row).map(|corrected| {
                    (Moment { time: times[row], code, temperature, compensating, corrected }, slope)
                });
                self.steepest = moment.or(self.steepest);
            }
        }
    }

    fn add_clear(&mut self, moment: &Moment, true_strain: f64) {
        self.first.get_or_insert(*moment);
        match &mut self.extremes {
            None => {
                let [coldest, hottest, largest, smallest] = [*moment; 4];
                self.extremes = Some(Extremes { coldest, hottest, largest, smallest });
            }
            Some(Extremes { coldest, hottest, largest, smallest }) => {
                for (best, is_better) in [
                    (coldest, (|next, best| next.temperature < best.temperature) as Better),
                    (hottest, |next, best| next.temperature > best.temperature),
                    (largest, |next, best| next.corrected.mechanical > best.corrected.mechanical),
                    (smallest, |next, best| next.corrected.mechanical < best.corrected.mechanical),
                ] {
                    if is_better(moment, best) {
                        *best = *moment;
                    }
                }
            }
        }
        if true_strain.is_nan() {
            return;
        }
        let Corrected { indicated, less_thermal_output, mechanical, .. } = moment.corrected;
        let (rows, differences) = &mut self.compared;
        *rows += 1;
        for (difference, strain) in differences.iter_mut().zip([indicated, less_thermal_output, mechanical]) {
            let off = (strain - true_strain).abs();
            difference.rms += off * off;
            if off > difference.worst {
                difference.worst = off;
                difference.worst_at = moment.time;
            }
        }
    }

    fn add_uncertainty(&mut self, moment: &Moment, uncertainty: SampleUncertainty, true_strain: f64) {
        let row = self.rows;
        let first = Uncertainties {
            row,
            moment: *moment,
            largest: uncertainty,
            least: uncertainty.expanded,
            known: 0,
            within: 0,
        };
        let all = self.uncertainties.get_or_insert(first);
        if uncertainty.expanded > all.largest.expanded {
            (all.row, all.moment, all.largest) = (row, *moment, uncertainty);
        }
        all.least = all.least.min(uncertainty.expanded);
        if !true_strain.is_nan() {
            all.known += 1;
            all.within +=
                usize::from((moment.corrected.mechanical - true_strain).abs() <= uncertainty.expanded);
        }
    }

    /// Of the gauge that measures, and of the one that compensates.
    pub fn all_temperatures(&self) -> Ends<Temperature> {
        let both = [self.temperatures, self.compensating].into_iter().flatten();
        both.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
    }

    /// Mechanical strain of one code more, at the first row without a flag.
    pub fn worth_of_a_code(&self, channel: &Channel) -> Option<Nanostrain> {
        let first = self.first?;
        let at = first.temperature.celsius();
        let strain = |code: f64| channel.model.steps(code, at, at).mechanical.nanostrain().0;
        let code = f64::from(first.code);
        Some(Nanostrain((strain(code + 1.0) - strain(code)).abs()))
    }

    /// Among the rows without a flag, if there is one and it is to be known.
    pub fn steepest(&self) -> Option<Moment> {
        self.steepest.map(|(moment, _)| moment)
    }

    /// None if the true strain is known in no row without a flag.
    pub fn comparison(&self) -> Option<Comparison> {
        let (rows, mut differences) = self.compared;
        for difference in &mut differences {
            difference.rms = (difference.rms / rows as f64).sqrt();
            if difference.worst == 0.0 {
                difference.worst_at = self.start?;
            }
        }
        (rows > 0).then_some(Comparison { rows, differences })
    }

    /// The largest distance between the kernel and the double-precision model, over the rows without a flag.
    pub fn worst_against_model(&self) -> Option<Nanostrain> {
        self.worst_against_model.map(Nanostrain)
    }
}

/// Whether the first takes the place of the second.
type Better = fn(&Moment, &Moment) -> bool;

/// The smallest and the largest of these; infinite, and the wrong way round, where there is none.
pub fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    values.fold(none, |(low, high), value| (low.min(value), high.max(value)))
}

fn widen<T: Copy>(ends: &mut Ends<T>, value: T, min: fn(T, T) -> T, max: fn(T, T) -> T) {
    *ends = Some(ends.map_or((value, value), |(low, high)| (min(low, value), max(high, value))));
}

/// The first samples of a channel, to be timed with.
#[derive(Default)]
struct Timed {
    codes: Vec<i32>,
    temperatures: Vec<Temperature>,
    compensating: Vec<Temperature>,
}

impl Timed {
    /// How many are kept.
    const SAMPLES: usize = 1 << 16;

    fn add(&mut self, code: i32, temperature: Temperature, compensating: Option<Temperature>) {
        if self.codes.len() < Self::SAMPLES {
            self.codes.push(code);
            self.temperatures.push(temperature);
            self.compensating.extend(compensating);
        }
    }
}

/// The full correction of the first samples of all channels in blocks: how many, and how long the fastest of several passes took;
/// none without samples.
///
/// # Errors
/// If a series is not whole, which it always is.
pub fn time_kernels(channels: &[(&Channel, &Figures)]) -> Result<Option<(usize, Duration)>, Error> {
    const PASSES: usize = 7;
    let kernels: Vec<(&Kernel, &Timed)> =
        channels.iter().map(|(channel, figures)| (&channel.mechanical, &figures.timed)).collect();
    let mut readings = vec![NO_READING; Timed::SAMPLES];
    let mut best = Duration::MAX;
    for _ in 0..PASSES {
        let start = Instant::now();
        for (kernel, Timed { codes, temperatures, compensating }) in &kernels {
            let readings = &mut readings[..codes.len()];
            black_box(*kernel).readings(black_box(codes), temperatures, compensating, readings)?;
            black_box(readings);
        }
        best = best.min(start.elapsed());
    }
    let samples = kernels.iter().map(|(_, timed)| timed.codes.len()).sum();
    Ok((samples > 0).then_some((samples, best)))
}
