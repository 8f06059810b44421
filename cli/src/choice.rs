//! Which formats a run makes, and how each is set: the defaults, then the profile, then the command line.

use std::ops::Deref;

use jigless_core::diag::{Finding, Findings, nearest};
use jigless_core::export::{AnyExporter, Configured, OptionFault, Setting};
use jigless_core::source::Sources;
use jigless_exporters::EXPORTERS;
use serde_json::Value;

use crate::args::{ChoiceArgs, SetArg};
use crate::exit::{Exit, Problem};
use crate::profile::{self, ExporterSection, Profile};

/// A format with its options settled.
pub struct Chosen {
    configured: Box<dyn Configured + 'static>,
    /// A digest of the program, where it is an outside one; empty otherwise.
    pub program: String,
}

impl Deref for Chosen {
    type Target = dyn Configured + 'static;

    fn deref(&self) -> &Self::Target {
        &*self.configured
    }
}

/// Why the choice cannot be met.
#[derive(Debug, Default)]
pub struct Faults {
    /// Problems of the command line.
    pub problems: Vec<Problem>,
    /// The text of the profile.
    pub sources: Sources,
    /// Faults of the profile.
    pub findings: Findings,
}

impl Faults {
    fn is_empty(&self) -> bool {
        self.problems.is_empty() && self.findings.is_empty()
    }
}

impl From<Problem> for Faults {
    fn from(problem: Problem) -> Self {
        Self {
            problems: vec![problem],
            ..Self::default()
        }
    }
}

/// Settles the formats of the command line, all of them where it names none, in the order in which they are listed.
///
/// # Errors
/// Every format and option that there is not, and every value that does not fit.
pub fn settle(args: &ChoiceArgs) -> Result<Vec<Chosen>, Faults> {
    settle_among(EXPORTERS, args)
}

fn settle_among(
    exporters: &[&'static dyn AnyExporter],
    args: &ChoiceArgs,
) -> Result<Vec<Chosen>, Faults> {
    let ids: Vec<&str> = exporters.iter().map(|exporter| exporter.id()).collect();
    let profile = match &args.profile {
        None => Profile::default(),
        Some(path) => {
            let bytes = profile::read_bytes(path)?;
            profile::read(&path.to_string_lossy(), &bytes, &ids).map_err(
                |(sources, findings)| Faults {
                    sources,
                    findings,
                    ..Faults::default()
                },
            )?
        }
    };
    let mut faults = Faults::default();
    for id in args
        .to
        .iter()
        .chain(args.set.iter().map(|set| &set.exporter))
    {
        let problem = unknown_format(id, &ids);
        if !ids.contains(&id.as_str()) && !faults.problems.contains(&problem) {
            faults.problems.push(problem);
        }
    }
    let is_chosen = |id: &str| args.to.is_empty() || args.to.iter().any(|to| to == id);
    for set in &args.set {
        if faults.problems.is_empty() && !is_chosen(&set.exporter) {
            let SetArg {
                exporter, option, ..
            } = set;
            let message = format!("`--set {exporter}.{option}` sets a format that is not made");
            let fix = format!("add --to {exporter}, or leave the setting out");
            faults.problems.push(Problem::usage(message).fix(fix));
        }
    }
    let mut chosen = Vec::new();
    for exporter in exporters {
        let section = profile.exporters.iter().find(|s| s.id == exporter.id());
        let sets: Vec<&SetArg> = args
            .set
            .iter()
            .filter(|s| s.exporter == exporter.id())
            .collect();
        // Every section of the profile is looked at, also of formats that this run does not make.
        match configure(*exporter, section, &sets, &mut faults) {
            Some(configured) if is_chosen(exporter.id()) => chosen.push(Chosen {
                configured,
                program: String::new(),
            }),
            _ => {}
        }
    }
    faults.sources = profile.sources;
    if faults.is_empty() {
        Ok(chosen)
    } else {
        Err(faults)
    }
}

/// That there is no such format.
pub fn unknown_format(id: &str, ids: &[&str]) -> Problem {
    let problem = Problem::usage(format!("there is no format `{id}`"));
    match nearest(id, ids.iter().copied()) {
        Some(near) => problem.fix(format!("did you mean `{near}`?")),
        None => problem.fix("`jigless formats` lists them"),
    }
}

fn configure(
    exporter: &'static dyn AnyExporter,
    section: Option<&ExporterSection>,
    sets: &[&SetArg],
    faults: &mut Faults,
) -> Option<Box<dyn Configured + 'static>> {
    let placed = section.map_or(&[][..], |section| &section.settings);
    let mut settings: Vec<Setting> = placed.iter().map(|p| p.setting.clone()).collect();
    settings.extend(sets.iter().map(|set| Setting {
        key: set.option.clone(),
        value: Value::String(set.value.clone()),
    }));
    let list = match exporter.configure(&settings) {
        Ok(configured) => return Some(configured),
        Err(list) => list,
    };
    for OptionFault {
        setting,
        message,
        fix,
    } in list
    {
        let known = settings
            .get(setting)
            .is_none_or(|s| exporter.options().iter().any(|o| o.key == s.key));
        if let Some(placed) = placed.get(setting) {
            let (code, span) = if known {
                ("option-value", placed.value)
            } else {
                ("unknown-option", placed.key)
            };
            faults
                .findings
                .push(Finding::error(code, span, message).fix(fix));
        } else {
            let exit = if known { Exit::Faulty } else { Exit::Usage };
            let message = format!("{}: {message}", exporter.id());
            faults.problems.push(Problem::new(exit, message).fix(fix));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
    use schemars::JsonSchema;
    use serde::{Deserialize, Serialize};

    use super::*;

    /// Options of the format that the tests set.
    #[derive(Debug, Default, Serialize, Deserialize, JsonSchema)]
    #[serde(default, deny_unknown_fields)]
    struct Options {
        /// A number.
        scale: f64,
    }

    struct Named(&'static str);

    impl Exporter for Named {
        type Options = Options;

        fn id(&self) -> &'static str {
            self.0
        }

        fn summary(&self) -> &'static str {
            "Nothing."
        }

        fn stage(&self) -> Stage {
            Stage::Plan
        }

        fn export(&self, _: &ExportInput, _: &Options) -> Result<Vec<Artifact>, ExportError> {
            Ok(Vec::new())
        }
    }

    static FORMATS: &[&dyn AnyExporter] = &[&Named("dots"), &Named("lines")];

    fn choose(to: &[&str], set: &[&str], profile: Option<&str>) -> Result<Vec<Chosen>, Faults> {
        let file = profile.map(|text| {
            let file = tempfile::NamedTempFile::new().unwrap();
            std::fs::write(file.path(), text).unwrap();
            file
        });
        settle_among(
            FORMATS,
            &ChoiceArgs {
                to: to.iter().map(|&id| id.to_owned()).collect(),
                set: set.iter().map(|set| set.parse().unwrap()).collect(),
                profile: file.as_ref().map(|file| file.path().to_owned()),
            },
        )
    }

    fn scales(chosen: Result<Vec<Chosen>, Faults>) -> Vec<(&'static str, f64)> {
        let chosen = chosen.unwrap_or_else(|faults| panic!("{faults:?}"));
        let scale = |c: &Chosen| (c.id(), c.options()["scale"].as_f64().unwrap());
        chosen.iter().map(scale).collect()
    }

    #[test]
    fn the_command_line_goes_before_the_profile_and_that_before_the_defaults() {
        let profile = Some("export:\n  dots: {scale: 2}\n  lines: {scale: 3}\n");
        assert_eq!(
            scales(choose(&[], &[], None)),
            [("dots", 0.0), ("lines", 0.0)]
        );
        assert_eq!(
            scales(choose(&["lines", "dots"], &[], profile)),
            [("dots", 2.0), ("lines", 3.0)]
        );
        assert_eq!(
            scales(choose(&["dots"], &["dots.scale=4"], profile)),
            [("dots", 4.0)]
        );
    }

    #[test]
    fn what_there_is_not_is_a_matter_of_the_command_line() {
        for (to, set, fix) in [
            (&["dot"][..], &[][..], "did you mean `dots`?"),
            (&[], &["lins.scale=1"], "did you mean `lines`?"),
            (&[], &["dots.scal=1"], "did you mean `scale`?"),
            (
                &["dots"],
                &["lines.scale=1"],
                "add --to lines, or leave the setting out",
            ),
        ] {
            let faults = choose(to, set, None).err().unwrap();
            assert_eq!(faults.problems.len(), 1, "{faults:?}");
            assert_eq!(faults.problems[0].exit, Exit::Usage);
            assert_eq!(faults.problems[0].fix.as_deref(), Some(fix));
        }
        let faults = choose(&[], &["dots.scale=wide"], None).err().unwrap();
        assert_eq!(faults.problems[0].exit, Exit::Faulty);
    }

    #[test]
    fn faults_of_a_profile_point_into_it() {
        // Also in the section of a format that is not made.
        let profile = Some("export:\n  lines:\n    scal: 1\n    scale: wide\n");
        let faults = choose(&["dots"], &[], profile).err().unwrap();
        let placed: Vec<_> = faults.findings.sorted();
        let at = |index: usize| faults.sources.slice(placed[index].span.unwrap());
        assert_eq!((placed[0].code, at(0)), ("unknown-option", "scal"));
        assert_eq!((placed[1].code, at(1)), ("option-value", "wide"));
    }
}
