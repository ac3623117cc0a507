//! How far a long record is read, on a terminal: rows a second, and the time that is left.

use indicatif::{ProgressBar, ProgressStyle};
use std::time::{Duration, Instant};

/// What takes less is not worth a word.
const QUIET: Duration = Duration::from_secs(1);

/// Shows itself on a terminal only, and goes when it is dropped.
pub struct Progress {
    what: &'static str,
    start: Instant,
    bytes: u64,
    of_bytes: u64,
    rows: u64,
    shown: Option<ProgressBar>,
}

impl Progress {
    /// Of the reading of a file of this size.
    pub fn of(what: &'static str, of_bytes: u64) -> Self {
        Self { what, start: Instant::now(), bytes: 0, of_bytes, rows: 0, shown: None }
    }

    /// Counts what was read.
    pub fn add(&mut self, bytes: usize, rows: usize) {
        self.bytes += bytes as u64;
        self.rows += rows as u64;
        let elapsed = self.start.elapsed();
        if elapsed > QUIET {
            let line = words(self.what, self.rows, (self.bytes, self.of_bytes), elapsed);
            let shown = self.shown.get_or_insert_with(|| {
                let style =
                    ProgressStyle::with_template("{msg}").unwrap_or_else(|_| ProgressStyle::default_bar());
                ProgressBar::new_spinner().with_style(style)
            });
            shown.set_message(line);
            shown.tick();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.shown.iter().for_each(ProgressBar::finish_and_clear);
    }
}

/// What is shown after so many rows and so many bytes of all.
fn words(what: &str, rows: u64, (bytes, of_bytes): (u64, u64), elapsed: Duration) -> String {
    let seconds = elapsed.as_secs_f64().max(1e-3);
    let rate = rows as f64 / seconds;
    let share = bytes as f64 / of_bytes.max(1) as f64;
    let left = if bytes == 0 { "unknown".to_string() } else { duration(seconds / share - seconds) };
    format!(
        "{what}: {:.0} %, {rows} rows, {rate:.0} rows a second, time left: {left}",
        100.0 * share.min(1.0)
    )
}

fn duration(seconds: f64) -> String {
    let seconds = seconds.max(0.0).round() as u64;
    let (hours, minutes) = (seconds / 3600, seconds / 60 % 60);
    match (hours, minutes) {
        (0, 0) => format!("{seconds} s"),
        (0, _) => format!("{minutes} min {} s", seconds % 60),
        _ => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_told_in_rows_a_second_and_time_left() {
        let told = |rows, bytes, seconds| words("correcting", rows, bytes, Duration::from_secs(seconds));
        assert_eq!(
            told(800_000, (100, 250), 2),
            "correcting: 40 %, 800000 rows, 400000 rows a second, time left: 3 s"
        );
        assert_eq!(
            told(1000, (10, 1000), 4),
            "correcting: 1 %, 1000 rows, 250 rows a second, time left: 6 min 36 s"
        );
        assert!(told(1, (1, 10_000), 1).ends_with("time left: 2 h 46 min"));
        // Nothing yet, and a header that was not counted.
        assert!(told(0, (0, 10), 1).ends_with(" 0 rows a second, time left: unknown"));
        assert!(told(10, (11, 10), 5).contains(" 100 %, ") && told(10, (11, 10), 5).ends_with("left: 0 s"));
    }
}
