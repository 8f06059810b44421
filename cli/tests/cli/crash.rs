use std::process::Stdio;
use std::time::{Duration, Instant};

use crate::{Place, plan};

/// Kills a run after ever longer times, each over the files of the one before. Every file is whole at any time, old or
/// new; the next run takes what the killed one left for its own and ends as if nothing had happened.
#[cfg(unix)]
#[test]
fn a_killed_run_leaves_whole_files_and_the_next_one_mends_them() {
    let place = Place::empty();
    let parts: Vec<String> = (0..30).map(|n| format!("p{n}")).collect();
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let old = plan("Old", &parts);
    let new = old.replace("diameter: 8", "diameter: 9");
    place.file("old/jars/plan.yaml", &old);
    place.file("new/jars/plan.yaml", &new);
    place.expect(0, &["export", "old/jars", "--out", "clean-old"]);
    let clean_old = place.tree("clean-old/jars");
    let start = Instant::now();
    place.expect(0, &["export", "new/jars", "--out", "clean-new"]);
    let whole_run = start.elapsed();
    let clean_new = place.tree("clean-new/jars");
    assert_ne!(clean_old, clean_new);
    let mut cut_short = 0;
    for step in 0..20 {
        let (source, clean) = if step % 2 == 0 {
            ("old/jars", &clean_old)
        } else {
            ("new/jars", &clean_new)
        };
        let mut run = place
            .command(&["export", source, "--out", "out"])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(whole_run * step / 20 + Duration::from_millis(1));
        run.kill().unwrap();
        if run.wait().unwrap().code().is_none() {
            cut_short += 1;
        }
        let there = place.tree("out/jars");
        let finished = |path: &str| !path.starts_with("manifest") && !path.contains(".jigless-");
        for (path, bytes) in there.iter().filter(|(path, _)| finished(path)) {
            let whole = clean_old.get(path) == Some(bytes) || clean_new.get(path) == Some(bytes);
            assert!(whole, "{path} is neither the old nor the new one");
        }
        if step % 3 == 2 {
            place.expect(0, &["export", source, "--out", "out"]);
            assert_eq!(&place.tree("out/jars"), clean);
        }
    }
    assert!(cut_short > 0, "no run was killed before its end");
}
