use std::fs;
use std::path::Path;

use crate::{Place, plan};

fn copy_into(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_into(&path, &target);
        } else {
            assert!(
                !target.exists(),
                "{} comes from two shards",
                target.display()
            );
            fs::copy(&path, target).unwrap();
        }
    }
}

#[test]
fn four_shards_together_make_the_bytes_of_one_run() {
    let place = Place::empty();
    for n in 0..24 {
        let name = format!("lib/shelf-{}/box-{n}.yaml", n % 3);
        place.file(&name, &plan(&format!("Box {n}"), &["a", "b"]));
    }
    place.expect(0, &["export", "lib", "--out", "whole"]);
    let mut sizes = Vec::new();
    for k in 1..=4 {
        let out = format!("shard-{k}");
        place.expect(
            0,
            &["export", "lib", "--shard", &format!("{k}/4"), "--out", &out],
        );
        sizes.push(place.tree(&out).len());
        if place.path(&out).exists() {
            copy_into(&place.path(&out), &place.path("merged"));
        }
        // On one disk they share a folder.
        place.expect(
            0,
            &[
                "export",
                "lib",
                "--shard",
                &format!("{k}/4"),
                "--out",
                "shared",
            ],
        );
    }
    let whole = place.tree("whole");
    assert_eq!(place.tree("merged"), whole);
    assert_eq!(place.tree("shared"), whole);
    assert!(
        sizes.iter().filter(|size| **size > 0).count() > 2,
        "{sizes:?}"
    );
    // A plan that is edited stays in its shard, so that outputs that are kept between runs still merge.
    let shard_of = |name: &str| (1..=4).find(|k| place.path(&format!("shard-{k}/{name}")).exists());
    let before = shard_of("shelf-0/box-0");
    place.file("lib/shelf-0/box-0.yaml", &plan("Changed", &["a"]));
    for k in 1..=4 {
        let out = format!("shard-{k}");
        place.expect(
            0,
            &["export", "lib", "--shard", &format!("{k}/4"), "--out", &out],
        );
    }
    assert_eq!(shard_of("shelf-0/box-0"), before);
    for wrong in ["0/4", "5/4", "four"] {
        place.expect(2, &["export", "lib", "--shard", wrong]);
    }
}
