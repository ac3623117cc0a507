//! One channel through its run: what was read, what follows from it, and what is wrong with it. Then, when the channel file is there with
//! the curves of all channels, the uncertainty of the channel.

use crate::advice::{self, Advice, Expected};
use crate::bench::{Bench, Commissioned};
use crate::budget::{self, CONTRIBUTIONS, Inputs};
use crate::fitted::Fitted;
use crate::installation::Installation;
use crate::job::Job;
use crate::judgement::LeftOut;
use crate::loaded::Loaded;
use crate::package::{Found, Written};
use crate::prediction::Predicted;
use crate::report::Report;
use crate::run::{self, Load, Point};
use crate::zeros::Zeros;
use crate::{judgement, omission, pictures, points, progress};
use host::channel_file::Problem;
use host::files::{Outputs, at, is_same_file, tell_rejected, told};
use host::rejected::Rejected;
use host::rust_module::identifier;
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

/// Of each channel, written to the output directory, with its prefix before them.
pub const OF_CHANNEL: [&str; 9] = [
    "commissioned.rs",
    "report.txt",
    "curve.svg",
    "matches.svg",
    "budget.svg",
    "points.csv",
    "budget.csv",
    REJECTED,
    REJECTED_LOADED,
];
const REJECTED: &str = "rejected.csv";
const REJECTED_LOADED: &str = "rejected_loaded.csv";
/// The channel file with all of their curves.
pub const CHANNEL_FILE: &str = "commissioned.toml";

/// Where the files of a job come from and go to.
pub struct Place<'a> {
    pub channels_name: &'a str,
    pub run_path: &'a Path,
    pub loaded_path: Option<&'a Path>,
    pub is_demo: bool,
    pub out: &'a Path,
    pub outputs: &'a Outputs,
}

impl Place<'_> {
    fn run_name(&self) -> String {
        name_of(self.run_path)
    }

    /// The points of a run; what cannot be used is told, and counted.
    fn read(
        &self,
        path: &Path,
        job: &Job,
        bench: &Bench,
        load: &Load,
        list: &str,
    ) -> Result<(Vec<Point>, usize), Box<dyn Error>> {
        progress("reading the run", &path.display());
        let list_path = self.outputs.path(list);
        let mut rejected = Rejected::create(&list_path).map_err(at(&list_path))?;
        let points = run::read(path, job, bench, load, &mut rejected);
        rejected.flush().map_err(at(&list_path))?;
        tell_rejected(&rejected, path, &self.out.join(list));
        Ok((points?, rejected.count))
    }

    fn told(&self) -> impl Fn(Vec<Problem>) -> String {
        told(self.channels_name)
    }

    /// What is wrong with a channel, with the name of its file.
    fn of_channel(&self, job: &Job, text: &str) -> String {
        format!("{}{}", self.channels_name, job.description.problem(text))
    }

    fn refused(&self, job: &Job) -> impl Fn(gaugewright::Error) -> String {
        |error| format!("{}{}", self.channels_name, job.refused(error))
    }
}

/// Of a file, without its folders, on one line: it stands in comments.
pub fn name_of(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect()
}

/// What stands before the names of the files of each job: the channel's name where there are several.
pub fn prefixes(jobs: &[Job]) -> Vec<String> {
    if jobs.len() == 1 {
        return vec![String::new()];
    }
    let mut prefixes: Vec<String> = Vec::new();
    for job in jobs {
        let mut prefix = identifier(&job.description.name).to_lowercase() + "_";
        while prefixes.contains(&prefix) {
            prefix.push('_');
        }
        prefixes.push(prefix);
    }
    prefixes
}

pub struct Trial {
    pub job: Job,
    bench: Bench,
    prefix: String,
    installation: Installation,
    pub fitted: Fitted,
    /// Points of the run, as it was asked for.
    pub left_out: Vec<LeftOut>,
    loaded: Option<Loaded>,
    pub expected: Option<Expected>,
    pub zeros: Option<Zeros>,
    /// What is wrong.
    pub findings: Vec<String>,
    /// Cells of the run that could not be used.
    pub rejected: usize,
    /// Rows with load in the run, where another one is the loaded run.
    pub not_used: usize,
}

impl Trial {
    /// # Errors
    /// What the channel file says twice or not at all, a run that cannot be used, and what the library refuses.
    pub fn of(mut job: Job, prefix: String, place: &Place) -> Result<Self, Box<dyn Error>> {
        let mut bench = Bench::of(&job).map_err(place.told())?;
        progress("checking the installation", &job.description.name);
        let installation = Installation::of(&job, &bench).map_err(|text| place.of_channel(&job, &text))?;
        let mut findings = installation.findings();
        findings.iter().for_each(|finding| eprintln!("{}", place.of_channel(&job, finding)));
        if let (Some(span), Some(converter)) = (installation.new_span(), &mut job.description.converter) {
            // Codes of the run are read with it, and it is written.
            converter.span_correction = Some(span);
            bench = Bench::of(&job).map_err(place.told())?;
        }
        // Rows with load are no part of the unloaded run.
        let marked = match &job.load {
            Some(Load::Column(name)) => Load::ColumnIfThere(name.clone()),
            _ => Load::None,
        };
        let (all_points, mut rejected) =
            place.read(place.run_path, &job, &bench, &marked, &(prefix.clone() + REJECTED))?;
        let points: Vec<Point> = all_points.iter().filter(|point| point.applied.0 == 0.0).copied().collect();
        let marked_count = all_points.len() - points.len();

        let (left_out, points): (Vec<Point>, Vec<Point>) =
            points.into_iter().partition(|point| job.leave_out.contains(&point.line));
        if let Some(line) = job.leave_out.iter().find(|line| left_out.iter().all(|it| it.line != **line)) {
            let path = place.run_path.display();
            return Err(format!("{path}: --leave-out {line}: no point of the run stands on this line").into());
        }
        progress("fitting", &format!("{} points", points.len()));
        let fitted = Fitted::of(&job, bench.run_factor, points).map_err(at(place.run_path))?;
        let refused = place.refused(&job);
        let expected = advice::expected(&job, &fitted, bench.package).map_err(&refused)?;
        let left_out = judgement::left_out(&job, &fitted, left_out).map_err(at(place.run_path))?;
        let of_run = judgement::findings(&job, &fitted, expected.as_ref(), bench.package).map_err(refused)?;
        of_run.iter().for_each(|finding| eprintln!("{}: {finding}", place.run_path.display()));
        findings.extend(of_run);
        let zeros =
            Zeros::of(&job, &bench, &fitted, &installation).map_err(|text| place.of_channel(&job, &text))?;
        for finding in zeros.iter().flat_map(Zeros::findings) {
            eprintln!("{}", place.of_channel(&job, &finding));
            findings.push(finding);
        }
        let is_left_out = |point: &Point| job.leave_out.contains(&point.line);
        let mut not_used = 0;
        let loaded_run = match (place.loaded_path, &job.load) {
            (Some(path), Some(load)) => {
                let (mut points, more) =
                    place.read(path, &job, &bench, load, &(prefix.clone() + REJECTED_LOADED))?;
                rejected += more;
                if is_same_file(path, place.run_path) {
                    points.retain(|point| !is_left_out(point));
                } else {
                    not_used = marked_count;
                }
                Some((path, points))
            }
            // The run has it in its own rows. One that is left out is no reading without load either.
            _ if marked_count > 0 => {
                let points = all_points.into_iter().filter(|point| !is_left_out(point)).collect();
                Some((place.run_path, points))
            }
            _ => None,
        };
        let loaded = match loaded_run {
            Some((path, points)) => Some(Loaded::of(&job, &bench, &fitted, path, &points).map_err(at(path))?),
            None => None,
        };
        for (loaded, finding) in
            loaded.iter().flat_map(|it| it.findings().into_iter().map(move |text| (it, text)))
        {
            eprintln!("{}: {finding}", loaded.path.display());
            findings.push(format!("loaded run: {finding}"));
        }
        Ok(Self {
            job,
            bench,
            prefix,
            installation,
            fitted,
            left_out,
            loaded,
            expected,
            zeros,
            findings,
            rejected,
            not_used,
        })
    }

    /// Lines that are left out and that a check of this channel reports.
    pub fn explained(&self) -> impl Iterator<Item = u64> + '_ {
        self.left_out.iter().filter(|it| it.why.is_some()).map(|it| it.point.line)
    }

    /// Adds the lines that are left out although no check of any channel reports them: one that is in `explained` is left out of all.
    pub fn judge_left_out(&mut self, explained: &[u64], place: &Place) {
        let lines = self.left_out.iter().map(|it| it.point.line).filter(|line| !explained.contains(line));
        for line in lines {
            let finding = format!("line {line} is left out, and no check reports it as an outlier");
            eprintln!("{}: {finding}", place.run_path.display());
            self.findings.push(finding);
        }
    }

    /// The channel file with what was found for this channel.
    ///
    /// # Errors
    /// If the file is not what was read before.
    pub fn written(&self, text: &str, place: &Place) -> Result<Written, String> {
        self.found(&place.run_name())
            .commissioned(text)
            .map_err(|error| format!("{}: {error}", place.channels_name))
    }

    fn found<'a>(&'a self, run: &'a str) -> Found<'a> {
        Found {
            job: &self.job,
            fitted: &self.fitted,
            loaded: self.loaded.as_ref(),
            new_span: self.installation.new_span(),
            run,
        }
    }

    /// Everything of this channel but the channel file. The report.
    ///
    /// # Errors
    /// A file that cannot be written, and what the library refuses.
    pub fn write(
        &self,
        commissioned: &Commissioned,
        changes: Option<&Vec<String>>,
        place: &Place,
    ) -> Result<String, Box<dyn Error>> {
        let Self { job, bench, installation, fitted, .. } = self;
        let refused = place.refused(job);
        progress("comparing matches", &format!("{} on offer", job.offers.len()));
        let range = commissioned.channel.temperatures();
        let advice: Option<Advice> =
            advice::advise(job, fitted, bench.gauge, bench.error, range).map_err(&refused)?;

        progress("reckoning the uncertainty", &format!("{} contributions", CONTRIBUTIONS.len()));
        let loaded = self.loaded.as_ref();
        let inputs = Inputs { job, bench, installation, fitted, loaded, commissioned };
        let predicted = Predicted::of(&inputs).map_err(&refused)?;
        let budgets = inputs.across().map_err(&refused)?;
        let omissions = omission::omissions(&inputs).map_err(&refused)?;

        progress("writing", &place.out.display());
        let paths = OF_CHANNEL.map(|name| place.outputs.path(&format!("{}{name}", self.prefix)));
        let [constant, report_path, curve, matches, budget_picture, points_path, table, ..] = &paths;
        if changes.is_some() {
            fs::write(constant, self.found(&place.run_name()).constant()).map_err(at(constant))?;
        }
        points::write(points_path, fitted).map_err(at(points_path))?;
        budget::write(table, &budgets).map_err(at(table))?;
        pictures::write_curve(curve, job, fitted, self.expected.as_ref()).map_err(at(curve))?;
        if let Some(advice) = &advice {
            pictures::write_matches(matches, job, advice).map_err(at(matches))?;
        }
        pictures::write_budget(budget_picture, &inputs).map_err(at(budget_picture))?;

        let is_there = |path: &Path| path == report_path || path.exists();
        let of_channel = paths.iter().filter(|path| is_there(path)).filter_map(|path| path.file_name());
        let written: Vec<PathBuf> = (changes.map(|_| CHANNEL_FILE.as_ref()).into_iter())
            .chain(of_channel)
            .map(|name| place.out.join(name))
            .collect();
        let report = Report {
            trial: self,
            place,
            inputs: &inputs,
            omissions: &omissions,
            predicted: predicted.as_ref(),
            advice: advice.as_ref(),
            changes,
            paths: &written,
        };
        let text = report.to_string();
        fs::write(report_path, &text).map_err(at(report_path))?;
        Ok(text)
    }
}
