//! The demonstration: a channel file that is built in, and runs of an invented chamber.

use crate::chamber;
use host::files::{at, starts_with};
use std::path::{Path, PathBuf};

pub const CHANNELS: &str = include_str!("keel.toml");
pub const CHANNEL_FILE: (&str, &str) = ("examples/commission/keel.toml", CHANNELS);

/// Makes the runs in this directory, and gives the one to be fitted and the loaded one.
///
/// # Errors
/// If a file cannot be written, or one of the name is there that was not made here.
pub fn runs(directory: &Path) -> Result<(PathBuf, PathBuf), String> {
    let [run, loaded, later] = ["chamber.csv", "loaded.csv", "later.csv"].map(|name| directory.join(name));
    for path in [&run, &loaded, &later] {
        if path.exists() && !starts_with(path, chamber::MARK).map_err(at(path))? {
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
