//! Layers: optional content, one group a role, so that a reader can hide the notes or show the cuts alone.

use super::Refs;
use draw::list::{Drawing, Node, Role};
use pdf_writer::writers::Catalog;
use pdf_writer::{Name, Pdf, Ref, TextStr};
use std::collections::BTreeSet;

/// The layers of a document, in the order of [`Role::ALL`].
pub(super) struct Layers(Vec<(Role, Ref)>);

impl Layers {
    /// A layer for each role that some page uses.
    pub(super) fn new(pages: &[Drawing], refs: &mut Refs) -> Self {
        let mut used = BTreeSet::new();
        for page in pages {
            collect(&page.nodes, &mut used);
        }
        Self(Role::ALL.into_iter().filter(|role| used.contains(role)).map(|role| (role, refs.next())).collect())
    }

    /// The layer of a role.
    pub(super) fn reference(&self, role: Role) -> Option<Ref> {
        self.0.iter().find(|(of, _)| *of == role).map(|(_, id)| *id)
    }

    /// The catalog's list of layers: all on, in order.
    pub(super) fn write_properties(&self, catalog: &mut Catalog<'_>) {
        if self.0.is_empty() {
            return;
        }
        let ids = || self.0.iter().map(|(_, id)| *id);
        let mut properties = catalog.insert(Name(b"OCProperties")).dict();
        properties.insert(Name(b"OCGs")).array().items(ids());
        let mut shown = properties.insert(Name(b"D")).dict();
        shown.pair(Name(b"Name"), TextStr("Layers"));
        shown.insert(Name(b"ON")).array().items(ids());
        shown.insert(Name(b"Order")).array().items(ids());
    }

    /// The layers themselves.
    pub(super) fn write(&self, pdf: &mut Pdf) {
        for (role, id) in &self.0 {
            let mut group = pdf.indirect(*id).dict();
            group.pair(Name(b"Type"), Name(b"OCG")).pair(Name(b"Name"), TextStr(role.title()));
        }
    }
}

fn collect(nodes: &[Node], used: &mut BTreeSet<Role>) {
    for node in nodes {
        match node {
            Node::Item { role, .. } => {
                used.insert(*role);
            }
            Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => collect(nodes, used),
        }
    }
}
