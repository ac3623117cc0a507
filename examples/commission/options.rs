//! The command line.

use clap::Parser;
use std::path::PathBuf;

/// Commissions a bonded strain gauge: from a chamber run of the unloaded part to the channel file that measures.
///
/// The run says what the gauge really does on this part. The thermal-output curve is fitted to it, with its
/// confidence band; the matches on offer are compared on it; and it is said how far the corrected strain can be
/// trusted, and which corrections matter. A run with a known load adds the gauge factor against temperature.
///
/// Wiring and span are checked first, from codes at rest and with the shunt. Then the run is judged: points that do not belong
/// to it, a load or a drift in the middle of it, hysteresis, a curve that is no better than the package's or contradicts it, as
/// that of a reversed polarity or of temperatures in another unit does; and zeros that contradict each other. Where something is
/// wrong, commissioned.toml and commissioned.rs are not written, unless --accept is given. Written to the output directory:
///   commissioned.toml   the channel file with the fitted curve, for replay
///   commissioned.rs     the curve as a constant, for firmware that has its channels compiled in
///   report.txt          all of it in words and figures; also on the terminal
///   curve.svg           the points, the curve, its band and the residuals
///   matches.svg         the curve as each match on offer would turn it
///   budget.svg          what the uncertainty is made of
///   budget.csv          the same in figures, from end to end of the temperatures
///   points.csv          every point of the run, with its direction, the curve there and the residual
///   rejected.csv        every cell of the run that could not be used; rejected_loaded.csv of the loaded one
///
/// Several channels of one part may be commissioned from one run. commissioned.toml then has the curves of all of them, and
/// the other files have the name of the channel before theirs, as strut_report.txt.
///
/// Without arguments a demonstration runs: an invented part in an invented chamber, whose true curve is known.
/// It also writes its runs: chamber.csv, loaded.csv, and later.csv, which commissioned.toml can be tried on:
///   cargo run --release --bin replay -- target/commission/commissioned.toml target/commission/later.csv
#[derive(Parser)]
#[command(name = "commission", verbatim_doc_comment, after_long_help = MORE, after_help = "More with --help.")]
pub struct Options {
    /// Channel file (TOML), as replay takes it; with [channel.commissioning] for what only this program needs
    #[arg(value_name = "CHANNELS.toml", requires = "run")]
    pub channels: Option<PathBuf>,

    /// Chamber run (CSV): a header, then a row for each dwell; lines that start with # are comments
    #[arg(value_name = "RUN.csv")]
    pub run: Option<PathBuf>,

    /// Run with a known load (CSV), for the gauge factor against temperature; needs [channel.commissioning.load]
    #[arg(long, value_name = "LOADED.csv", requires = "run")]
    pub loaded: Option<PathBuf>,

    /// A channel of the file that is commissioned; may be repeated. Without it: all that have [channel.commissioning]
    #[arg(long, value_name = "NAME")]
    pub channel: Vec<String>,

    /// Expansions that the gauge is offered for, in ppm per C, as 8.6,10.8,16.7
    #[arg(long, value_name = "PPM,...", value_delimiter = ',', allow_hyphen_values = true)]
    pub matches: Vec<f64>,

    /// Expansion of the part, in ppm per C, in place of that of the channel file
    #[arg(long, value_name = "PPM", allow_hyphen_values = true)]
    pub part: Option<f64>,

    /// Temperatures in C at which the match counts, as -75,45
    #[arg(long, value_name = "LOW,HIGH", value_delimiter = ',', num_args = 1, allow_hyphen_values = true)]
    pub window: Vec<f64>,

    /// Degree of the curve, 0 to 5; if left out, the highest that the points need at a level of 1 %
    #[arg(long, value_name = "N")]
    pub degree: Option<usize>,

    /// Probability that bands and expanded uncertainties are given for, in percent
    #[arg(long, value_name = "PERCENT", default_value_t = 95.0)]
    pub coverage: f64,

    /// Lines of RUN.csv without load that are left out, of every channel, as 35,41: points that the report of a channel names as not
    /// belonging to it. A line of the loaded run is left out by a # before it
    #[arg(long, value_name = "LINE,...", value_delimiter = ',')]
    pub leave_out: Vec<u64>,

    /// Write the channel file although something is wrong with the installation or a run
    #[arg(long)]
    pub accept: bool,

    /// Directory for what is written; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "target/commission")]
    pub out: PathBuf,
}

const MORE: &str = "\
Example:
  cargo run --release --bin commission -- wing.toml chamber.csv --matches 8.6,10.8,13.3 --window -60,90

  examples/commission/keel.toml is the demonstration's channel file and explains [channel.commissioning];
  examples/replay/flight.toml explains every other key. A channel that has no thermal-output curve yet may leave
  that table out.

Chamber run:
  Numbers with a decimal point, separated by commas. The columns of time and temperature are those that the
  channel file names for its samples, or those of [channel.sensor], whose raw readings may be ohms, millivolts or codes
  of platinum, a thermistor or a thermocouple; the strain is run_strain_column, or else the channel's own column. The part
  carries no load. A row is a point of the fit, so it should be read at the end of a dwell, or be the mean of one:
  rows that follow each other while the chamber drifts are not independent, and the bands come out too narrow.
  Up and down: the direction of each point is found from the temperatures. Turning back by less than 2 % of the
  run's span is taken for the chamber's unrest. With both directions the hysteresis is told.

Loaded run:
  The same columns, and the strain that is applied: strain_column of [channel.commissioning.load], in microstrain, or
  strain_microstrain for all rows. Rows with a strain of 0 are readings without load; one before and one after each reading
  with load take out what the zero does meanwhile. Without such rows the curve of the unloaded run takes their place.
  The rows may stand in RUN.csv as well: where it has the strain_column, its rows with load are the loaded run.

Exit status:
  0  every row was used
  1  a file cannot be read or written, or something in it is wrong
  2  the command line is wrong
  3  some rows were rejected; the rest was used
  4  something is wrong with the installation, its zeros or a run: the report says what (with --accept too)

Caution:
  People can be hurt where strain is measured. This program computes, it does not judge: no strain it
  gives proves that a part is safe. Follow the codes that apply where you are, and have installation
  and conclusions checked by a licensed engineer.";
