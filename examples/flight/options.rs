//! The command line.

use host::simulation::Noise;
use std::ffi::OsString;
use std::path::PathBuf;

pub const USAGE: &str = "\
usage: flight [--out FILE] [--stream FILE] [--without-noise]

  --out FILE     writes the rows of the flight (CSV) here, to target/flight.csv if it is not given
  --stream FILE  also writes the samples as the binary stream of a logger: codes, temperatures in
                 Q20 degrees Celsius, little endian; examples/host/src/stream.rs describes it
  --without-noise  converter and thermometers have no noise, and thermometers are not rounded: what then
                 differs between corrected and true strain is what the correction leaves out";

/// What to write.
#[derive(Debug, PartialEq, Eq)]
pub struct Options {
    pub out: PathBuf,
    pub stream: Option<PathBuf>,
    pub noise: Noise,
}

impl Options {
    /// # Errors
    /// Which of the arguments is wrong.
    pub fn of(arguments: impl IntoIterator<Item = OsString>) -> Result<Self, String> {
        let (mut out, mut stream, mut noise) = (None, None, Noise::Flown);
        let mut arguments = arguments.into_iter();
        while let Some(argument) = arguments.next() {
            let name = argument.to_string_lossy();
            if name == "--without-noise" {
                noise = Noise::None;
                continue;
            }
            let option = match &*name {
                "--out" => &mut out,
                "--stream" => &mut stream,
                _ => return Err(format!("{name:?} is no option")),
            };
            let file = arguments.next().filter(|file| !file.is_empty());
            let file = file.ok_or_else(|| format!("{name} needs a file"))?;
            if option.replace(PathBuf::from(file)).is_some() {
                return Err(format!("{name} is given twice"));
            }
        }
        Ok(Self { out: out.unwrap_or_else(|| PathBuf::from("target/flight.csv")), stream, noise })
    }
}
