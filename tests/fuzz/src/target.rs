//! The targets by name.

mod artwork;
mod edit;
mod export;
mod file;
mod layout;
mod length;
mod nest;
mod order;

/// What is run under each name.
pub(crate) const TARGETS: [(&str, fn(&[u8])); 14] = [
    ("file", file::run),
    ("length", length::run),
    ("layout", layout::run),
    ("edit", edit::run),
    ("order", order::run),
    ("nest", nest::run),
    ("artwork", artwork::run),
    ("template", export::template),
    ("booklet", export::booklet),
    ("cutting", export::cutting),
    ("inserts", export::inserts),
    ("picture", export::picture),
    ("contact", export::contact),
    ("animation", export::animation),
];
