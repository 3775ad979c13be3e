//! Measures of the pages, in millimetres. Colours are those of [`draw::style`].

/// White edge at the left and right.
pub(crate) const SIDE: f64 = 20.0;

/// White edge above the text, with the running title in it.
pub(crate) const TOP: f64 = 22.0;

/// White edge below the text, with the page's number in it.
pub(crate) const FOOT: f64 = 20.0;

/// Text sizes, to the em.
pub(crate) const TITLE: f64 = 9.5;
pub(crate) const CHAPTER: f64 = 6.2;
pub(crate) const SECTION: f64 = 4.4;
pub(crate) const TEXT: f64 = 3.6;
pub(crate) const SMALL: f64 = 3.1;

/// From baseline to baseline, in ems.
pub(crate) const LEADING: f64 = 1.36;

/// White space between paragraphs, and around pictures and tables.
pub(crate) const GAP: f64 = 2.2;
pub(crate) const WIDE_GAP: f64 = 4.0;

/// Between columns.
pub(crate) const GUTTER: f64 = 7.0;

/// How wide pictures beside words are.
pub(crate) const BESIDE: f64 = 62.0;

/// How high pictures beside words are, at most: five of them find room on a page.
pub(crate) const BESIDE_HIGH: f64 = 43.0;

/// The smallest text in a picture that can still be read in print.
pub(crate) const LEAST_LABEL: f64 = 1.7;

/// A count as a factor of a length.
#[expect(clippy::cast_precision_loss, reason = "counts of lines and columns are small")]
pub(crate) const fn times(count: usize) -> f64 {
    count as f64
}
