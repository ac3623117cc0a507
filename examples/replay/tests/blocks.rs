//! A record gives the same results however it is cut into blocks.

use super::{CODES, READINGS, channels};
use crate::pass::Source;
use crate::report::Summary;
use crate::{paths, plot};
use std::path::Path;

/// With bad cells, flags, a clock that is set back, and a largest strain at the end of a block.
fn record() -> String {
    let mut text = "\u{feff}# by hand\n\nt,code,gauge_F,reading,true\n".to_string();
    for row in 0..900 {
        let time = if row % 97 == 5 { row - 40 } else { row };
        let code = if row % 83 == 7 { "none".to_string() } else { ((row * 37) % 9000 - 100).to_string() };
        let fahrenheit = if row % 211 == 9 { 400.0 } else { 75.2 + f64::from(row % 50) };
        let known = if row % 3 == 0 { format!("{}.5", row % 90) } else { String::new() };
        text += &format!("{time},{code},{fahrenheit},{}.1,{known}\n", row % 100);
        if row % 101 == 3 {
            text += "# more\n\n\"1\",\"2\n";
        }
    }
    text
}

const UNCERTAINTY: &str =
    "[channel.uncertainty]\ngauge_factor_percent = 1\ndegrees_of_freedom = { gauge_factor_percent = 5 }\n";

/// All that is written and told, with blocks of this size.
fn outputs(folder: &Path, block: u64) -> Vec<String> {
    let channels = channels(&format!("{CODES}{UNCERTAINTY}{READINGS}")).unwrap();
    let samples = folder.join("samples.csv");
    let mut source = Source::of(&samples, "t", &channels).unwrap();
    source.block = block;
    let timed = source.times(folder).unwrap();
    let rows = timed.times.rows.to_string();
    let (mut table, mut told) = (Vec::new(), String::new());
    let write = |rows: &[u8]| {
        table.extend_from_slice(rows);
        Ok(())
    };
    let reject = |rejection| {
        told += &format!("{rejection}\n");
        Ok(())
    };
    let (seen, _) = source.samples(timed, write, reject).unwrap();
    let numbers = paths::text(channels.iter().zip(seen.iter().map(|seen| &seen.paths)));
    let drawn: Vec<_> =
        channels.iter().zip(&seen).map(|(channel, seen)| (channel, &seen.figures, &seen.record)).collect();
    let picture = folder.join("picture.svg");
    plot::write(&picture, "record", "t", &drawn).unwrap();
    let picture = std::fs::read_to_string(picture).unwrap();
    let summaries = drawn.iter().map(|(channel, figures, _)| Summary { channel, figures, time_column: "t" });
    let summaries = summaries.map(|summary| summary.to_string()).collect();
    vec![rows, String::from_utf8(table).unwrap(), told, numbers, picture, summaries]
}

#[test]
fn blocks_of_every_size_give_the_same() {
    let folder = std::env::temp_dir().join(format!("gaugewright blocks {}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("samples.csv"), record()).unwrap();
    let whole = outputs(&folder, 1 << 20);
    assert_eq!(whole[0], "909");
    // Nine rows of the wrong length, ten times set back, eleven codes; the first of each with its line.
    assert_eq!(whole[2].lines().count(), 30, "{}", whole[2]);
    for told in ["10: whole row: ", "12: t: out of order", "14: code: not a number"] {
        assert!(whole[2].contains(told), "{told} is not in\n{}", whole[2]);
    }
    assert!(whole[5].contains("temperature outside") && whole[5].contains("over 2"), "{}", whole[5]);
    for size in [1, 100, 1_111, 5_000] {
        for (found, expected) in outputs(&folder, size).iter().zip(&whole) {
            assert!(found == expected, "blocks of {size} bytes give\n{found}\nnot\n{expected}");
        }
    }
    // What grows or shrinks between the two readings is told.
    let channels = channels(&format!("{CODES}{READINGS}")).unwrap();
    let samples = folder.join("samples.csv");
    let source = Source::of(&samples, "t", &channels).unwrap();
    let timed = source.times(&folder).unwrap();
    std::fs::write(&samples, record().replace("\n5", "\n# 5")).unwrap();
    let told = source.samples(timed, |_| Ok(()), |_| Ok(())).err().unwrap();
    assert!(told.ends_with("samples.csv: it was changed while it was read"), "{told}");
    std::fs::remove_dir_all(folder).unwrap();
}
