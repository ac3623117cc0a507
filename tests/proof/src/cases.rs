//! What is proved: every channel of the test set, in the kernel type that takes every channel and, where it fits, in the
//! default one, on both paths.

use gaugewright::CompensatedChannel;
use gaugewright::fixed::{CompensatedKernel, Kernel};
use gaugewright::kernel::ErrorBound;
use gaugewright::units::Nanostrain;

use crate::script::{Path, Script};
use support::arithmetic::Description;
use support::{compensated_set, test_set};

pub struct Case {
    pub title: String,
    pub path: Path,
    pub bound: Nanostrain,
    pub script: Script,
}

impl Case {
    fn of<const D: usize, const F: usize>(
        title: &str,
        path: Path,
        bound: &ErrorBound,
        description: &Description<D, F>,
    ) -> Self {
        let title = format!("{title} <{D}, {F}>");
        let bound = bound_of(path, bound);
        let script = Script::of(&title, description, path, bound, None);
        Self { title, path, bound, script }
    }

    pub fn file_name(&self) -> String {
        let words = format!("{} {}.gappa", self.title.replace(['<', '>', ','], ""), self.path.name());
        words.replace(' ', "-")
    }
}

pub fn bound_of(path: Path, bound: &ErrorBound) -> Nanostrain {
    match path {
        Path::OneCall => bound.reading.total,
        Path::Split => bound.point.total,
    }
}

pub fn all() -> Vec<Case> {
    let mut cases = Vec::new();
    for (name, channel) in test_set() {
        any(&mut cases, &name, &channel.try_fixed::<5, 3>().unwrap());
        if let Ok(usual) = channel.try_fixed::<4, 1>() {
            any(&mut cases, &name, &usual);
        }
    }
    for (name, channel) in compensated_set() {
        two_temperatures::<5, 3>(&mut cases, &name, &channel).unwrap();
        let _degree_five_does_not_fit = two_temperatures::<4, 1>(&mut cases, &name, &channel);
    }
    cases
}

fn any<const D: usize, const F: usize>(cases: &mut Vec<Case>, name: &str, kernel: &Kernel<D, F>) {
    let constants = kernel.constants();
    for path in Path::ALL {
        cases.push(Case::of(name, path, &kernel.error_bound(), &Description::of(&constants)));
    }
}

fn two_temperatures<const D: usize, const F: usize>(
    cases: &mut Vec<Case>,
    name: &str,
    channel: &CompensatedChannel,
) -> Result<(), gaugewright::Error> {
    let kernel: CompensatedKernel<D, F> = channel.try_fixed()?;
    let constants = kernel.constants();
    for path in Path::ALL {
        let description = Description::of_two_temperatures(&constants);
        cases.push(Case::of(name, path, &kernel.error_bound(), &description));
    }
    Ok(())
}
