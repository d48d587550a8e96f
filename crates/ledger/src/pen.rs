//! How the pictures of the ledger are drawn: black on white, told apart by shape, line and pattern.

pub(crate) const SOLID: &str = r##"stroke="#000" stroke-width="2""##;
pub(crate) const THIN: &str = r##"stroke="#000" stroke-width="0.75""##;
pub(crate) const DASHED: &str = r##"stroke="#000" stroke-width="1.5" stroke-dasharray="6 4""##;
/// White, below another line.
pub(crate) const HALO: &str = r##"stroke="#fff" stroke-width="4.5""##;

pub(crate) const WHITE_BAR: &str = r##"fill="#fff" stroke="#000" stroke-width="0.75""##;
pub(crate) const BLACK_BAR: &str = r##"fill="#000" stroke="#000" stroke-width="0.75""##;

pub(crate) const WHITE_MARK: &str = r##"fill="#fff" stroke="#000" stroke-width="1.25""##;
pub(crate) const BLACK_MARK: &str = r##"fill="#000" stroke="#000" stroke-width="1.25""##;
pub(crate) const OPEN_MARK: &str = r##"fill="none" stroke="#000" stroke-width="1.25""##;

/// A mark in the form of a cross.
pub(crate) const CROSS: &str = "M-3.5,-3.5L3.5,3.5M-3.5,3.5L3.5,-3.5";

pub(crate) const TITLE: &str = r#"font-size="18""#;
pub(crate) const SUBTITLE: &str = r#"font-size="14""#;
pub(crate) const TEXT: &str = r#"font-size="12""#;
pub(crate) const SMALL: &str = r#"font-size="10""#;
pub(crate) const SMALL_CENTRED: &str = r#"font-size="10" text-anchor="middle""#;
pub(crate) const CENTRED: &str = r#"font-size="12" text-anchor="middle""#;
pub(crate) const RIGHT_ALIGNED: &str = r#"font-size="11" text-anchor="end""#;
