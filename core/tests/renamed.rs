//! The names that were changed, against the checks that there are.

use jigless_core::check;
use jigless_core::renamed::CHECKS;

#[test]
fn renamed_checks_are_known_by_their_present_names_alone() {
    for renamed in CHECKS {
        assert!(check::kind(renamed.now).is_some(), "{}", renamed.now);
        assert!(check::kind(renamed.old).is_none(), "{}", renamed.old);
    }
}
