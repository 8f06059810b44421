//! What a profile or the user's configuration says for plans that do not say it themselves: the lengths of screws that
//! can be had, what things cost, and what is left over from earlier work.

use std::path::Path;

use jigless_core::diag::{Finding, Findings};
use jigless_core::load::{Entry, Node, Tree, Value, parse};
use jigless_core::source::Sources;

use crate::codes;
use crate::digest::sha256;
use crate::exit::{Exit, Problem};
use crate::profile::{self, FOR_PLANS, PLAN};
use crate::styled::shown;

/// The texts of profiles that say something for plans, the strongest first.
#[derive(Debug, Clone, Default)]
pub struct PlanDefaults {
    texts: Vec<(String, Vec<u8>)>,
}

impl PlanDefaults {
    /// Of the user's configuration, if there is one, and of a profile, if one is named. What is wrong with them is told
    /// where formats are settled.
    ///
    /// # Errors
    /// When one of them cannot be read.
    pub fn read(profile: Option<&Path>) -> Result<Self, Problem> {
        let user = profile::user_file().filter(|file| file.exists());
        let mut texts = Vec::new();
        for file in profile.into_iter().chain(user.as_deref()) {
            let bytes = profile::read_bytes(file)?;
            let name = file.to_string_lossy().into_owned();
            let mut sources = Sources::default();
            let says =
                parse(&mut sources, &name, &bytes).is_ok_and(|root| root.get(PLAN).is_some());
            if says {
                texts.push((name, bytes));
            }
        }
        Ok(Self { texts })
    }

    /// The same, and what a file of offcuts says, which goes before all profiles.
    ///
    /// # Errors
    /// When it cannot be read, or is no such file.
    pub fn with_offcuts(mut self, file: Option<&Path>) -> Result<Self, Problem> {
        let Some(file) = file else { return Ok(self) };
        let bytes = profile::read_bytes(file)?;
        let name = file.to_string_lossy().into_owned();
        let root = parse(&mut Sources::default(), &name, &bytes).ok();
        let has_any = root.is_some_and(|root| {
            root.get(PLAN)
                .is_some_and(|plan| plan.get("offcuts").is_some())
        });
        if !has_any {
            let message = format!("{} is no file of offcuts", shown(file));
            return Err(Problem::new(Exit::Faulty, message)
                .fix("name an `offcuts.yaml`, which begins with `plan:` and `offcuts:`"));
        }
        self.texts.insert(0, (name, bytes));
        Ok(self)
    }

    /// SHA-256 of all of it; nothing where no profile says anything.
    pub fn digest(&self) -> Option<String> {
        let all: Vec<u8> = self
            .texts
            .iter()
            .flat_map(|(_, bytes)| bytes.clone())
            .collect();
        (!self.texts.is_empty()).then(|| sha256(&all))
    }

    /// Gives a plan what it does not say itself. Places are those of the profile.
    ///
    /// # Errors
    /// What is wrong with the text of a profile.
    pub fn give(&self, sources: &mut Sources, tree: &mut Tree) -> Result<(), Findings> {
        for (name, bytes) in &self.texts {
            let root = parse(sources, name, bytes)?;
            let Some(section) = root.get(PLAN) else {
                continue;
            };
            let Value::Map(entries) = &section.value else {
                let message = format!("`{PLAN}` must be a map, and this is {}", section.kind());
                let finding = Finding::error(codes::NOT_A_MAP, section.span, message);
                return Err(finding.fix("write `lengths_sold: [...]` below it").into());
            };
            for entry in entries
                .iter()
                .filter(|entry| FOR_PLANS.contains(&entry.key.value.as_str()))
            {
                add(&mut tree.main, entry);
            }
        }
        Ok(())
    }
}

fn add(plan: &mut Node, entry: &Entry) {
    if plan.get(&entry.key.value).is_some() {
        return;
    }
    if let Value::Map(entries) = &mut plan.value {
        entries.push(entry.clone());
    }
}
