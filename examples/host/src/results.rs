//! The kernels run over a block of samples of a channel.

use crate::kernel::Kernel;
use crate::samples::Series;
use crate::setup::Channel;
use crate::uncertainty::SampleUncertainty;
use gaugewright::fixed::{Reading, Strain, Temperature};
use gaugewright::units::Celsius;
use gaugewright::{Error, Flags};

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
pub struct Results {
    pub series: Series,
    indicated: Vec<Reading>,
    less_thermal_output: Vec<Reading>,
    mechanical: Vec<Reading>,
    thermal_output: Vec<f64>,
    /// Of the rows without a flag; empty where the channel's file states no uncertainties.
    uncertainty: Vec<Option<SampleUncertainty>>,
    /// The largest distance between the kernel and the double-precision model over the rows without a flag, in nanostrain; none
    /// without such a row.
    pub worst_against_model: Option<f64>,
    /// The row without a flag where thermal output changes most with temperature, and how much, if that is to be known.
    pub steepest: Option<(usize, f64)>,
}

impl Results {
    /// # Errors
    /// If the series is not whole, which it always is.
    pub fn of(channel: &Channel, series: Series) -> Result<Self, Error> {
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
        let mut results = Self {
            indicated: run(&channel.indicated)?,
            less_thermal_output: run(&channel.less_thermal_output)?,
            mechanical: run(&channel.mechanical)?,
            thermal_output: (0..series.codes.len()).map(thermal_output).collect(),
            uncertainty: Vec::new(),
            series,
            worst_against_model: None,
            steepest: None,
        };
        results.worst_against_model =
            results.clear_rows().map(|(row, _)| results.against_model(channel, row)).reduce(f64::max);
        if let Some(uncertainty) = &channel.uncertainty {
            // A kernel may round the ends of its range outwards.
            let sample = |row: usize| {
                let celsius = held(results.series.temperatures[row], channel.temperatures);
                results.clear_row(row).map(|corrected| (Celsius(celsius), corrected.mechanical))
            };
            results.uncertainty = uncertainty.live.samples((0..results.series.codes.len()).map(sample))?;
        }
        results.steepest = channel.temperature_error.and_then(|error| error.steepest(channel, &results));
        Ok(results)
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

    /// Of the row's mechanical strain, if nothing was out of range and the channel's file states uncertainties.
    pub fn uncertainty(&self, row: usize) -> Option<SampleUncertainty> {
        self.uncertainty.get(row).copied().flatten()
    }

    /// All rows without a flag.
    pub fn clear_rows(&self) -> impl Iterator<Item = (usize, Corrected)> {
        (0..self.series.codes.len()).filter_map(|row| Some((row, self.clear_row(row)?)))
    }

    /// All rows that were not rejected.
    pub fn usable_rows(&self) -> impl Iterator<Item = usize> {
        (0..self.series.codes.len()).filter(|&row| !self.series.rejected[row])
    }

    /// Distance between the kernel and the double-precision model, in nanostrain.
    fn against_model(&self, channel: &Channel, row: usize) -> f64 {
        let code = f64::from(self.series.codes[row]);
        let own = self.series.temperatures[row].celsius();
        let second = self.series.compensating.get(row).map_or(own, |second| second.celsius());
        let model = channel.model.steps(code, own, second);
        let kernel = self.mechanical[row].strain.strain();
        (kernel.nanostrain().0 - model.mechanical.nanostrain().0).abs()
    }
}

/// What stands in a block before it is filled.
pub const NO_READING: Reading = Reading { strain: Strain::from_bits(0), flags: Flags::CLEAR };
