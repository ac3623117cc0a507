//! Lines of results, and the budgets that they have to keep: both in one form, `KERNEL CORE name=number ...`. And lines that have to be
//! those which the host expects.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

/// What was found, or what is allowed, of one kernel on one core.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub kernel: String,
    pub core: String,
    /// In the order in which they are shown.
    pub figures: Vec<(String, f64)>,
}

/// The numbers of words like `name=number`, in their order.
pub fn figures<N: FromStr>(words: &str) -> Option<Vec<(String, N)>> {
    let figure = |word: &str| {
        let (name, number) = word.split_once('=')?;
        Some((name.to_owned(), number.parse().ok()?))
    };
    words.split_whitespace().map(figure).collect()
}

/// Where lines that were found are not the expected ones, of which there has to be one.
pub fn differences<S: AsRef<str>>(what: &str, expected: &[S], found: &[S]) -> Vec<String> {
    let line = |lines: &[S], i: usize| lines.get(i).map_or("nothing", S::as_ref).to_owned();
    let lines = 0..expected.len().max(found.len()).max(1);
    let pairs = lines.map(|i| (line(expected, i), line(found, i)));
    let different = pairs.filter(|(expected, found)| expected != found || expected == "nothing");
    different.map(|(expected, found)| format!("{what}: expected {expected}\n    found {found}")).collect()
}

impl Line {
    /// Of the words of a report, or of a budget.
    pub fn parse(kernel: &str, core: &str, words: &str) -> Result<Self, String> {
        let figures = figures(words).ok_or_else(|| format!("cannot be read: {kernel} {core} {words}"))?;
        Ok(Self { kernel: kernel.to_owned(), core: core.to_owned(), figures })
    }

    pub fn figure(&self, name: &str) -> Option<f64> {
        self.figures.iter().find(|(known, _)| known == name).map(|(_, number)| *number)
    }

    pub fn set(&mut self, place: usize, name: &str, number: f64) {
        self.figures.insert(place, (name.to_owned(), number));
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.kernel, self.core)?;
        for (name, number) in &self.figures {
            // Counts are whole; errors are shown to three digits or so.
            if number.fract() == 0.0 {
                write!(f, " {name}={number}")?;
            } else {
                write!(f, " {name}={number:.3}")?;
            }
        }
        Ok(())
    }
}

/// The table of budgets.
pub struct Budgets(BTreeMap<(String, String), Line>);

impl Budgets {
    pub fn parse(text: &str) -> Result<Self, String> {
        let mut all = BTreeMap::new();
        for line in text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let mut parts = line.splitn(3, ' ');
            let (Some(kernel), Some(core), Some(words)) = (parts.next(), parts.next(), parts.next()) else {
                return Err(format!("budget cannot be read: {line}"));
            };
            let key = (kernel.to_owned(), core.to_owned());
            if all.insert(key, Line::parse(kernel, core, words)?).is_some() {
                return Err(format!("two budgets for {kernel} {core}"));
            }
        }
        Ok(Self(all))
    }

    /// What of a line is over its budget by more than `tolerance` of it, or has none though it should. A peer has none.
    pub fn judge(&self, line: &Line, tolerance: f64) -> Vec<String> {
        let Some(budget) = self.0.get(&(line.kernel.clone(), line.core.clone())) else {
            let is_peer = line.kernel.starts_with("peer");
            return if is_peer { Vec::new() } else { vec![format!("no budget for {line}")] };
        };
        let over = budget.figures.iter().filter_map(|(name, limit)| match line.figure(name) {
            Some(number) if number <= *limit * (1.0 + tolerance) => None,
            Some(number) => {
                Some(format!("{} {}: {name} is {number}, the budget {limit}", line.kernel, line.core))
            }
            None => {
                Some(format!("{} {}: has a budget for {name}, but no such figure", line.kernel, line.core))
            }
        });
        over.collect()
    }

    /// Budgets of these cores that no line is for.
    pub fn unused(&self, cores: &[&str], lines: &[Line]) -> Vec<String> {
        let is_unused = |(kernel, core): &&(String, String)| {
            cores.contains(&core.as_str())
                && !lines.iter().any(|line| line.kernel == *kernel && line.core == *core)
        };
        self.0
            .keys()
            .filter(is_unused)
            .map(|(kernel, core)| format!("budget for nothing: {kernel} {core}"))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn budgets() -> Budgets {
        Budgets::parse("# comment\n\nfixed M0 instructions=300 code=700\n").unwrap()
    }

    fn line(words: &str) -> Line {
        Line::parse("fixed", "M0", words).unwrap()
    }

    #[test]
    fn a_wrong_a_missing_and_no_line_are_seen() {
        assert!(differences("x", &["a", "b"], &["a", "b"]).is_empty());
        assert_eq!(differences("x", &["a", "b"], &["a", "c"]), ["x: expected b\n    found c"]);
        assert_eq!(differences("x", &["a", "b"], &["a"]).len(), 1);
        assert_eq!(differences("x", &["a"], &["a", "b"]).len(), 1);
        assert_eq!(differences::<&str>("x", &[], &[]).len(), 1);
    }

    #[test]
    fn over_budget_is_seen() {
        assert_eq!(budgets().judge(&line("instructions=300 code=700 stack=9"), 0.0), [] as [&str; 0]);
        let found = budgets().judge(&line("instructions=301 code=700"), 0.0);
        assert_eq!(found, ["fixed M0: instructions is 301, the budget 300"]);
        assert!(budgets().judge(&line("instructions=301 code=700"), 0.1).is_empty());
        assert_eq!(budgets().judge(&line("instructions=331 code=700"), 0.1).len(), 1);
    }

    #[test]
    fn what_is_missing_is_seen() {
        assert_eq!(budgets().judge(&line("code=1"), 0.0).len(), 1);
        let other = Line { kernel: "other".into(), ..line("code=1") };
        assert_eq!(budgets().judge(&other, 0.0), ["no budget for other M0 code=1"]);
        let peer = Line { kernel: "peer_table".into(), ..line("code=1") };
        assert!(budgets().judge(&peer, 0.0).is_empty());
        assert_eq!(budgets().unused(&["M0"], &[]), ["budget for nothing: fixed M0"]);
        assert!(budgets().unused(&["M3"], &[]).is_empty());
        assert!(Budgets::parse("a M0 x=1\na M0 x=2").is_err());
        assert!(Budgets::parse("a M0 x=one").is_err());
        assert!(Budgets::parse("a").is_err());
    }
}
