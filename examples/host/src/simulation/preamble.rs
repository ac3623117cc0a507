//! The lines of explanation at the head of the file, and its header.

use super::gondola::CHANNELS;
use super::{balance_codes, header};
use std::io::{self, Write};

pub fn write_preamble(file: &mut impl Write) -> io::Result<()> {
    writeln!(
        file,
        "# Simulated data of an invented balloon flight: no such flight, gondola or gauge exists."
    )?;
    writeln!(
        file,
        "# Columns: seconds from the start; then for each channel the converter's code (24 bit, ratiometric,"
    )?;
    writeln!(
        file,
        "# full scale 1/128), the gauge's temperature in Celsius and the true mechanical strain in microstrain;"
    )?;
    writeln!(
        file,
        "# before that strain the temperature of the block with the other gauge, where there is such a block, and"
    )?;
    writeln!(
        file,
        "# the readings of a raw sensor, where there is one: strut_south has a Pt100 on three leads (ohms with two"
    )?;
    writeln!(
        file,
        "# leads in series, ohms of the pair), valve_body a thermocouple of type K (millivolts, Celsius of its cold"
    )?;
    writeln!(file, "# junction).")?;
    writeln!(
        file,
        "# Quarter bridges unless they say what they are, balanced without load in a hangar before the flight:"
    )?;
    for (channel, balance) in CHANNELS.iter().zip(balance_codes()) {
        writeln!(file, "# {}: {}; {}", channel.name, channel.label, balance.note())?;
    }
    writeln!(file, "{}", header())
}
