use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Child, Stdio};
use std::sync::mpsc::{self, Receiver};
use std::time::{Duration, Instant};

use crate::{Place, plan};

/// More than a debug build needs on a busy machine.
const SOON: Duration = Duration::from_secs(30);

/// A running `jigless watch`, and the lines that it prints to either stream.
struct Watching {
    child: Child,
    lines: Receiver<String>,
}

impl Watching {
    fn start(place: &Place, args: &[&str]) -> Self {
        let all: Vec<&str> = ["watch"].iter().chain(args).copied().collect();
        let mut command = place.command(&all);
        command.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let (give, lines) = mpsc::channel();
        let out: Box<dyn std::io::Read + Send> = Box::new(child.stdout.take().unwrap());
        let err: Box<dyn std::io::Read + Send> = Box::new(child.stderr.take().unwrap());
        for stream in [out, err] {
            let give = give.clone();
            std::thread::spawn(move || {
                for line in BufReader::new(stream).lines().map_while(Result::ok) {
                    let _ = give.send(line);
                }
            });
        }
        let watching = Self { child, lines };
        watching.until("watching for changes");
        watching
    }

    /// Waits for a line with these words, and gives what came before it.
    fn until(&self, words: &str) -> String {
        let end = Instant::now() + SOON;
        let mut before = String::new();
        loop {
            let left = end.saturating_duration_since(Instant::now());
            match self.lines.recv_timeout(left) {
                Ok(line) => {
                    before.push_str(&line);
                    before.push('\n');
                    if line.contains(words) {
                        return before;
                    }
                }
                Err(error) => panic!("no `{words}` came: {error}\n{before}"),
            }
        }
    }

    /// What comes until a whole second brings nothing.
    ///
    /// A finding is many lines: one that comes says that more may follow it.
    fn silence(&self) -> Vec<String> {
        std::iter::from_fn(|| self.lines.recv_timeout(Duration::from_secs(1)).ok()).collect()
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn a_saved_plan_is_made_again_and_errors_keep_the_last_good_files() {
    let place = Place::empty();
    place.file("lib/jars/plan.yaml", &plan("Jars", &["door"]));
    place.file("lib/kiln/plan.yaml", &plan("Kiln", &["shelf"]));
    let watching = Watching::start(&place, &["lib"]);
    let first = place.tree("out");
    assert!(first.contains_key("kiln/manifest.json"));

    place.file("lib/jars/plan.yaml", &plan("Jars", &["door", "lid"]));
    let said = watching.until("jars: 2 parts");
    assert!(!said.contains("kiln"), "{said}");
    let good = place.tree("out/jars");
    assert_ne!(good.len(), first.len());

    // An error: reported once, and what was made stays.
    let faulty = plan("Jars", &["door", "lid"]).replace("diameter: 8", "diameter: -8");
    place.file("lib/jars/plan.yaml", &faulty);
    // The two streams come in either order.
    let said = watching.until("jars: not exported") + &watching.silence().concat();
    assert!(said.contains(": error: "), "{said}");
    assert_eq!(place.tree("out/jars"), good);
    place.file("lib/jars/plan.yaml", &(faulty + "\n"));
    assert_eq!(watching.silence(), Vec::<String>::new());
    place.file("lib/jars/plan.yaml", &plan("Jars", &["door", "lid"]));
    watching.until("jars: mended");
    assert_eq!(place.tree("out/jars"), good);

    // Nothing that we write ourselves is a change.
    assert_eq!(watching.silence(), Vec::<String>::new());
}

#[test]
fn renames_new_plans_and_saves_by_another_file_are_followed() {
    let place = Place::empty();
    place.file("lib/jars/plan.yaml", &plan("Jars", &["door"]));
    let watching = Watching::start(&place, &["lib"]);
    // As many editors save: another file takes the name.
    place.file("lib/jars/.plan.yaml.swp", &plan("Jars", &["door", "lid"]));
    fs::rename(
        place.path("lib/jars/.plan.yaml.swp"),
        place.path("lib/jars/plan.yaml"),
    )
    .unwrap();
    watching.until("jars: 2 parts");
    // And once more: the watch did not go with the old file.
    place.file("lib/jars/plan.yaml~", &plan("Jars", &["door"]));
    fs::rename(
        place.path("lib/jars/plan.yaml~"),
        place.path("lib/jars/plan.yaml"),
    )
    .unwrap();
    watching.until("jars: 1 part");
    place.file("lib/kiln/cart.yaml", &plan("Cart", &["a"]));
    watching.until("kiln/cart: 1 part");
    fs::rename(place.path("lib/jars"), place.path("lib/pots")).unwrap();
    let said = watching.until("pots: 1 part");
    assert!(
        said.contains("jars: the plan is gone; its files stay"),
        "{said}"
    );
    assert!(place.path("out/jars/manifest.json").is_file());
    assert!(place.path("out/pots/manifest.json").is_file());
}

#[test]
fn included_files_and_the_profile_are_followed() {
    let place = Place::empty();
    let text = plan("Jars", &["door"]).replace("units:", "include: [sub/more.yaml]\nunits:");
    let more = "parts:\n  lid:\n    stock: ply\n    width: 90\n    height: 70\n";
    place.file("jars/sub/more.yaml", more);
    place.file("jars/plan.yaml", &text);
    place.file("mill.yaml", "export: {}\n");
    let watching = Watching::start(&place, &["jars", "--profile", "mill.yaml"]);
    place.file("jars/sub/more.yaml", &more.replace("90", "95"));
    watching.until("jars: 2 parts");
    place.file("mill.yaml", "exprot: {}\n");
    watching.until("no key `exprot`");
    place.file("mill.yaml", "export: {dxf-cnc: {units: in}}\n");
    watching.until("jars: 2 parts");
}

#[test]
fn a_folder_that_goes_and_comes_back_is_watched_again() {
    let place = Place::empty();
    place.file("lib/jars/plan.yaml", &plan("Jars", &["door"]));
    let watching = Watching::start(&place, &["lib"]);
    let good = place.tree("out/jars");
    for round in 1..=2 {
        fs::remove_dir_all(place.path("lib")).unwrap();
        watching.until("lib is gone, and nothing in it is seen");
        assert_eq!(place.tree("out/jars"), good, "what was made stays");
        place.file("lib/jars/plan.yaml", &plan("Jars", &["door"]));
        watching.until("watching for changes");
        // It is seen again: a save there is made.
        let parts = ["door", "lid", "rail"];
        place.file("lib/jars/plan.yaml", &plan("Jars", &parts[..=round]));
        watching.until(&format!("jars: {} parts", round + 1));
        place.file("lib/jars/plan.yaml", &plan("Jars", &["door"]));
        watching.until("jars: 1 part");
        assert_eq!(place.tree("out/jars"), good);
    }
    // Renamed away and back, it is the same folder.
    fs::rename(place.path("lib"), place.path("away")).unwrap();
    watching.until("lib is gone");
    fs::rename(place.path("away"), place.path("lib")).unwrap();
    watching.until("watching for changes");
    place.file("lib/jars/plan.yaml", &plan("Jars", &["door", "lid"]));
    watching.until("jars: 2 parts");
}
