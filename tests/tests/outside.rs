//! Programs of other people as formats: what they are given, what they may answer, and what they may not do.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::Duration;

use jigless_tests::fixtures::{fixture, tree};
use jigless_tests::program::{Run, jigless, outside_example, run};

/// A place with a sound plan, and a profile with one outside format called `mine`.
struct Place(tempfile::TempDir);

impl Place {
    fn new(profile: &str) -> Self {
        let place = Self(tempfile::tempdir().expect("a temporary folder"));
        fs::create_dir(place.path().join("threads")).expect("a folder");
        for (name, bytes) in tree(&fixture("thread-organiser")) {
            fs::write(place.path().join("threads").join(name), bytes).expect("a written file");
        }
        place.file("profile.yaml", profile);
        place
    }

    /// With a program in Python that answers `describe` well and anything else with these lines.
    fn with_program(lines: &str, limits: &str) -> Self {
        let place = Self::new(&format!(
            "outside:\n  mine: {{command: [python3, mine.py]{limits}}}\n"
        ));
        let description = r#"{"protocol": 1, "summary": "a test", "options": [{"key": "pen", "help": "Pen.", "default": 1}]}"#;
        let head = format!(
            "import json, os, subprocess, sys, time\nrequest = json.load(sys.stdin)\nif request['request'] == 'describe':\n    print('''{description}''')\n    sys.exit()\n"
        );
        place.file("mine.py", &(head + lines));
        place
    }

    fn path(&self) -> &Path {
        self.0.path()
    }

    fn file(&self, name: &str, text: &str) {
        fs::write(self.path().join(name), text).expect("a written file");
    }

    fn command(&self, args: &[&str]) -> Command {
        let mut command = jigless(self.path());
        command.env("PATH", std::env::var_os("PATH").unwrap_or_default());
        command.args(args);
        command
    }

    fn run(&self, args: &[&str]) -> Run {
        run(&mut self.command(args))
    }

    fn export(&self, more: &[&str]) -> Run {
        let args = [
            "export",
            "threads",
            "--profile",
            "profile.yaml",
            "--to",
            "mine",
        ];
        self.run(&[&args, more].concat())
    }

    fn made(&self) -> Vec<(String, Vec<u8>)> {
        let out = self.path().join("out");
        if out.exists() { tree(&out) } else { Vec::new() }
    }
}

const PEN_PROFILE: &str = "fixtures/outside-exporters/pen-plotter/profile.yaml";

/// The numbers after a two-letter command of the plotter's language.
fn numbers(line: &str) -> Vec<f64> {
    let line = line.trim_end_matches(';');
    let numbers = line[2..].split(',').filter(|number| !number.is_empty());
    numbers
        .map(|number| number.parse().expect("a number"))
        .collect()
}

/// The worked one in Python: full-size, every hole of the front, nothing of the back, and its options like any other's.
#[test]
#[cfg_attr(not(has_python3), ignore = "needs python3: tests/run")]
fn a_pen_plotter_draws_every_part_full_size() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let program = |args: &[&str]| {
        let mut command = jigless(&jigless_tests::fixtures::workspace());
        command.env("PATH", std::env::var_os("PATH").unwrap_or_default());
        run(command.args(args).args(["--profile", PEN_PROFILE]))
    };
    let listed = program(&["formats", "pen-plotter"]).done().stdout;
    assert!(listed.contains("pen-plotter.cut-pen=number"), "{listed}");
    assert!(
        listed.contains("pen-plotter.names=true | false"),
        "{listed}"
    );
    let out_text = out.path().to_string_lossy().into_owned();
    let export = [
        "export",
        "fixtures/thread-organiser",
        "--to",
        "pen-plotter",
        "--out",
        &out_text,
    ];
    program(&export).done();
    let plan = fs::read(fixture("thread-organiser/plan.yaml")).expect("a plan");
    let compiled = jigless_core::compile("plan.yaml", &plan, &jigless_core::load::NoIncludes);
    let (_, workpieces) = compiled.result.expect("a sound plan");
    let mut circles = 0;
    for workpiece in &workpieces {
        let part = &workpiece.part;
        let file = out
            .path()
            .join(format!("thread-organiser/pen-plotter/{}.plt", part.id));
        let text = fs::read_to_string(file).expect("a drawing of each part");
        // The profile's pen, not the default.
        let cuts: Vec<&str> = text.lines().skip_while(|line| *line != "SP3;").collect();
        let moves = cuts.iter().filter(|line| {
            line.starts_with("PU") || line.starts_with("PD") && !line.contains("AA")
        });
        let ends: Vec<Vec<f64>> = moves
            .map(|line| numbers(line))
            .filter(|n| n.len() == 2)
            .collect();
        let reach = |axis: usize| ends.iter().map(|end| end[axis]).fold(0.0, f64::max);
        let size = workpiece.outline().bounds().expect("an outline");
        // A plotter unit is 0.025 mm, and ends are rounded to one. An arc may bulge beyond its ends.
        assert!(reach(0) <= size.max.x * 40.0 + 1.0, "{}", part.id);
        assert!(reach(0) >= size.max.x * 40.0 - 40.0 * 30.0, "{}", part.id);
        assert!(reach(1) <= size.max.y * 40.0 + 1.0, "{}", part.id);
        let drilled = workpiece.operations.iter().filter(|operation| {
            matches!(&operation.work, jigless_core::operation::Work::Drill(drill) if drill.face == jigless_core::side::Face::Front)
        });
        let drawn = text.lines().filter(|line| line.starts_with("CI")).count();
        assert_eq!(drawn, drilled.count(), "{}", part.id);
        circles += drawn;
    }
    assert!(circles > 0, "the plan has holes");
    // Made once, and again when the program is another.
    assert!(program(&export).done().stdout.contains("unchanged"));
}

/// The worked one in Rust shares no code with Jigless; it is named in the user's configuration.
#[test]
fn a_program_of_the_users_configuration_needs_no_profile() {
    let place = Place::new("export: {}\n");
    fs::create_dir_all(place.path().join("config/jigless")).expect("a folder");
    let program = outside_example().to_string_lossy();
    let config =
        format!("outside:\n  holes: {{command: [{program}]}}\nexport:\n  holes: {{unit: in}}\n");
    place.file("config/jigless/config.yaml", &config);
    let with_config = |args: &[&str]| {
        let mut command = place.command(args);
        run(command.env("XDG_CONFIG_HOME", place.path().join("config")))
    };
    let export = ["export", "threads", "--to", "holes"];
    with_config(&export).done();
    let list =
        fs::read_to_string(place.path().join("out/threads/holes/holes.tsv")).expect("a list");
    let inches = list.lines().count();
    assert!(inches > 1, "{list}");
    with_config(&[&export[..], &["--set", "holes.unit=mm", "--out", "metric"]].concat()).done();
    let metric =
        fs::read_to_string(place.path().join("metric/threads/holes/holes.tsv")).expect("a list");
    let column = |list: &str| -> Vec<f64> {
        let lines = list.lines().skip(1);
        lines
            .map(|line| line.split('\t').nth(3).unwrap().parse().unwrap())
            .collect()
    };
    for (inch, mm) in column(&list).iter().zip(column(&metric)) {
        assert!((inch * 25.4 - mm).abs() < 0.01, "{inch} in is not {mm} mm");
    }
    // Without it there is no such format, and a profile goes before it.
    assert_eq!(place.run(&export).code, Some(2));
    let wrong = with_config(&[&export[..], &["--set", "holes.unit=cm"]].concat());
    assert_eq!(wrong.code, Some(1));
    assert!(wrong.stderr.contains("give mm | in"), "{}", wrong.stderr);
}

#[test]
fn a_plan_cannot_name_a_program() {
    let place = Place::new("export: {}\n");
    let plan = fs::read_to_string(place.path().join("threads/plan.yaml")).expect("a plan");
    let named = format!("{plan}\noutside:\n  mine: {{command: [touch, ran]}}\n");
    place.file("threads/plan.yaml", &named);
    let refused = place.run(&["export", "threads"]);
    assert_eq!(refused.code, Some(1));
    assert!(refused.stderr.contains("outside"), "{}", refused.stderr);
    // Nor does a profile beside it count that nobody named.
    place.file("threads/plan.yaml", &plan);
    place.file(
        "threads/profile.yaml",
        "outside:\n  mine: {command: [touch, ran]}\n",
    );
    place.file(
        "threads/config.yaml",
        "outside:\n  mine: {command: [touch, ran]}\n",
    );
    place.run(&["export", "threads"]).done();
    assert!(
        tree(place.path())
            .iter()
            .all(|(path, _)| !path.ends_with("ran"))
    );
}

#[test]
#[cfg_attr(not(has_python3), ignore = "needs python3: tests/run")]
fn what_a_program_answers_is_checked_before_anything_is_written() {
    let answer = |files: &str| format!("print(json.dumps({{'protocol': 1, 'files': {files}}}))\n");
    for (lines, word) in [
        (
            answer("[{'path': '../../escaped', 'text': 'x'}]"),
            "`.` or `..`",
        ),
        (
            answer("[{'path': '/tmp/escaped', 'text': 'x'}]"),
            "starts or ends with `/`",
        ),
        (
            answer("[{'path': 'a', 'text': 'x'}, {'path': 'A', 'text': 'y'}]"),
            "twice",
        ),
        (answer("[{'path': 'a'}]"), "`text` or `base64`"),
        (
            answer("[{'path': 'a', 'part': 'nobody', 'text': 'x'}]"),
            "no part `nobody`",
        ),
        (answer("[{'path': 'a', 'text': 'x', 'mode': 7}]"), "mode"),
        (
            "print('{\"protocol\": 2, \"files\": {}}')\n".to_owned(),
            "protocol 2",
        ),
        ("print('done')\n".to_owned(), "jigless schema outside"),
        (
            "print(json.dumps({'protocol': 1, 'error': 'the pen is dry'}))\n".to_owned(),
            "the pen is dry",
        ),
        ("sys.exit('no paper')\n".to_owned(), "no paper"),
        ("os.kill(os.getpid(), 9)\n".to_owned(), "signal"),
    ] {
        let place = Place::with_program(&lines, "");
        let refused = place.export(&[]);
        assert_eq!(refused.code, Some(1), "{lines}{}", refused.stderr);
        assert!(refused.stderr.contains("mine"), "{}", refused.stderr);
        assert!(refused.stderr.contains(word), "{word}: {}", refused.stderr);
        assert_eq!(place.made(), [], "{lines}");
        assert!(!place.path().parent().unwrap().join("escaped").exists());
    }
}

/// Whether a process has these words on its command line.
#[cfg(target_os = "linux")]
fn runs(words: &str) -> bool {
    let processes = fs::read_dir("/proc").expect("a list of processes");
    // Those that end meanwhile have no command line any more.
    let lines = processes.filter_map(|process| fs::read(process.ok()?.path().join("cmdline")).ok());
    let mut lines = lines.map(|line| String::from_utf8_lossy(&line).into_owned());
    lines.any(|line| line.contains(words))
}

#[test]
#[cfg_attr(not(has_python3), ignore = "needs python3: tests/run")]
fn a_program_has_so_much_time_and_so_much_to_say() {
    // Also when the program has left its work to another one.
    let place = Place::with_program(
        "subprocess.run(['sh', '-c', 'sleep 600; touch ran'])\n",
        ", time_limit: 0.5",
    );
    let refused = place.export(&[]);
    assert_eq!(refused.code, Some(1));
    assert!(
        refused.stderr.contains("it takes more than"),
        "{}",
        refused.stderr
    );
    assert!(refused.took < Duration::from_secs(20), "{:?}", refused.took);
    #[cfg(target_os = "linux")]
    assert!(
        !runs("sleep 600; touch ran"),
        "what the program started is still there"
    );
    let place = Place::with_program(
        "while True:\n    sys.stdout.write('x' * 65536)\n",
        ", size_limit: 0.2",
    );
    let refused = place.export(&[]);
    assert!(
        refused.stderr.contains("more than 200000 bytes"),
        "{}",
        refused.stderr
    );
    // Chatter on standard error is let go by, however much it is.
    let place = Place::with_program(
        "sys.stderr.write('x' * 1000000)\nprint(json.dumps({'protocol': 1, 'files': [{'path': 'a', 'text': 'x'}]}))\n",
        "",
    );
    place.export(&[]).done();
}

#[test]
fn a_program_that_is_missing_is_named_with_the_remedy() {
    let place = Place::new("outside:\n  mine: {command: [no-such-program-here]}\n");
    let refused = place.export(&[]);
    assert_eq!(refused.code, Some(1));
    assert!(
        refused
            .stderr
            .contains("there is no program `no-such-program-here`"),
        "{}",
        refused.stderr
    );
    assert!(
        refused
            .stderr
            .contains("install it, or take `mine` out of profile.yaml"),
        "{}",
        refused.stderr
    );
    // A format that does not need it is made nevertheless.
    let args = [
        "export",
        "threads",
        "--profile",
        "profile.yaml",
        "--to",
        "dxf-cnc",
    ];
    place.run(&args).done();
}

#[test]
#[cfg_attr(not(has_python3), ignore = "needs python3: tests/run")]
fn its_files_are_made_again_when_the_program_has_changed() {
    let lines = "print(json.dumps({'protocol': 1, 'files': [{'path': 'a', 'text': 'x'}]}))\n";
    let place = Place::with_program(lines, "");
    place.export(&[]).done();
    assert!(place.export(&[]).done().stdout.contains("unchanged"));
    let text = fs::read_to_string(place.path().join("mine.py")).expect("a program");
    place.file("mine.py", &text.replace("'text': 'x'", "'text': 'y'"));
    assert!(!place.export(&[]).done().stdout.contains("unchanged"));
    let made = place.made();
    assert!(
        made.iter()
            .any(|(path, bytes)| path.ends_with("mine/a") && bytes == b"y"),
        "{made:?}"
    );
    assert!(
        !place
            .export(&["--set", "mine.pen=2"])
            .done()
            .stdout
            .contains("unchanged")
    );
}

/// What the program is given keeps to the schema that is printed.
#[test]
#[cfg_attr(not(has_python3), ignore = "needs python3: tests/run")]
fn requests_keep_to_the_printed_schema() {
    let place = Place::with_program(
        "open('request.json', 'w').write(json.dumps(request))\nprint(json.dumps({'protocol': 1}))\n",
        "",
    );
    place.export(&[]).done();
    let schema = place.run(&["schema", "exporter"]).done().stdout;
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("JSON");
    let request = fs::read(place.path().join("request.json")).expect("a request");
    let request: serde_json::Value = serde_json::from_slice(&request).expect("JSON");
    let described = &schema["$defs"]["ExportRequest"];
    let declared = described["properties"].as_object().expect("properties");
    let given = request.as_object().expect("a map");
    assert!(
        given.keys().all(|key| declared.contains_key(key)),
        "{:?}",
        given.keys()
    );
    for key in described["required"].as_array().expect("a list") {
        assert!(given.contains_key(key.as_str().unwrap()), "{key}");
    }
    assert_eq!(request["protocol"], 1);
    assert_eq!(request["options"]["pen"], 1);
    assert!(!request["parts"].as_array().expect("parts").is_empty());
}
