//! A long record reduced to what a picture can show: the smallest and the largest value of every pixel
//! column.

use std::ops::Range;

/// Polylines through those values, in order of time. A value that is none interrupts the line, if the gap is
/// as wide as a column.
#[derive(Clone, Default)]
pub struct Envelope {
    runs: Vec<Vec<Column>>,
    current: Option<Column>,
    interrupted: bool,
}

impl Envelope {
    /// The next sample, and the column that it is in.
    pub fn add(&mut self, time: f64, number: usize, value: Option<f64>) {
        let Some(value) = value else {
            self.interrupted = true;
            return;
        };
        match &mut self.current {
            Some(open) if open.number == number => open.take(time, value),
            _ => {
                let gap = match self.current.replace(Column::of(number, time, value)) {
                    Some(done) => {
                        done.end(&mut self.runs);
                        self.interrupted && number > done.number + 1
                    }
                    None => true,
                };
                if gap {
                    self.runs.push(Vec::new());
                }
            }
        }
        self.interrupted = false;
    }

    /// Up to the last sample: through both values of every column.
    pub fn lines(&self) -> Vec<Vec<(f64, f64)>> {
        self.runs().iter().map(|run| run.iter().flat_map(Column::points).collect()).collect()
    }

    /// Up to the last sample: the areas between the smallest and the largest values, each as its outline.
    pub fn areas(&self) -> Vec<Vec<(f64, f64)>> {
        let outline = |run: &Vec<Column>| {
            let (below, above) = (run.iter().map(|it| it.low), run.iter().rev().map(|it| it.high));
            below.chain(above).collect()
        };
        self.runs().iter().map(outline).collect()
    }

    fn runs(&self) -> Vec<Vec<Column>> {
        let mut runs = self.runs.clone();
        if let Some(last) = &self.current {
            last.end(&mut runs);
        }
        runs
    }
}

/// The columns in which a value is none, neighbours joined.
#[derive(Clone, Default)]
pub struct Gaps(Vec<Range<usize>>);

impl Gaps {
    /// A sample without a value, in this column.
    pub fn add(&mut self, number: usize) {
        match self.0.last_mut() {
            Some(gap) if number <= gap.end => gap.end = number + 1,
            _ => self.0.push(number..number + 1),
        }
    }

    pub fn columns(&self) -> &[Range<usize>] {
        &self.0
    }
}

#[derive(Clone, Copy)]
struct Column {
    number: usize,
    low: (f64, f64),
    high: (f64, f64),
}

impl Column {
    fn of(number: usize, time: f64, value: f64) -> Self {
        Self { number, low: (time, value), high: (time, value) }
    }

    fn take(&mut self, time: f64, value: f64) {
        if value < self.low.1 {
            self.low = (time, value);
        }
        if value > self.high.1 {
            self.high = (time, value);
        }
    }

    fn end(&self, runs: &mut [Vec<Self>]) {
        if let Some(run) = runs.last_mut() {
            run.push(*self);
        }
    }

    /// One or two, in order of time.
    fn points(&self) -> impl Iterator<Item = (f64, f64)> + use<> {
        let (first, second) =
            if self.low.0 <= self.high.0 { (self.low, self.high) } else { (self.high, self.low) };
        [Some(first), (second != first).then_some(second)].into_iter().flatten()
    }
}

/// The column of a time within these.
pub fn column(time: f64, times: &Range<f64>, columns: usize) -> usize {
    ((time - times.start) / (times.end - times.start) * columns as f64) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ramp(rows: u32, none: Range<u32>) -> impl Iterator<Item = (f64, Option<f64>)> {
        (0..rows).map(move |row| (f64::from(row), (!none.contains(&row)).then_some(f64::from(row % 7))))
    }

    fn envelope(
        samples: impl Iterator<Item = (f64, Option<f64>)>,
        times: &Range<f64>,
    ) -> Vec<Vec<(f64, f64)>> {
        let mut envelope = Envelope::default();
        samples.for_each(|(time, value)| envelope.add(time, column(time, times, 100), value));
        envelope.lines()
    }

    fn gaps(samples: impl Iterator<Item = (f64, Option<f64>)>, times: &Range<f64>) -> Vec<Range<usize>> {
        let mut gaps = Gaps::default();
        let none = samples.filter(|(_, value)| value.is_none());
        none.for_each(|(time, _)| gaps.add(column(time, times, 100)));
        gaps.columns().to_vec()
    }

    #[test]
    fn a_long_record_becomes_two_points_a_column() {
        let lines = envelope(ramp(10_000, 0..0), &(0.0..10_000.0));
        assert_eq!(lines.len(), 1);
        assert!(lines[0].len() <= 200);
        assert!(lines[0].windows(2).all(|pair| pair[0].0 < pair[1].0));
        assert!(lines[0].iter().all(|(_, value)| *value == 0.0 || *value == 6.0));
    }

    #[test]
    fn a_short_record_stays_whole() {
        let lines = envelope(ramp(5, 0..0), &(0.0..5.0));
        assert_eq!(lines, [vec![(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0), (4.0, 4.0)]]);
    }

    #[test]
    fn an_area_goes_along_the_smallest_and_back_along_the_largest_values() {
        let mut band = Envelope::default();
        for (time, number, middle) in [(0.0, 0, 5.0), (1.0, 0, 6.0), (2.0, 1, 7.0)] {
            [middle - 2.0, middle + 1.0].into_iter().for_each(|value| band.add(time, number, Some(value)));
        }
        assert_eq!(band.areas(), [vec![(0.0, 3.0), (2.0, 5.0), (2.0, 8.0), (1.0, 7.0)]]);
        // Two areas where a gap is between.
        band.add(3.0, 2, None);
        [1.0, 2.0].into_iter().for_each(|value| band.add(9.0, 9, Some(value)));
        assert_eq!(band.areas().len(), 2);
        assert_eq!(band.areas()[1], [(9.0, 1.0), (9.0, 2.0)]);
    }

    #[test]
    fn only_a_gap_that_shows_interrupts_the_line() {
        assert_eq!(envelope(ramp(10_000, 2_000..3_000), &(0.0..10_000.0)).len(), 2);
        assert_eq!(envelope(ramp(10_000, 2_000..2_003), &(0.0..10_000.0)).len(), 1);
        assert_eq!(gaps(ramp(10_000, 2_000..3_000), &(0.0..10_000.0)), std::slice::from_ref(&(20..30)));
        assert_eq!(gaps(ramp(10_000, 2_000..2_003), &(0.0..10_000.0)), std::slice::from_ref(&(20..21)));
    }
}
