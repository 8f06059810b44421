//! `jigless publish`.

use crate::args::PublishArgs;
use crate::console::Console;
use crate::exit::Exit;

/// To be done.
pub fn run(_args: &PublishArgs, _console: &mut Console) -> Exit {
    Exit::Done
}
