//! The feed of revisions (Atom, RFC 4287): an entry for each revision that has a date.

use std::fmt::Write;

use chrono::DateTime;
use jigless_exporters::escaped;

use super::PLANS;
use super::about::About;
use super::html::address;

/// How many entries there are at most: the newest.
const MOST: usize = 200;

struct Entry {
    date: i64,
    title: String,
    link: String,
    /// What the revision says and nothing else.
    digest: String,
    summary: String,
}

/// The feed; none where no revision has a date, since a feed without dates says nothing. `address` is that of the site;
/// `date` is that of revisions without one of their own.
pub fn feed(site: &str, at: Option<&str>, plans: &[About], date: Option<i64>) -> Option<String> {
    let mut entries: Vec<Entry> = plans.iter().flat_map(|plan| entries(plan, date)).collect();
    entries.sort_by(|a, b| b.date.cmp(&a.date).then_with(|| a.link.cmp(&b.link)));
    entries.truncate(MOST);
    let newest = entries.first()?.date;
    let at = escaped(at.unwrap_or_default());
    let mut text = format!(
        "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\">\n<title>{0}</title>\n\
         <id>{1}</id>\n<updated>{2}</updated>\n<author><name>{0}</name></author>\n\
         <link rel=\"self\" href=\"{at}feed.xml\"/>\n<link href=\"{at}index.html\"/>\n",
        escaped(site),
        named_by(&crate::digest::sha256(format!("{site} {at}").as_bytes())),
        moment(newest),
    );
    for entry in &entries {
        // Writing to a String cannot fail.
        let _ = write!(
            text,
            "<entry>\n<title>{}</title>\n<id>{}</id>\n<updated>{}</updated>\n<link href=\"{at}{}\"/>\n\
             <summary>{}</summary>\n</entry>\n",
            escaped(&entry.title),
            named_by(&entry.digest),
            moment(entry.date),
            escaped(&entry.link),
            escaped(&entry.summary),
        );
    }
    text.push_str("</feed>\n");
    Some(text)
}

fn entries(plan: &About, date: Option<i64>) -> Vec<Entry> {
    let folder = format!("{PLANS}/{}", address(&plan.name));
    let titled = |revision: Option<&str>| match revision {
        Some(revision) => format!("{}, revision {revision}", plan.title),
        None => plan.title.clone(),
    };
    // What an entry says came to be with the revision before the one after it.
    let changes = |number: usize| match plan.earlier.get(number) {
        None => "The first revision.".to_owned(),
        Some(before) if before.changes.is_empty() => "Nothing that is made has changed.".to_owned(),
        Some(before) => before.changes.join("\n"),
    };
    let digest =
        |digest: &str, name: &str| crate::digest::sha256(format!("{name} {digest}").as_bytes());
    let mut all = Vec::new();
    if let Some(date) = plan.date().or(date) {
        all.push(Entry {
            date,
            title: titled(plan.revision.as_deref()),
            link: format!("{folder}/index.html"),
            digest: digest(&plan.digest, &plan.name),
            summary: if plan.notes.is_empty() {
                changes(0)
            } else {
                plan.notes.join("\n")
            },
        });
    }
    for (number, earlier) in plan.earlier.iter().enumerate() {
        if let Some(date) = earlier.date() {
            let name = format!("{}/revisions/{}", plan.name, earlier.name);
            all.push(Entry {
                date,
                title: titled(Some(earlier.title())),
                link: format!("{PLANS}/{}/index.html", address(&name)),
                digest: digest(&earlier.digest, &name),
                summary: changes(number + 1),
            });
        }
    }
    all
}

/// A name for all time: a UUID of version 8 (RFC 9562), whose bits are those of a digest.
fn named_by(digest: &str) -> String {
    let mut hex: String = digest.chars().take(32).collect();
    hex.replace_range(12..13, "8");
    hex.replace_range(16..17, "8");
    format!(
        "urn:uuid:{}-{}-{}-{}-{}",
        &hex[..8],
        &hex[8..12],
        &hex[12..16],
        &hex[16..20],
        &hex[20..]
    )
}

fn moment(seconds: i64) -> String {
    let moment = DateTime::from_timestamp(seconds, 0).unwrap_or_default();
    moment.format("%Y-%m-%dT%H:%M:%SZ").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_a_uuid() {
        let name = named_by(&crate::digest::sha256(b"abc"));
        assert_eq!(name, "urn:uuid:ba7816bf-8f01-8fea-8141-40de5dae2223");
        assert_eq!(moment(951_782_400), "2000-02-29T00:00:00Z");
    }
}
