//! Which formats a run makes, and how each is set: the defaults, then the profile, then the command line.

use std::ops::Deref;
use std::path::Path;

use jigless_core::diag::{Finding, Findings, nearest};
use jigless_core::export::{AnyExporter, Configured, OptionFault, Setting};
use jigless_core::plan::Plan;
use jigless_core::source::Sources;
use jigless_exporters::{EXPORTERS, renamed};
use serde_json::Value;

use crate::args::{ChoiceArgs, SetArg};
use crate::codes;
use crate::exit::{Exit, Problem};
use crate::outside::Outside;
use crate::profile::{self, PlacedSetting, Profile};

/// A format with its options settled.
pub struct Chosen {
    configured: Box<dyn Configured + 'static>,
    /// A digest of the program, where it is an outside one; empty otherwise.
    pub program: String,
    /// What it makes, in a line.
    pub summary: &'static str,
    /// Whether the command line names it.
    pub named: bool,
    /// Where its options come from.
    pub options_from: OptionsFrom,
}

/// Where the options of a format come from: the strongest source that sets any.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OptionsFrom {
    /// All are defaults.
    Defaults,
    /// A profile or the user's configuration.
    Profile,
    /// The command line.
    CommandLine,
}

impl Chosen {
    /// Whether the user asked for this format, so that it is an error if it cannot be made.
    pub fn is_asked_for(&self) -> bool {
        self.named || self.options_from == OptionsFrom::CommandLine
    }

    /// Whether it is made of a plan: because the user asked for it, or because it suits the plan.
    pub fn is_made_of(&self, plan: &Plan) -> bool {
        self.is_asked_for() || self.suits(plan)
    }
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
    /// Problems of the command line, and of programs.
    pub problems: Vec<Problem>,
    /// Faults of the user's configuration and of the profile, each with its text.
    pub findings: Vec<(Sources, Findings)>,
}

impl Faults {
    fn is_empty(&self) -> bool {
        self.problems.is_empty()
            && self
                .findings
                .iter()
                .all(|(_, findings)| findings.is_empty())
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

/// A format before its options are settled.
pub struct Format {
    /// The format itself.
    pub exporter: &'static dyn AnyExporter,
    /// See [`Chosen::program`].
    program: String,
}

/// Where formats and options come from, the weakest first.
pub struct Setup {
    built_in: &'static [&'static dyn AnyExporter],
    /// The user's configuration, then the profile.
    profiles: Vec<Profile>,
}

impl Setup {
    /// Reads the user's configuration, if there is one, and the profile, if one is named.
    ///
    /// # Errors
    /// What is wrong with them.
    pub fn read(profile: Option<&Path>) -> Result<Self, Faults> {
        let user = profile::user_file().filter(|file| file.exists());
        let files: Vec<&Path> = user.as_deref().into_iter().chain(profile).collect();
        Self::of(EXPORTERS, &files)
    }

    fn of(built_in: &'static [&'static dyn AnyExporter], files: &[&Path]) -> Result<Self, Faults> {
        let mut profiles = Vec::new();
        let mut faults = Faults::default();
        for file in files {
            match profile::read(file, &profile::read_bytes(file)?) {
                Ok(profile) => profiles.push(profile),
                Err(found) => faults.findings.push(found),
            }
        }
        let setup = Self { built_in, profiles };
        let own: Vec<&str> = setup
            .built_in
            .iter()
            .map(|exporter| exporter.id())
            .collect();
        let ids = setup.ids();
        for profile in &setup.profiles {
            let findings = profile::check_ids(profile, &own, &ids);
            if !findings.is_empty() {
                faults.findings.push((profile.sources.clone(), findings));
            }
        }
        if faults.is_empty() {
            Ok(setup)
        } else {
            Err(faults)
        }
    }

    /// Ids of all formats, in the order in which they are listed.
    pub fn ids(&self) -> Vec<&str> {
        let mut ids: Vec<&str> = self.built_in.iter().map(|exporter| exporter.id()).collect();
        for section in self.profiles.iter().flat_map(|profile| &profile.outside) {
            if !ids.contains(&section.id.as_str()) {
                ids.push(&section.id);
            }
        }
        ids
    }

    /// The formats with these ids. Only programs that are wanted are run.
    ///
    /// # Errors
    /// Programs that cannot be used.
    pub fn formats(&self, wanted: impl Fn(&str) -> bool) -> Result<Vec<Format>, Vec<Problem>> {
        let mut formats = Vec::new();
        let mut problems = Vec::new();
        for id in self.ids().into_iter().filter(|id| wanted(id)) {
            if let Some(exporter) = self.built_in.iter().find(|exporter| exporter.id() == id) {
                formats.push(Format {
                    exporter: *exporter,
                    program: String::new(),
                });
                continue;
            }
            // The profile overrides the user's configuration.
            let mut profiles = self.profiles.iter().rev();
            let found = profiles.find_map(|profile| {
                let section = profile.outside.iter().find(|section| section.id == id)?;
                Some((&profile.name, section))
            });
            let Some((name, section)) = found else {
                continue;
            };
            match Outside::describe(id, section.program.clone(), name) {
                Ok(outside) => formats.push(Format {
                    exporter: outside,
                    program: outside.digest(),
                }),
                Err(problem) => problems.push(problem),
            }
        }
        if problems.is_empty() {
            Ok(formats)
        } else {
            Err(problems)
        }
    }

    /// Settles the formats of the command line, all of them where it names none (a run then makes those that suit a
    /// plan), in the order in which they are listed. `corrections` come between the profile and the command line.
    ///
    /// # Errors
    /// Every format and option that there is not, and every value that does not fit.
    pub fn settle(&self, args: &ChoiceArgs, corrections: &[SetArg]) -> Result<Vec<Chosen>, Faults> {
        let mut faults = Faults::default();
        let ids = self.ids();
        for id in args.to.iter().chain(args.set.iter().map(|set| &set.format)) {
            let problem = unknown_format(id, &ids);
            if !ids.contains(&id.as_str()) && !faults.problems.contains(&problem) {
                faults.problems.push(problem);
            }
        }
        let is_chosen = |id: &str| args.to.is_empty() || args.to.iter().any(|to| to == id);
        for set in &args.set {
            if faults.problems.is_empty() && !is_chosen(&set.format) {
                let SetArg { format, option, .. } = set;
                let message = format!("`--set {format}.{option}` sets a format that is not made");
                let fix = format!("add --to {format}, or leave the setting out");
                faults.problems.push(Problem::usage(message).fix(fix));
            }
        }
        // Every section of a profile is looked at, also of formats that this run does not make; but no program is run
        // for that alone.
        let is_built_in = |id: &str| self.built_in.iter().any(|exporter| exporter.id() == id);
        let formats = match self.formats(|id| is_chosen(id) || is_built_in(id)) {
            Ok(formats) => formats,
            Err(problems) => {
                faults.problems.extend(problems);
                return Err(faults);
            }
        };
        let mut placed = self.unknown_to_machines(&formats);
        let sets: Vec<&SetArg> = corrections.iter().chain(&args.set).collect();
        let mut chosen = Vec::new();
        for Format { exporter, program } in formats {
            let id = exporter.id();
            let configured = self.configure(exporter, &sets, &mut faults.problems, &mut placed);
            if let Some(configured) = configured.filter(|_| is_chosen(id)) {
                chosen.push(Chosen {
                    configured,
                    program,
                    summary: exporter.summary(),
                    named: !args.to.is_empty(),
                    options_from: if args.set.iter().any(|set| set.format == id) {
                        OptionsFrom::CommandLine
                    } else if self.sets(exporter) {
                        OptionsFrom::Profile
                    } else {
                        OptionsFrom::Defaults
                    },
                });
            }
        }
        let sources = self.profiles.iter().map(|profile| profile.sources.clone());
        faults.findings.extend(sources.zip(placed));
        if faults.is_empty() {
            Ok(chosen)
        } else {
            Err(faults)
        }
    }

    /// For each profile, options for a machine that no format has. A program that was not run may have any.
    fn unknown_to_machines(&self, formats: &[Format]) -> Vec<Findings> {
        let all = formats.len() == self.ids().len();
        let options = formats.iter().flat_map(|format| format.exporter.options());
        let known: Vec<String> = options.map(|option| option.key).collect();
        let unknown = |placed: &&PlacedSetting| all && !known.contains(&placed.setting.key);
        let unknown_of = |profile: &Profile| {
            let mut findings = Findings::new();
            for placed in profile.machine.iter().filter(unknown) {
                let key = &placed.setting.key;
                let mut former = formats.iter().flat_map(|f| f.exporter.renamed_options());
                if let Some((_, name)) = former.find(|(former, _)| former == key) {
                    let message = format!("option `{key}` is called `{name}` now");
                    let finding = Finding::error(codes::UNKNOWN_OPTION, placed.key, message);
                    findings.push(finding.fix(format!("write `{name}`")));
                    continue;
                }
                let message = format!("no format has an option `{key}`");
                let fix = match nearest(key, known.iter().map(String::as_str)) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => "`jigless formats` lists them".to_owned(),
                };
                findings.push(Finding::error(codes::UNKNOWN_OPTION, placed.key, message).fix(fix));
            }
            findings
        };
        self.profiles.iter().map(unknown_of).collect()
    }

    /// Whether a profile sets an option of a format.
    fn sets(&self, exporter: &dyn AnyExporter) -> bool {
        let options = exporter.options();
        let knows = |placed: &PlacedSetting| options.iter().any(|o| o.key == placed.setting.key);
        self.profiles.iter().any(|profile| {
            let mut sections = profile.exporters.iter();
            sections.any(|section| section.id == exporter.id()) || profile.machine.iter().any(knows)
        })
    }

    fn configure(
        &self,
        exporter: &'static dyn AnyExporter,
        sets: &[&SetArg],
        problems: &mut Vec<Problem>,
        findings: &mut [Findings],
    ) -> Option<Box<dyn Configured + 'static>> {
        let mut settings: Vec<Setting> = Vec::new();
        let mut places = Vec::new();
        for (index, profile) in self.profiles.iter().enumerate() {
            let options = exporter.options();
            let knows =
                |placed: &&PlacedSetting| options.iter().any(|o| o.key == placed.setting.key);
            let machine = profile.machine.iter().filter(knows);
            let sections = profile.exporters.iter().filter(|s| s.id == exporter.id());
            for placed in machine.chain(sections.flat_map(|section| &section.settings)) {
                settings.push(placed.setting.clone());
                places.push((index, placed));
            }
        }
        let sets = sets.iter().filter(|set| set.format == exporter.id());
        settings.extend(sets.map(|set| Setting {
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
            if let Some((index, placed)) = places.get(setting) {
                let (code, span) = if known {
                    (codes::OPTION_VALUE, placed.value)
                } else {
                    (codes::UNKNOWN_OPTION, placed.key)
                };
                findings[*index].push(Finding::error(code, span, message).fix(fix));
            } else {
                let exit = if known { Exit::Faulty } else { Exit::Usage };
                let message = format!("{}: {message}", exporter.id());
                problems.push(Problem::new(exit, message).fix(fix));
            }
        }
        None
    }
}

/// [`Setup::settle`] with the user's configuration and the profile of the command line.
///
/// # Errors
/// As there.
pub fn settle(args: &ChoiceArgs, corrections: &[SetArg]) -> Result<Vec<Chosen>, Faults> {
    Setup::read(args.profile.as_deref())?.settle(args, corrections)
}

/// That there is no such format.
pub fn unknown_format(id: &str, ids: &[&str]) -> Problem {
    if let Some(name) = renamed(id) {
        let problem = Problem::usage(format!("format `{id}` is called `{name}` now"));
        return problem.fix(format!("write `{name}`"));
    }
    let problem = Problem::usage(format!("there is no format `{id}`"));
    match nearest(id, ids.iter().copied()) {
        Some(near) => problem.fix(format!("did you mean `{near}`?")),
        None => problem.fix("`jigless formats` lists them"),
    }
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
        let files: Vec<&Path> = file.iter().map(tempfile::NamedTempFile::path).collect();
        let choice = ChoiceArgs {
            to: to.iter().map(|&id| id.to_owned()).collect(),
            set: set.iter().map(|set| set.parse().unwrap()).collect(),
            profile: None,
        };
        Setup::of(FORMATS, &files)?.settle(&choice, &[])
    }

    fn scales(chosen: Result<Vec<Chosen>, Faults>) -> Vec<(&'static str, f64)> {
        let chosen = chosen.unwrap_or_else(|faults| panic!("{faults:?}"));
        let scale = |c: &Chosen| (c.id(), c.options()["scale"].as_f64().unwrap());
        chosen.iter().map(scale).collect()
    }

    #[test]
    fn the_command_line_overrides_the_profile_and_that_the_defaults() {
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
    fn a_format_that_is_named_or_set_is_asked_for() {
        let asked = |to: &[&str], set: &[&str], profile| {
            let chosen = choose(to, set, profile).unwrap_or_else(|faults| panic!("{faults:?}"));
            let asked = |c: &Chosen| (c.options_from, c.is_asked_for());
            chosen.iter().map(asked).collect::<Vec<_>>()
        };
        let (none, profile, line) = (
            OptionsFrom::Defaults,
            OptionsFrom::Profile,
            OptionsFrom::CommandLine,
        );
        assert_eq!(asked(&[], &[], None), [(none, false), (none, false)]);
        assert_eq!(asked(&["lines"], &[], None), [(none, true)]);
        assert_eq!(
            asked(&[], &["dots.scale=2"], None),
            [(line, true), (none, false)]
        );
        let machine = Some("machine: {scale: 2}\n");
        assert_eq!(
            asked(&[], &[], machine),
            [(profile, false), (profile, false)]
        );
    }

    #[test]
    fn what_is_said_of_a_machine_goes_to_every_format_that_knows_it() {
        let profile = Some("machine: {scale: 2}\nexport:\n  lines: {scale: 3}\n");
        assert_eq!(
            scales(choose(&[], &[], profile)),
            [("dots", 2.0), ("lines", 3.0)]
        );
        let faults = choose(&[], &[], Some("machine: {scal: 2}\n"))
            .err()
            .unwrap();
        let (sources, findings) = faults.findings.into_iter().next().unwrap();
        let found = findings.sorted();
        assert_eq!(found.len(), 1);
        assert_eq!(sources.slice(found[0].span.unwrap()), "scal");
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
        let (sources, findings) = faults.findings.into_iter().next().unwrap();
        let placed: Vec<_> = findings.sorted();
        let at = |index: usize| sources.slice(placed[index].span.unwrap());
        assert_eq!((placed[0].code, at(0)), (codes::UNKNOWN_OPTION, "scal"));
        assert_eq!((placed[1].code, at(1)), (codes::OPTION_VALUE, "wide"));
    }
}
