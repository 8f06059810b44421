//! What is cut from boards, as the search sees it.

use jigless_model::sheets::Micrometres;

/// Pieces of one length, grown by the kerf.
#[derive(Debug, Clone, Copy)]
pub(super) struct Demand {
    pub(super) length: Micrometres,
    pub(super) count: u32,
}
