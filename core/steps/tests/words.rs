//! Words for what the language of plans names by keys of its own.

use jigless_words::GERMAN;

#[test]
fn every_kind_of_joint_has_words() {
    for joint in jigless_language::joint::JOINTS {
        let key = joint.key.replace('_', " ");
        let words = GERMAN.things.joint(joint.key);
        assert!(words.iter().all(|words| *words != key), "{key}");
    }
}
