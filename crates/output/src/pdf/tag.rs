//! The structure of a document: which marks on which pages are which element of the text, for screen readers.
//!
//! A page that bears no tags is told by its roles: its notes are paragraphs in the order in which they are drawn, and all
//! else is one picture, which the drawing's description stands for.

use super::{POINTS, Refs};
use crate::number::single;
use draw::list::{Drawing, Node, Pages, Role, Shape, Tag, TagKind};
use kurbo::Size;
use pdf_writer::types::{ListNumbering, StructRole, TableHeaderScope};
use pdf_writer::writers::Catalog;
use pdf_writer::{Finish as _, Name, Pdf, Rect, Ref, TextStr};
use std::collections::BTreeMap;

/// The elements of a document, as they are met.
#[derive(Debug)]
pub(super) struct Structure {
    root: Ref,
    /// The element that all others are in.
    document: Ref,
    elements: Vec<Element>,
    by_number: BTreeMap<u32, usize>,
    /// What is marked on each page, by its mark.
    pages: Vec<Marked>,
}

#[derive(Debug)]
struct Element {
    id: Ref,
    kind: TagKind,
    parent: Option<usize>,
    children: Vec<Child>,
    /// What is said in it, for headings.
    text: String,
    /// Where it starts.
    page: usize,
    top: f64,
}

#[derive(Debug, Clone, Copy)]
enum Child {
    Element(usize),
    Mark { page: usize, mark: i32 },
}

#[derive(Debug)]
struct Marked {
    id: Ref,
    /// The height of the page, mm.
    height: f64,
    parents: Ref,
    elements: Vec<usize>,
}

/// A heading as it is listed beside the document.
pub(super) struct Entry<'a> {
    pub(super) level: u8,
    pub(super) text: &'a str,
    pub(super) page: Ref,
    /// How far up its page it starts, in points.
    pub(super) top: f32,
}

impl Structure {
    pub(super) fn new(refs: &mut Refs) -> Self {
        let (root, document) = (refs.next(), refs.next());
        Self { root, document, elements: Vec::new(), by_number: BTreeMap::new(), pages: Vec::new() }
    }

    /// Starts the next page.
    pub(super) fn start_page(&mut self, id: Ref, size: Size, refs: &mut Refs) {
        self.pages.push(Marked { id, height: size.height, parents: refs.next(), elements: Vec::new() });
    }

    /// The number of the page that was started last, among those that have marks.
    pub(super) fn page_key(&self) -> i32 {
        i32::try_from(self.pages.len()).unwrap_or(i32::MAX) - 1
    }

    /// A mark on this page for what is drawn next, with the name of the element it is of. `nodes` is what is drawn.
    pub(super) fn mark(&mut self, tags: &[Tag], nodes: &[Node], refs: &mut Refs) -> Option<(Name<'static>, i32)> {
        let page = self.pages.len().checked_sub(1)?;
        let mut parent = None;
        for tag in tags {
            parent = Some(self.element(tag, parent, page, refs));
        }
        let at = parent?;
        let mark = i32::try_from(self.pages[page].elements.len()).ok()?;
        self.pages[page].elements.push(at);
        let element = &mut self.elements[at];
        element.children.push(Child::Mark { page, mark });
        if matches!(element.kind, TagKind::Heading(_)) {
            said(nodes, &mut element.text, &mut element.top);
        }
        Some((role(&element.kind).to_name(), mark))
    }

    fn element(&mut self, tag: &Tag, parent: Option<usize>, page: usize, refs: &mut Refs) -> usize {
        if let Some(&known) = self.by_number.get(&tag.number) {
            return known;
        }
        let at = self.elements.len();
        self.by_number.insert(tag.number, at);
        let (text, top) = (String::new(), f64::INFINITY);
        self.elements.push(Element {
            id: refs.next(),
            kind: tag.kind.clone(),
            parent,
            children: Vec::new(),
            text,
            page,
            top,
        });
        if let Some(parent) = parent {
            self.elements[parent].children.push(Child::Element(at));
        }
        at
    }

    /// The headings, in the order of the text.
    pub(super) fn headings(&self) -> Vec<Entry<'_>> {
        let entry = |element: &'_ Element| match element.kind {
            TagKind::Heading(level) => Some((level, element.page, element.top)),
            _ => None,
        };
        let all = self.elements.iter().filter_map(|element| Some((element, entry(element)?)));
        all.map(|(element, (level, page, top))| {
            let Marked { id, height, .. } = self.pages[page];
            let top = if top.is_finite() { top } else { 0.0 };
            Entry { level, text: &element.text, page: id, top: single((height - top) * POINTS) }
        })
        .collect()
    }

    /// The catalog's word that the document is tagged.
    pub(super) fn write_properties(&self, catalog: &mut Catalog<'_>) {
        catalog.mark_info().marked(true);
        catalog.pair(Name(b"StructTreeRoot"), self.root);
    }

    /// The structure itself.
    pub(super) fn write(&self, pdf: &mut Pdf) {
        let mut root = pdf.indirect(self.root).dict();
        root.pair(Name(b"Type"), Name(b"StructTreeRoot")).pair(Name(b"K"), self.document);
        let mut parents = root.insert(Name(b"ParentTree")).dict();
        let mut numbers = parents.insert(Name(b"Nums")).array();
        for (key, page) in (0_i32..).zip(&self.pages) {
            numbers.item(key).item(page.parents);
        }
        numbers.finish();
        parents.finish();
        root.pair(Name(b"ParentTreeNextKey"), i32::try_from(self.pages.len()).unwrap_or(i32::MAX));
        root.finish();
        for page in &self.pages {
            pdf.indirect(page.parents).array().items(page.elements.iter().map(|&at| self.elements[at].id));
        }
        let mut document = pdf.struct_element(self.document);
        document.kind(StructRole::Document).parent(self.root);
        let mut children = document.children();
        for element in self.elements.iter().filter(|element| element.parent.is_none()) {
            children.struct_element(element.id);
        }
        children.finish();
        document.finish();
        for element in &self.elements {
            self.write_element(element, pdf);
        }
    }

    fn write_element(&self, element: &Element, pdf: &mut Pdf) {
        let mut writer = pdf.struct_element(element.id);
        writer.kind(role(&element.kind)).parent(element.parent.map_or(self.document, |at| self.elements[at].id));
        writer.page(self.pages[element.page].id);
        match &element.kind {
            TagKind::Figure { alt, bounds } => {
                let height = self.pages[element.page].height;
                let [x0, x1] = [bounds.min_x(), bounds.max_x()].map(|mm| single(mm * POINTS));
                let [y0, y1] = [bounds.max_y(), bounds.min_y()].map(|mm| single((height - mm) * POINTS));
                writer.alt(TextStr(&plain(alt)));
                writer.attributes().push().layout().bbox(Rect::new(x0, y0, x1, y1));
            }
            TagKind::List { numbered } => {
                let numbering = if *numbered { ListNumbering::Decimal } else { ListNumbering::Disc };
                writer.attributes().push().list().list_numbering(numbering);
            }
            TagKind::ColumnHead => {
                writer.attributes().push().table().scope(TableHeaderScope::Column);
            }
            TagKind::RowHead => {
                writer.attributes().push().table().scope(TableHeaderScope::Row);
            }
            _ => {}
        }
        let mut children = writer.children();
        for child in &element.children {
            match *child {
                Child::Element(at) => {
                    children.struct_element(self.elements[at].id);
                }
                Child::Mark { page, mark } if page == element.page => {
                    children.marked_content_id(mark);
                }
                Child::Mark { page, mark } => {
                    children.marked_content_ref().page(self.pages[page].id).marked_content_id(mark);
                }
            }
        }
    }
}

/// Whether every page says for itself what is on it.
pub(super) fn all_tagged(pages: &Pages) -> bool {
    pages.pages.iter().all(|page| has_tags(&page.nodes))
}

fn has_tags(nodes: &[Node]) -> bool {
    nodes.iter().any(|node| match node {
        Node::Tagged { .. } => true,
        Node::Group { nodes, .. } => has_tags(nodes),
        Node::Item { .. } => false,
    })
}

/// Numbers for the elements of pages that bear no tags.
#[derive(Debug)]
pub(super) struct Numbers(u32);

impl Numbers {
    /// Numbers that none of these pages uses.
    pub(super) fn after(pages: &Pages) -> Self {
        Self(pages.pages.iter().map(|page| greatest(&page.nodes)).max().unwrap_or(0))
    }

    fn next(&mut self) -> u32 {
        self.0 = self.0.saturating_add(1);
        self.0
    }

    /// The nodes of a page with tags told from their roles; `None` for a page that has tags, or nothing on it.
    pub(super) fn tagged(&mut self, drawing: &Drawing) -> Option<Vec<Node>> {
        if drawing.nodes.is_empty() || has_tags(&drawing.nodes) {
            return None;
        }
        let kind = TagKind::Figure { alt: drawing.description.clone(), bounds: drawing.size.to_rect() };
        let picture = Tag { number: self.next(), kind };
        let mut out: Vec<Node> = Vec::new();
        for node in &drawing.nodes {
            match node {
                Node::Item { role: Role::Note, shape: Shape::Text(_) } => {
                    let tags = vec![Tag { number: self.next(), kind: TagKind::Paragraph }];
                    out.push(Node::Tagged { tags, nodes: vec![node.clone()] });
                }
                Node::Item { role: Role::Note, .. } => out.push(node.clone()),
                _ => match out.last_mut() {
                    Some(Node::Tagged { tags, nodes }) if tags.first() == Some(&picture) => nodes.push(node.clone()),
                    _ => out.push(Node::Tagged { tags: vec![picture.clone()], nodes: vec![node.clone()] }),
                },
            }
        }
        Some(out)
    }
}

fn greatest(nodes: &[Node]) -> u32 {
    let of = |node: &Node| match node {
        Node::Tagged { tags, nodes } => tags.iter().map(|tag| tag.number).max().unwrap_or(0).max(greatest(nodes)),
        Node::Group { nodes, .. } => greatest(nodes),
        Node::Item { .. } => 0,
    };
    nodes.iter().map(of).max().unwrap_or(0)
}

const fn role(kind: &TagKind) -> StructRole {
    match kind {
        TagKind::Heading(0 | 1) => StructRole::H1,
        TagKind::Heading(2) => StructRole::H2,
        TagKind::Heading(3) => StructRole::H3,
        TagKind::Heading(_) => StructRole::H4,
        TagKind::Paragraph => StructRole::P,
        TagKind::List { .. } => StructRole::L,
        TagKind::Item => StructRole::LI,
        TagKind::Label => StructRole::Lbl,
        TagKind::Body => StructRole::LBody,
        TagKind::Table => StructRole::Table,
        TagKind::Row => StructRole::TR,
        TagKind::ColumnHead | TagKind::RowHead => StructRole::TH,
        TagKind::Cell => StructRole::TD,
        TagKind::Figure { .. } => StructRole::Figure,
        TagKind::Caption => StructRole::Caption,
    }
}

/// Gathers what is said in nodes, and how high up the first of it begins.
fn said(nodes: &[Node], text: &mut String, top: &mut f64) {
    for node in nodes {
        match node {
            Node::Item { shape: Shape::Text(run), .. } => {
                if !text.is_empty() {
                    text.push(' ');
                }
                text.push_str(&plain(run.text()));
                *top = top.min(run.bounds().y0);
            }
            Node::Item { .. } => {}
            Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => said(nodes, text, top),
        }
    }
}

/// Text without control characters.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).collect()
}
