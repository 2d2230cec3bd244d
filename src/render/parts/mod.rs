//! What several formats share.

pub(super) mod entry;
pub(super) mod lint_text;
