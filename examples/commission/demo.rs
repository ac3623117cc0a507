//! The demonstration: a channel file that is built in, and runs of an invented chamber.

use crate::chamber;
use host::files::at;
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

/// Where the text of the channel file comes from.
pub const CHANNELS_NAME: &str = "examples/commission/keel.toml";
pub const CHANNELS: &str = include_str!("keel.toml");

/// Makes the runs in this directory, and gives the one to be fitted and the loaded one.
///
/// # Errors
/// If a file cannot be written, or one of the name is there that was not made here.
pub fn runs(directory: &Path) -> Result<(PathBuf, PathBuf), String> {
    let [run, loaded, later] = ["chamber.csv", "loaded.csv", "later.csv"].map(|name| directory.join(name));
    for path in [&run, &loaded, &later] {
        if path.exists() && !is_a_run(path).map_err(at(path))? {
            return Err(format!(
                "{}: is there already, and not from here: choose another --out",
                path.display()
            ));
        }
        eprintln!("making {}: simulated data of an invented chamber", path.display());
    }
    chamber::write_run(&run).map_err(at(&run))?;
    chamber::write_loaded_run(&loaded).map_err(at(&loaded))?;
    chamber::write_later_run(&later).map_err(at(&later))?;
    Ok((run, loaded))
}

/// Whether the file is one that this program may replace.
fn is_a_run(path: &Path) -> io::Result<bool> {
    let mut line = Vec::new();
    BufReader::new(File::open(path)?).take(200).read_until(b'\n', &mut line)?;
    Ok(line.starts_with(chamber::MARK.as_bytes()))
}
