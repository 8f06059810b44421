use crate::{Place, formats, plan};

fn library() -> Place {
    let place = Place::empty();
    place.file("lib/jars/plan.yaml", &plan("Jars", &["door"]));
    place.file("lib/kiln/cart.yaml", &plan("Cart", &["shelf"]));
    place.file("lib/kiln/notes.yaml", "not: a plan\n");
    place.file("lib/kiln/rack.yaml", "jigless: 1\nunits: [\n");
    place
}

#[test]
fn one_faulty_plan_does_not_stop_the_others() {
    let place = library();
    let ran = place.expect(1, &["export", "lib"]);
    let lines: Vec<&str> = ran.results().lines().collect();
    assert_eq!(lines.len(), 4, "{}", ran.out);
    assert!(lines[0].starts_with("jars: 1 part, "));
    assert!(lines[1].starts_with("kiln/cart: 1 part, "));
    assert_eq!(lines[2], "kiln/rack: not exported, 1 error");
    assert_eq!(lines[3], "2 plans exported, 1 not");
    assert!(ran.err.contains("lib/kiln/rack.yaml:2:"), "{}", ran.err);
    assert!(ran.err.ends_with("1 error\n"), "{}", ran.err);
    assert!(place.path("out/kiln/cart/manifest.json").is_file());
    assert!(!place.path("out/kiln/rack").exists());
}

#[test]
fn check_gives_one_line_for_each_plan_and_writes_nothing() {
    let place = library();
    let before = place.tree(".");
    let ran = place.expect(1, &["check", "lib"]);
    assert_eq!(
        ran.out,
        "jars: OK, 1 part\nkiln/cart: OK, 1 part\nkiln/rack: 1 error\n"
    );
    assert_eq!(place.tree("."), before);
    place.expect(0, &["check", "lib/jars"]);
}

#[test]
fn output_is_not_taken_for_plans() {
    let place = library();
    place.expect(1, &["export", ".", "--out", "lib/made"]);
    let before = place.tree(".");
    place.expect(1, &["export", ".", "--out", "lib/made"]);
    assert_eq!(place.tree("."), before);
}

#[test]
fn two_plans_of_one_name_are_refused_before_anything_is_written() {
    let place = library();
    place.file("other/jars.yaml", &plan("Other jars", &["door"]));
    let ran = place.expect(2, &["export", "lib/jars", "other/jars.yaml"]);
    assert!(ran.err.contains("other/jars.yaml"), "{}", ran.err);
    assert!(place.tree("out").is_empty());
}

#[test]
fn a_part_needs_to_be_in_one_of_the_plans_only() {
    let place = library();
    std::fs::remove_file(place.path("lib/kiln/rack.yaml")).unwrap();
    let ran = place.expect(
        0,
        &["export", "lib", "--part", "shelf", "--to", formats()[0]],
    );
    assert!(ran.out.starts_with("kiln/cart: 1 part"), "{}", ran.out);
    assert!(
        ran.results()
            .ends_with("1 plan exported, 1 without these parts\n"),
        "{}",
        ran.out
    );
    assert!(!place.path("out/jars").exists());
    let ran = place.expect(2, &["export", "lib", "--part", "lid"]);
    assert!(ran.err.contains("no plan has a part `lid`"), "{}", ran.err);
}

#[test]
fn the_folder_one_stands_in_has_a_name() {
    let place = library();
    let mut command = place.command(&["export", "."]);
    command.current_dir(place.path("lib/jars"));
    assert!(command.status().unwrap().success());
    assert!(place.path("lib/jars/out/jars/manifest.json").is_file());
}
