use crate::Place;

#[test]
fn a_new_plan_has_no_findings_and_exports_at_once() {
    let place = Place::empty();
    place.expect(0, &["start", "shelves/jars"]);
    let check = place.expect(0, &["check", "shelves/jars"]);
    assert_eq!(check.out, "jars: OK, 4 parts\n");
    assert_eq!(check.err, "");
    let export = place.expect(0, &["export", "shelves/jars"]);
    assert_eq!(export.err, "");
    let tree = place.tree("out/jars");
    for part in ["side-left", "side-right", "shelf", "rail"] {
        assert!(tree.keys().any(|path| path.contains(part)), "{part}");
    }
}

#[test]
fn a_folder_with_something_in_it_is_left_alone() {
    let place = Place::with_jars();
    place.file("other/notes.txt", "mine");
    place.file("afile", "mine");
    let before = place.tree(".");
    for dir in ["jars", "other", "afile", "afile/below"] {
        place.expect(3, &["start", dir]);
    }
    assert_eq!(place.tree("."), before);
    std::fs::create_dir(place.path("empty")).unwrap();
    place.expect(0, &["start", "empty"]);
}
