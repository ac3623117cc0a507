//! What is wrong with a run: points that do not belong to it, a load or a drift in the middle of it, a curve that it does not
//! support, and one that contradicts the package.
//!
//! Points and steps are looked for by one least-squares fit: the powers of the temperature up to the fitted degree and,
//! where the run goes both ways, a loop of hysteresis (a constant, a slope and a bend for the direction). Each single point and
//! each step from one point on is added in turn; a drift shows as a step. The one that takes most from the sum of squares is
//! reported if chance gives as much once in 100 runs at most (Student's t, the probability divided by the number of things
//! tried), and then belongs to the fit while the next is looked for. Whether a step is large is judged by the scatter that all of them leave.
//!
//! The package is compared by the root mean square, over temperature, of what the run's curve shows more. A constant is taken out, as
//! the zero is compared elsewhere, and a straight line where nothing says how the part expands. The same is tried with the readings
//! and temperatures that the run would have had without each of the usual slips ([`Slip`]).

use crate::advice::{Expected, on_the_part};
use crate::fitted::Fitted;
use crate::job::{Job, Material};
use crate::places::{PIECES, evenly};
use crate::run::Point;
use gaugewright::Gauge;
use gaugewright::commissioning::fit::Direction;
use gaugewright::numeric::coverage_factor;
use gaugewright::units::{Celsius, Fahrenheit, Percent};
use host::channel_file::Scale;
use host::channel_file::sensor::Kind;
use host::describe::{fitted as fitted_between, gauge};

/// Probability of a finding in a run that has nothing wrong.
const LEVEL: f64 = 0.01;
/// What is looked for at most: more are told by the first ones.
const MOST: usize = 3;
/// A step of less than this many standard deviations of the scatter is not worth a word.
const LEAST_SHIFT: f64 = 3.0;
/// Hysteresis above this part of the curve's span is more than a sound bond shows (common practice, no source).
const MOST_HYSTERESIS: f64 = 0.05;
/// What a sound run may differ from the package by, in microstrain for each degree: alloys of one name differ by about one ppm/C, and
/// gauges of one package by less (common practice, no source).
const USUAL: f64 = 1.0;
/// What is more than this is wrong, whatever the cause.
const MOST_OFF: f64 = 3.0;
/// A slip is named as the cause where without it no more than this part of the difference would be left.
const LEFT_BY_CAUSE: f64 = 0.25;

/// What is wrong, a sentence each; nothing where the run is sound.
///
/// # Errors
/// What the library refuses.
pub fn findings(
    job: &Job,
    fitted: &Fitted,
    expected: Option<&Expected>,
    package: Option<Gauge>,
) -> Result<Vec<String>, gaugewright::Error> {
    let mut findings = shifts(fitted);
    findings.extend(hysteresis(fitted));
    findings.extend(support(job, fitted, expected));
    if let (Some(expected), Some(package)) = (expected, package) {
        findings.extend(contradiction(job, fitted, expected, package)?);
    }
    Ok(findings)
}

/// What may have gone wrong all over a run or its package.
#[derive(Clone, Copy)]
enum Slip {
    Sign,
    /// Temperatures of the run in the other unit than the channel file says.
    TemperatureUnit,
    /// Coefficients of the package in the other unit than the channel file says.
    CurveUnit,
}

impl Slip {
    /// Those that are possible: a sensor that is read raw has no unit of temperature.
    fn all(job: &Job) -> impl Iterator<Item = Self> + use<> {
        let is_raw = job.description.sensor.as_ref().is_some_and(|sensor| sensor.kind != Kind::Pair);
        [Self::Sign, Self::TemperatureUnit, Self::CurveUnit]
            .into_iter()
            .filter(move |slip| !(is_raw && matches!(slip, Self::TemperatureUnit)))
    }

    /// What is tried, and what is to be done if that is it.
    fn words(self, job: &Job) -> [String; 2] {
        let gauge = &job.description.gauge;
        let unit_of_curve = gauge.thermal_output.as_ref().map_or(Scale::Celsius, |curve| curve.unit);
        let (name, unit) = other(job.description.temperature_unit);
        let (curve_name, curve_unit) = other(unit_of_curve);
        match self {
            Self::Sign => [
                "with the opposite sign of all readings".to_string(),
                "check the polarity (OUT+ and OUT-, reversed of [channel.bridge]) and the sign of the column"
                    .to_string(),
            ],
            Self::TemperatureUnit => [
                format!("with the temperatures of the run in {name}"),
                format!("check whether temperature_unit has to be \"{unit}\""),
            ],
            Self::CurveUnit => [
                format!("with the package's coefficients in {curve_name}"),
                format!("check whether unit of [channel.gauge.thermal_output] has to be \"{curve_unit}\""),
            ],
        }
    }

    /// The temperature of the part where the run has this one.
    fn temperature(self, job: &Job, read: f64) -> f64 {
        match (self, job.description.temperature_unit) {
            (Self::TemperatureUnit, Scale::Celsius) => Fahrenheit(read).celsius().0,
            (Self::TemperatureUnit, Scale::Fahrenheit) => Celsius(read).fahrenheit().0,
            _ => read,
        }
    }

    /// The other way.
    fn read(self, job: &Job, temperature: f64) -> f64 {
        match (self, job.description.temperature_unit) {
            (Self::TemperatureUnit, Scale::Celsius) => Celsius(temperature).fahrenheit().0,
            (Self::TemperatureUnit, Scale::Fahrenheit) => Fahrenheit(temperature).celsius().0,
            _ => temperature,
        }
    }
}

/// Name and key of the unit that it is not.
const fn other(unit: Scale) -> (&'static str, &'static str) {
    match unit {
        Scale::Celsius => ("Fahrenheit", "F"),
        Scale::Fahrenheit => ("Celsius", "C"),
    }
}

/// The package with its coefficients in the other unit, fitted on the same temperatures.
fn in_other_unit(job: &Job) -> Gauge {
    let mut package = job.description.gauge.clone();
    if let Some(curve) = &mut package.thermal_output {
        let ends = fitted_between(curve);
        (curve.unit, curve.fitted_between) = match curve.unit {
            Scale::Celsius => (Scale::Fahrenheit, ends.map(|end| end.fahrenheit().0)),
            Scale::Fahrenheit => (Scale::Celsius, ends.map(|end| end.0)),
        };
    }
    gauge(&package)
}

/// Root mean square of what the run's curve shows more than the package's on this part, and half of the width of the temperatures that
/// both have; none where they have none in common.
fn off(
    job: &Job,
    fitted: &Fitted,
    package: Gauge,
    slip: Option<Slip>,
) -> Result<Option<(f64, f64)>, gaugewright::Error> {
    let package = if matches!(slip, Some(Slip::CurveUnit)) { in_other_unit(job) } else { package };
    let curve = on_the_part(job, package).instrument_gauge_factor(fitted.gauge_factor);
    let (known, run) = (curve.range(), fitted.curve.temperatures());
    let of_part = |read: f64| slip.map_or(read, |slip| slip.temperature(job, read));
    let low = of_part(run.0.0).max(known.0.0);
    let high = of_part(run.1.0).min(known.1.0);
    if low >= high {
        return Ok(None);
    }
    let sign = if matches!(slip, Some(Slip::Sign)) { -1.0 } else { 1.0 };
    let mut differences = Vec::new();
    for celsius in evenly(low, high, PIECES) {
        let read = slip.map_or(celsius, |slip| slip.read(job, celsius)).clamp(run.0.0, run.1.0);
        let shown = sign * fitted.curve.at(Celsius(read))?.0;
        differences.push(shown - curve.thermal_output(Celsius(celsius))?.0);
    }
    let count = differences.len();
    let mut basis = Basis { columns: Vec::new(), rows: count };
    basis.add(|_| 1.0);
    if job.part.is_none() {
        basis.add(|row| row as f64);
    }
    let left = basis.beyond(differences);
    Ok(Some(((dot(&left, &left) / count as f64).sqrt(), 0.5 * (high - low))))
}

/// Whether the run and the package are of one gauge, and what slip would explain it if not.
fn contradiction(
    job: &Job,
    fitted: &Fitted,
    expected: &Expected,
    package: Gauge,
) -> Result<Option<String>, gaugewright::Error> {
    let Some((as_it_is, half_width)) = off(job, fitted, package, None)? else { return Ok(None) };
    let uncertainty = |material: Option<&Material>| material.map_or(0.0, |it| 1e6 * it.uncertainty().0);
    let expansions = 2.0 * uncertainty(job.part.as_ref()).hypot(uncertainty(job.package_material.as_ref()));
    // The root mean square of a straight line.
    let allowed = |slope: f64| (slope + expansions) * half_width / 3.0_f64.sqrt();
    let widest = widest_band(job, fitted, expected);
    if as_it_is <= allowed(USUAL).max(widest) {
        return Ok(None);
    }
    let mut cause: Option<(Slip, f64)> = None;
    for slip in Slip::all(job) {
        // A package whose other unit the library refuses is no cause.
        let left = off(job, fitted, package, Some(slip)).ok().flatten();
        if let Some((left, _)) =
            left.filter(|(left, _)| *left < cause.map_or(LEFT_BY_CAUSE * as_it_is, |it| it.1))
        {
            cause = Some((slip, left));
        }
    }
    let why = match cause {
        Some((slip, left)) => {
            let [tried, advice] = slip.words(job);
            format!("{tried} it would be {left:.1}: {advice}")
        }
        None if as_it_is <= allowed(MOST_OFF).max(widest) => return Ok(None),
        None => "neither the opposite sign nor another unit of the temperatures or of the package's coefficients explains it: \
                 check that the package is that of this gauge, and the expansion of the part"
            .to_string(),
    };
    let line = if job.part.is_none() {
        ", apart from a straight line for the part's expansion, which is not stated"
    } else {
        ""
    };
    Ok(Some(format!(
        "the run contradicts the package: its curve is {as_it_is:.1} microstrain (root mean square over temperature{line}) off what \
         the package says of this part, where {:.1} is usual; {why}",
        allowed(USUAL)
    )))
}

/// What is known of a point that is left out.
pub struct LeftOut {
    pub point: Point,
    /// Of the reading, more than the curve without it, in microstrain; none where the curve does not reach the point.
    pub off: Option<f64>,
    /// Why it does not belong to the run; none where no check reports it.
    pub why: Option<String>,
}

/// Each point that is left out, judged with the points that stay.
///
/// # Errors
/// What the library refuses.
pub fn left_out(job: &Job, fitted: &Fitted, left_out: Vec<Point>) -> Result<Vec<LeftOut>, String> {
    let judged = |point: Point| {
        let mut points = fitted.points.clone();
        points.push(point);
        points.sort_by_key(|point| point.line);
        let with = Fitted::of(job, fitted.gauge_factor, points)?;
        let start = format!("line {}: ", point.line);
        let why = shifts(&with).into_iter().find_map(|found| found.strip_prefix(&start).map(str::to_string));
        let curve = fitted.curve.at(point.temperature).ok();
        Ok(LeftOut { point, off: curve.map(|curve| point.reading.0 - curve.0), why })
    };
    left_out.into_iter().map(judged).collect()
}

/// Something that may have happened to the readings.
#[derive(Clone, Copy)]
enum Event {
    Point(usize),
    /// From this point on.
    Step(usize),
}

fn shifts(fitted: &Fitted) -> Vec<String> {
    let points = &fitted.points;
    let count = points.len();
    let (low, high) = fitted.curve.temperatures();
    let x = |row: usize| (2.0 * points[row].temperature.0 - low.0 - high.0) / (high.0 - low.0);
    let both_ways = fitted.count(Direction::Heating) > 0 && fitted.count(Direction::Cooling) > 0;
    let direction = |row: usize| if points[row].sweep == Direction::Heating { 1.0 } else { -1.0 };

    let mut basis = Basis { columns: Vec::new(), rows: count };
    for power in 0..=fitted.curve.degree() as i32 {
        basis.add(|row| x(row).powi(power));
    }
    for power in (0..3).filter(|_| both_ways) {
        basis.add(|row| direction(row) * x(row).powi(power));
    }
    let mut residual = basis.beyond((0..count).map(|row| points[row].reading.0).collect());
    // With the size of a step.
    let mut found: Vec<(Option<f64>, String)> = Vec::new();
    let mut scatter = f64::INFINITY;
    while found.len() < MOST {
        // One more for what is looked for, and two at least for the scatter.
        let Some(freedom) = count.checked_sub(basis.columns.len() + 1).filter(|&freedom| freedom >= 2) else {
            break;
        };
        let events = basis.events(&residual);
        let squares = dot(&residual, &residual);
        let Some((event, size, gain)) = events.iter().copied().max_by(|one, other| one.2.total_cmp(&other.2))
        else {
            break;
        };
        let left = ((squares - gain).max(0.0) / freedom as f64).sqrt();
        let student = gain.sqrt() / left;
        if student.is_nan() || student <= critical(events.len(), freedom as u32) {
            break;
        }
        scatter = left;
        let line = |row: usize| points[row].line;
        let more = if size < 0.0 { "less" } else { "more" };
        found.push(match event {
            Event::Point(row) => (None, format!(
                "line {}: {:.2} microstrain at {:.2} C is {:.2} {more} than the other points say, {student:.1} standard deviations",
                line(row),
                points[row].reading.0,
                points[row].temperature.0,
                size.abs()
            )),
            Event::Step(row) => (Some(size), format!(
                "from line {} on the readings show {:.2} microstrain {more} than before: a load, a drift, or a bond that moved",
                line(row),
                size.abs()
            )),
        });
        basis.add(|row| match event {
            Event::Point(at) => f64::from(u8::from(row == at)),
            Event::Step(from) => f64::from(u8::from(row >= from)),
        });
        residual = basis.beyond(residual);
    }
    // By the scatter that all of them leave: a point beside a step makes it wider, and the step look small.
    let is_worth_a_word = |step: Option<f64>| step.is_none_or(|size| size.abs() > LEAST_SHIFT * scatter);
    found.into_iter().filter(|(step, _)| is_worth_a_word(*step)).map(|(_, words)| words).collect()
}

fn hysteresis(fitted: &Fitted) -> Option<String> {
    let found = fitted.hysteresis.as_ref().ok()?;
    let span = fitted.span();
    let (largest, part) = (found.largest.0.abs(), found.largest.0.abs() / span);
    let is_seen = largest > 3.0 * found.standard_uncertainty.0;
    (is_seen && part > MOST_HYSTERESIS).then(|| {
        format!(
            "the hysteresis of {largest:.2} microstrain is {:.0} % of the curve's span of {span:.1}: a sound bond shows less than {:.0} %",
            100.0 * part,
            100.0 * MOST_HYSTERESIS
        )
    })
}

/// Of the run's curve, at the temperatures of the package's.
fn widest_band(job: &Job, fitted: &Fitted, expected: &Expected) -> f64 {
    let bands = expected.curve.iter().map(|&(celsius, _)| fitted.band(celsius, job.coverage));
    bands.fold(0.0, f64::max)
}

/// Whether the fitted curve is better than what it replaces.
fn support(job: &Job, fitted: &Fitted, expected: Option<&Expected>) -> Option<String> {
    let expected = expected?;
    let differs = expected.curve.iter().any(|&(celsius, package)| {
        let Ok(curve) = fitted.since_balance.at(Celsius(celsius)) else { return false };
        (curve.0 - package).abs() > fitted.band(celsius, job.coverage)
    });
    let widest = widest_band(job, fitted, expected);
    (!differs).then(|| {
        format!(
            "the package's curve lies within the band of the fitted one everywhere ({:.2} microstrain off at most, band up to \
             {widest:.2}): the run does not support another",
            expected.largest.1.0.abs()
        )
    })
}

/// The factor of the scatter that chance exceeds with the probability [`LEVEL`] in this many tries.
pub fn critical(tries: usize, freedom: u32) -> f64 {
    /// The largest coverage that there is a factor for.
    const MOST: f64 = 99.99;
    let probability = LEVEL / tries as f64;
    let coverage = 100.0 * (1.0 - probability);
    let factor = |coverage| coverage_factor(Percent(coverage), freedom).unwrap_or(f64::INFINITY);
    if coverage <= MOST {
        return factor(coverage);
    }
    // Beyond, as the normal distribution goes on: so many tries come with as many degrees of freedom.
    factor(MOST) * normal(probability) / normal(1.0 - MOST / 100.0)
}

/// The deviation that a normal variable exceeds with this probability, either way; to 5e-4 (Abramowitz and Stegun, 26.2.23; the
/// constants from memory).
fn normal(probability: f64) -> f64 {
    let t = (-2.0 * (probability / 2.0).ln()).sqrt();
    let over = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let under = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    t - over / under
}

/// Orthonormal columns.
struct Basis {
    columns: Vec<Vec<f64>>,
    rows: usize,
}

impl Basis {
    /// One more, unless the others have all of it.
    fn add(&mut self, column: impl Fn(usize) -> f64) {
        let column: Vec<f64> = (0..self.rows).map(column).collect();
        let whole = dot(&column, &column);
        let rest = self.beyond(column);
        let length = dot(&rest, &rest);
        if length > 1e-20 * whole {
            self.columns.push(rest.iter().map(|entry| entry / length.sqrt()).collect());
        }
    }

    /// What the columns leave of a vector: twice, since the first time leaves rounding.
    fn beyond(&self, mut vector: Vec<f64>) -> Vec<f64> {
        for column in self.columns.iter().chain(&self.columns) {
            let share = dot(column, &vector);
            vector.iter_mut().zip(column).for_each(|(entry, column)| *entry -= share * column);
        }
        vector
    }

    /// Each event with its size and what it takes from the sum of squares. The residual has nothing of the columns, so that only
    /// the length of what they leave of the event is needed.
    fn events(&self, residual: &[f64]) -> Vec<(Event, f64, f64)> {
        let of = |event, product: f64, length: f64| {
            // Less than a hundredth of it is left: the curve can follow the event.
            (length > 0.01).then(|| (event, product / length, product * product / length))
        };
        let mut events = Vec::new();
        let mut sums = vec![0.0; self.columns.len()];
        let mut product = 0.0;
        for row in (0..self.rows).rev() {
            let leverage: f64 = self.columns.iter().map(|column| column[row] * column[row]).sum();
            events.extend(of(Event::Point(row), residual[row], 1.0 - leverage));
            sums.iter_mut().zip(&self.columns).for_each(|(sum, column)| *sum += column[row]);
            product += residual[row];
            // A step of two points is two points.
            if row >= 3 && self.rows - row >= 3 {
                let length = (self.rows - row) as f64 - sums.iter().map(|sum| sum * sum).sum::<f64>();
                events.extend(of(Event::Step(row), product, length));
            }
        }
        events
    }
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}
