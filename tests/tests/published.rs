//! Sites: always the old or the new one, made again only where something changed, the same bytes from shares as from one
//! run, earlier revisions with what changed, and checksums that hold.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use fastrand::Rng;
use jigless_tests::fixtures::{copy_tree, tree, workspace};
use jigless_tests::program::{Run, jigless, program, run};
use serde_json::Value;

/// Formats that are quickly made.
const FORMATS: &str = "cutting-list-csv,svg-drilling,pdf-template";

fn plan(title: &str, width: u32) -> String {
    format!(
        "jigless: 1\ntitle: {title}\nrevision: 2026-02-01\nunits: mm\nstock: {{ply: {{label: Birch plywood, thickness: 12, kind: plywood}}}}\n\
         parts:\n  lid: {{stock: ply, width: {width}, height: 200, features: [{{hole: {{at: [60, 80], diameter: 6}}}}]}}\n  \
         base: {{stock: ply, width: 300, height: 180, features: [{{hole: {{at: [40, 50], diameter: 5}}}}]}}\n"
    )
}

fn library(folder: &Path, width: u32) {
    for (number, title) in ["Jars", "Kiln shelf", "Tray"].iter().enumerate() {
        let place = folder.join(format!("box-{number}"));
        fs::create_dir_all(place.join("revisions")).expect("a folder");
        fs::write(place.join("plan.yaml"), plan(title, width)).expect("a plan");
    }
    let earlier = plan("Jars", 280).replace("2026-02-01", "2026-01-15");
    fs::write(folder.join("box-0/revisions/2026-01-15.yaml"), earlier).expect("a revision");
}

fn publish(place: &Path, library: &str, site: &str) -> Command {
    let mut command = jigless(place);
    command.args([
        "publish",
        library,
        "--out",
        site,
        "--to",
        FORMATS,
        "--url",
        "https://plans.example",
    ]);
    command
}

/// One run for all plans, in all formats.
fn in_one_run(place: &Path, site: &str) -> Command {
    let mut command = jigless(place);
    command.args(["publish", "library", "--out", site]);
    command
}

fn names(files: &[(String, Vec<u8>)]) -> Vec<&str> {
    files.iter().map(|(name, _)| name.as_str()).collect()
}

fn assert_same(one: &[(String, Vec<u8>)], other: &[(String, Vec<u8>)]) {
    assert_eq!(names(one), names(other));
    for ((name, a), (_, b)) in one.iter().zip(other) {
        assert!(a == b, "{name} is another one");
    }
}

/// `JIGLESS_KILLS=100` asks for more.
#[test]
fn a_killed_run_leaves_the_old_or_the_new_site() {
    let kills = std::env::var("JIGLESS_KILLS").ok();
    let kills: usize = kills.and_then(|text| text.parse().ok()).unwrap_or(8);
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    let mut clean = Vec::new();
    let mut whole = std::time::Duration::ZERO;
    for (number, width) in [300, 320].into_iter().enumerate() {
        library(&place.join(format!("library-{number}")), width);
        let start = Instant::now();
        run(&mut publish(
            place,
            &format!("library-{number}"),
            &format!("clean-{number}"),
        ))
        .done();
        whole = start.elapsed();
        clean.push(tree(&place.join(format!("clean-{number}"))));
    }
    assert_ne!(clean[0], clean[1]);
    run(&mut publish(place, "library-0", "site")).done();
    let mut rng = Rng::with_seed(18);
    let (mut killed, mut seen) = (0, [0, 0]);
    for number in 1..=kills {
        let mut child = publish(place, &format!("library-{}", number % 2), "site")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        std::thread::sleep(whole.mul_f64(rng.f64() * 1.6));
        child.kill().expect("a killed program");
        killed += usize::from(child.wait().expect("an end").code().is_none());
        let now = tree(&place.join("site"));
        let which = clean.iter().position(|clean| *clean == now);
        seen[which.expect("neither the old nor the new site")] += 1;
        // And the next run ends as if nothing had happened, with nothing left beside it.
        if number % 3 == 2 {
            run(&mut publish(place, "library-1", "site")).done();
            assert_same(&tree(&place.join("site")), &clean[1]);
            assert!(!place.join(".site.jigless-work").exists());
        }
    }
    println!("{killed} of {kills} killed; the sites seen: {seen:?}");
    assert!(killed > 0);
}

/// A run that is stopped while it removes the site that was there before leaves half of that, without its records; files
/// of the same length look like those of the site.
#[test]
fn half_of_an_earlier_site_gives_way() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    for (number, width) in [300, 320].into_iter().enumerate() {
        let name = format!("library-{number}");
        library(&place.join(&name), width);
        run(&mut publish(place, &name, &format!("site-{number}"))).done();
    }
    let wanted = tree(&place.join("site-1"));
    let left = place.join(".site-1.jigless-work/next");
    fs::create_dir_all(left.parent().expect("a folder")).expect("a folder");
    copy_tree(&place.join("site-0"), &left);
    for number in 0..3 {
        for record in ["manifest.json", "about.json"] {
            fs::remove_file(left.join(format!("plans/box-{number}/{record}"))).expect("a record");
        }
    }
    // And files that were not given their names, wherever one is written.
    for folder in [
        ".",
        "plans",
        "plans/box-1",
        "plans/box-0/revisions",
        "plans/box-2/svg-drilling",
    ] {
        fs::write(left.join(folder).join(".jigless-a1B2c3.tmp"), "half").expect("a file");
    }
    fs::create_dir_all(left.join("plans/box-9/svg-drilling")).expect("a folder");
    run(&mut publish(place, "library-1", "site-1")).done();
    assert_same(&tree(&place.join("site-1")), &wanted);
}

#[test]
fn only_what_changed_is_made_again() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("library"), 300);
    let said = |run: &Run| run.stdout.lines().last().unwrap_or_default().to_owned();
    let first = run(&mut publish(place, "library", "site")).done();
    assert!(
        said(&first).starts_with("3 plans, 3 made anew"),
        "{}",
        first.stdout
    );
    let before = tree(&place.join("site"));
    let again = run(&mut publish(place, "library", "site")).done();
    assert!(
        said(&again).starts_with("3 plans, 0 made anew"),
        "{}",
        again.stdout
    );
    assert_same(&tree(&place.join("site")), &before);
    let file = place.join("library/box-1/plan.yaml");
    fs::write(&file, plan("Kiln shelf", 310)).expect("a plan");
    let changed = run(&mut publish(place, "library", "site")).done();
    assert!(
        said(&changed).starts_with("3 plans, 1 made anew"),
        "{}",
        changed.stdout
    );
    let after = tree(&place.join("site"));
    let differ = before.iter().zip(&after).filter(|(a, b)| a != b);
    for ((name, _), _) in differ {
        assert!(
            name.starts_with("plans/box-1/")
                || ["index.html", "feed.xml", "SHA256SUMS"].contains(&name.as_str()),
            "{name}"
        );
    }
    // What is made in pieces is what is made at once.
    run(&mut publish(place, "library", "clean")).done();
    assert_same(&after, &tree(&place.join("clean")));
    // A plan that is gone goes.
    fs::remove_dir_all(place.join("library/box-2")).expect("a removed plan");
    run(&mut publish(place, "library", "site")).done();
    assert!(!place.join("site/plans/box-2").exists());
}

#[test]
fn a_faulty_plan_leaves_the_site_and_a_foreign_folder_is_refused() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("library"), 300);
    run(&mut publish(place, "library", "site")).done();
    let before = tree(&place.join("site"));
    let faulty = plan("Kiln shelf", 310).replace("diameter: 6", "diameter: -6");
    fs::write(place.join("library/box-1/plan.yaml"), faulty).expect("a plan");
    let refused = run(&mut publish(place, "library", "site"));
    assert_eq!(refused.code, Some(1), "{}", refused.stderr);
    assert!(
        refused.stderr.contains("box-1/plan.yaml:"),
        "{}",
        refused.stderr
    );
    assert!(
        refused.stderr.contains("the site stays as it was"),
        "{}",
        refused.stderr
    );
    assert_same(&tree(&place.join("site")), &before);
    fs::create_dir(place.join("mine")).expect("a folder");
    fs::write(place.join("mine/notes.txt"), "mine").expect("a file");
    let refused = run(&mut publish(place, "library", "mine"));
    assert_eq!(refused.code, Some(3), "{}", refused.stderr);
    assert_eq!(
        tree(&place.join("mine")),
        [("notes.txt".to_owned(), b"mine".to_vec())]
    );
}

#[test]
fn earlier_revisions_stay_with_what_changed_and_sheets_that_are_good() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("library"), 300);
    run(&mut publish(place, "library", "site")).done();
    let folder = place.join("site/plans/box-0");
    assert!(
        folder
            .join("revisions/2026-01-15/pdf-template/templates.pdf")
            .is_file()
    );
    assert!(folder.join("revisions/2026-01-15/index.html").is_file());
    let about = fs::read(folder.join("about.json")).expect("a record");
    let about: Value = serde_json::from_slice(&about).expect("JSON");
    let earlier = &about["earlier"][0];
    assert_eq!(earlier["revision"], "2026-01-15");
    let changes = earlier["changes"].to_string();
    assert!(
        changes.contains("lid: ") && changes.contains("280") && changes.contains("300"),
        "{changes}"
    );
    assert!(!changes.contains("\"base: "), "{changes}");
    // The part that is as it was keeps its sheets.
    let (good, bad) = (earlier["good"].to_string(), earlier["bad"].to_string());
    assert!(good.contains("base ") && !good.contains("lid "), "{good}");
    assert!(bad.contains(": lid ") && !bad.contains(": base "), "{bad}");
    let page = fs::read_to_string(folder.join("index.html")).expect("a page");
    assert!(page.contains("Templates still good: 1 of 2."), "{page}");
    let feed = fs::read_to_string(place.join("site/feed.xml")).expect("a feed");
    assert_eq!(feed.matches("<entry>").count(), 4, "{feed}");
    assert!(
        feed.contains("<updated>2026-01-15T00:00:00Z</updated>"),
        "{feed}"
    );
    assert!(
        feed.contains("https://plans.example/plans/box-0/revisions/2026-01-15/index.html"),
        "{feed}"
    );
}

/// Outside readers: `unzip -t` of Python, and SHA-256 of it.
#[test]
#[cfg_attr(not(has_python3), ignore = "needs python3: tests/run")]
fn zips_are_whole_and_their_checksums_hold() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("library"), 300);
    run(&mut publish(place, "library", "site")).done();
    let script = workspace().join("tests/readers/check_zips.py");
    let output = Command::new("python3")
        .arg(script)
        .arg(place.join("site"))
        .output();
    let output = output.expect("Python starts");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(
        output.status.success(),
        "{said}{}",
        String::from_utf8_lossy(&output.stderr)
    );
    assert_eq!(said.trim(), "3 zips");
}

/// The example for Slurm, its array run here one share after the other: the same bytes as one run makes.
#[test]
#[cfg(unix)]
fn shares_make_the_same_site_as_one_run() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("library"), 300);
    run(&mut in_one_run(place, "one")).done();
    let script = workspace().join("cli/manual/clusters/publish.sbatch");
    let path = program().parent().expect("a folder").display().to_string();
    for share in 1..=4 {
        let status = Command::new("bash")
            .arg(&script)
            .args(["library", "shared"])
            .current_dir(place)
            .env("PATH", format!("{path}:/usr/bin:/bin"))
            .env("SLURM_ARRAY_TASK_ID", share.to_string())
            .env("SLURM_ARRAY_TASK_COUNT", "4")
            .stdout(Stdio::null())
            .status()
            .expect("bash starts");
        assert!(status.success());
        assert!(!place.join("shared").exists(), "a share is no site");
    }
    let last = run(&mut in_one_run(place, "shared")).done();
    assert!(last.stdout.contains(", 0 made anew"), "{}", last.stdout);
    assert_same(&tree(&place.join("one")), &tree(&place.join("shared")));
}

/// The example for Kubernetes: a Job as its API has it (batch/v1, completion mode Indexed), whose pods, run here one after
/// the other with the indices that they would get, make what one run makes.
#[test]
#[cfg(unix)]
fn an_indexed_job_makes_the_same_site_as_one_run() {
    let text = fs::read_to_string(workspace().join("cli/manual/clusters/publish-job.yaml"));
    let job: Value = serde_yaml::from_str(&text.expect("the example")).expect("YAML");
    assert_eq!(job["apiVersion"], "batch/v1");
    assert_eq!(job["kind"], "Job");
    assert_eq!(job["spec"]["completionMode"], "Indexed");
    let pods = job["spec"]["completions"].as_u64().expect("a count");
    assert!(job["spec"]["parallelism"].as_u64() <= Some(pods));
    let pod = &job["spec"]["template"]["spec"];
    // A Job takes no other (its API: `Always` is refused).
    let restart = pod["restartPolicy"].as_str();
    assert!(["OnFailure", "Never"].map(Some).contains(&restart));
    let list = |node: &Value| node.as_array().expect("a list").clone();
    let container = &list(&pod["containers"])[0];
    let names: Vec<Value> = list(&pod["volumes"])
        .iter()
        .map(|v| v["name"].clone())
        .collect();
    let mount = &list(&container["volumeMounts"])[0];
    assert!(names.contains(&mount["name"]), "{names:?}");
    let at = mount["mountPath"].as_str().expect("a path");

    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("library"), 300);
    run(&mut in_one_run(place, "one")).done();
    let own = place.to_str().expect("a plain path");
    let words = |key: &str| {
        let words = list(&container[key]).into_iter();
        let words = words.map(|word| word.as_str().expect("a word").replace(at, own));
        words.collect::<Vec<String>>()
    };
    let (command, arguments) = (words("command"), words("args"));
    assert!(
        arguments[0].contains(&format!("/{pods}\"")),
        "{arguments:?}"
    );
    let path = program().parent().expect("a folder").display().to_string();
    for index in 0..pods {
        let status = Command::new(&command[0])
            .args(&command[1..])
            .args(&arguments)
            .env("PATH", format!("{path}:/usr/bin:/bin"))
            .env("JOB_COMPLETION_INDEX", index.to_string())
            .stdout(Stdio::null())
            .status()
            .expect("a shell starts");
        assert!(status.success());
        assert!(!place.join("site").exists(), "a share is no site");
    }
    let last = run(&mut in_one_run(place, "site")).done();
    assert!(last.stdout.contains(", 0 made anew"), "{}", last.stdout);
    assert_same(&tree(&place.join("one")), &tree(&place.join("site")));
}
