//! The command line.

use clap::{ArgGroup, Parser};
use std::path::PathBuf;

/// Replays a record of strain-gauge samples: raw bridge codes in, mechanical strain out.
///
/// Each channel of the channel file (gauge package, bridge and leads, converter, balance) is compiled
/// to the same fixed-point kernel that firmware would run, and every row of the samples file goes
/// through it. What comes out is a summary here, and in the output directory
///   corrected.csv   every row, with its flags; strain in microstrain. Where a flag is raised, a value
///                   is the one at the end of the range that was left. Where the channel file states uncertainties:
///                   the standard and the expanded uncertainty (95 %) of each sample without a flag
///   rejected.csv    every cell that could not be used
///   replay.svg      the record, and the curves of each gauge
///   numbers.txt     exact figures of each channel for four kernels (fixed point and single precision, in
///                   one call and split), which the same kernels give on every machine
///
/// Without arguments a demonstration runs: a simulated balloon flight with eight bridges, from a quarter
/// to a full one, whose true strain is known. The flight is invented; its samples are made on first use.
#[derive(Parser)]
#[command(name = "replay", verbatim_doc_comment, after_long_help = MORE, after_help = "More with --help.")]
#[command(group = ArgGroup::new("purpose").args(["samples", "c_header", "rust_module"]).multiple(true))]
pub struct Options {
    /// Channel file (TOML): what is known of each gauge, its circuit and its balance
    #[arg(value_name = "CHANNELS.toml", requires = "purpose")]
    pub channels: Option<PathBuf>,

    /// Samples file (CSV): a header, then a row for each time; lines that start with # are comments
    #[arg(value_name = "SAMPLES.csv")]
    pub samples: Option<PathBuf>,

    /// Directory for what is written; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "target/replay")]
    pub out: PathBuf,

    /// Also write the channels' kernels as constants of C, for firmware that includes src/ffi/gaugewright.h. With a
    /// channel file and no samples this is all that is done
    #[arg(long, value_name = "FILE.h")]
    pub c_header: Option<PathBuf>,

    /// Also write the channels as constants of Rust, with their kernels, for the compiler of the firmware to check. As above, with
    /// a channel file and no samples
    #[arg(long, value_name = "FILE.rs")]
    pub rust_module: Option<PathBuf>,
}

const MORE: &str = "\
Example:
  cargo run --release --bin replay -- strut.toml strut.csv --out results
  cargo run --release --bin replay -- strut.toml --c-header kernels.h
  cargo run --release --bin replay -- strut.toml --rust-module kernels.rs

  examples/replay/flight.toml is the demonstration's channel file and explains every key.

Samples file:
  Cells are separated by commas, numbers have a decimal point. The channel file says which columns
  are which; columns it does not name are ignored. Codes are whole numbers; an instrument's readings
  are microstrain; a temperature is degrees, or what its sensor gave: ohms, millivolts, codes. Time
  has to rise from row to row. The file may be of any length: a few blocks of rows are in memory, not
  all. It is read twice, so a pipe has to be written to a file first. Where times do not rise, 33 bytes
  a row are needed in the output directory for a while.

Bad cells:
  A sample with a bad cell is listed and counted, is left out of the figures of its channel, and
  stands in corrected.csv without values and with the reason. A row with a bad time or a wrong number
  of cells is bad for every channel.

Exit status:
  0  every sample was used, and each channel and rosette has a sample without a flag
  1  a file cannot be read or written, or the channel file is wrong
  2  the command line is wrong
  3  some samples were rejected, or a channel or rosette has no sample without a flag: its name is in the
     summary and on standard error. Everything is written all the same

Caution:
  People can be hurt where strain is measured. This program computes, it does not judge: no strain it
  gives proves that a part is safe. Follow the codes that apply where you are, and have installation
  and conclusions checked by a licensed engineer.";
