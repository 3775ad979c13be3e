//! Tags: elements, marks and headings, as ISO 32000-1, 14.7 and 14.8, asks for them.

use super::*;
use draw::list::{Tag, TagKind};
use draw::text::Face;
use kurbo::{Point, Rect};

fn text(says: &str, top: f64) -> Node {
    let run = TextRun::new(says, Face::Regular, 4.0, style::LABEL).at(Point::new(10.0, top));
    Node::Item { role: Role::Note, shape: Shape::Text(run) }
}

fn tagged(tags: &[(u32, TagKind)], nodes: Vec<Node>) -> Node {
    let tags = tags.iter().map(|(number, kind)| Tag { number: *number, kind: kind.clone() }).collect();
    Node::Tagged { tags, nodes }
}

fn pages(pages: Vec<Vec<Node>>) -> Pages {
    let page = |nodes| Drawing { size: Size::new(100.0, 100.0), nodes, description: "A page.".to_owned() };
    Pages { title: "Title".to_owned(), pages: pages.into_iter().map(page).collect() }
}

fn count(text: &str, part: &str) -> usize {
    text.matches(part).count()
}

#[test]
fn an_element_goes_on_over_pages() {
    let paragraph = |says| tagged(&[(7, TagKind::Paragraph)], vec![text(says, 20.0)]);
    let written = written(&pages(vec![vec![paragraph("one")], vec![paragraph("two")]]));
    assert_eq!(count(&written, "/S /P\n"), 1, "{written}");
    assert_eq!(count(&written, "/Type /MCR"), 1, "the mark on the second page names its page");
    assert_eq!(count(&written, "/StructParents"), 2);
    assert_eq!(count(&written, "/P <<\n") + count(&written, "/P <</MCID"), 2, "{written}");
}

#[test]
fn cells_are_in_rows_and_rows_in_tables() {
    let cell = |number, kind| tagged(&[(1, TagKind::Table), (2, TagKind::Row), (number, kind)], vec![text("x", 20.0)]);
    let written = written(&pages(vec![vec![cell(3, TagKind::ColumnHead), cell(4, TagKind::Cell)]]));
    for (role, times) in [("/S /Table", 1), ("/S /TR", 1), ("/S /TH", 1), ("/S /TD", 1), ("/Scope /Column", 1)] {
        assert_eq!(count(&written, role), times, "{role}");
    }
}

#[test]
fn what_is_not_tagged_is_an_artifact() {
    let figure = TagKind::Figure { alt: "A square.".to_owned(), bounds: Rect::new(10.0, 10.0, 20.0, 30.0) };
    let nodes = vec![text("furniture", 5.0), tagged(&[(1, figure)], vec![text("inside", 20.0)])];
    let written = written(&pages(vec![nodes]));
    assert_eq!(count(&written, "/Artifact BMC"), 1);
    assert_eq!(count(&written, "BDC") + count(&written, "BMC"), count(&written, "EMC"));
    assert!(written.contains("/Alt (A square.)"));
    // 100 mm are 283.46457 points; the box runs from 10 to 20 mm across and 10 to 30 mm down.
    assert!(written.contains("/BBox [28.346"), "{written}");
}

/// A page that bears no tags: its notes are paragraphs, the rest is a picture that its description stands for.
#[test]
fn a_page_without_tags_is_told_by_its_roles() {
    let mut page = sample::sheet();
    page.description = "The sheet.".to_owned();
    let written = written(&Pages { title: "T".to_owned(), pages: vec![page] });
    assert_eq!(count(&written, "/S /Figure"), 1);
    assert!(written.contains("/Alt (The sheet.)"));
    assert_eq!(count(&written, "BDC") + count(&written, "BMC"), count(&written, "EMC"));
    assert!(!written.contains("pdfuaid:part"));
}

#[test]
fn headings_are_listed_beside_the_document() {
    let heading = |number, level, says| tagged(&[(number, TagKind::Heading(level))], vec![text(says, 20.0)]);
    let all = vec![heading(1, 1, "Score"), heading(2, 2, "Front"), heading(3, 2, "Back"), heading(4, 1, "Cut")];
    let written = written(&pages(vec![all]));
    for title in ["(Score)", "(Front)", "(Back)", "(Cut)"] {
        assert!(written.contains(&format!("/Title {title}")), "{title}");
    }
    // Two at the top, and two that are shut at first under one of them.
    assert!(written.contains("/Count 2") && written.contains("/Count -2"), "{written}");
}

/// A file says that it is accessible only when it is tagged and every character has its glyph (ISO 14289-1, 7.21.8).
#[test]
fn only_what_holds_is_claimed() {
    let with = |says| written(&pages(vec![vec![tagged(&[(1, TagKind::Paragraph)], vec![text(says, 20.0)])]]));
    assert!(with("all there").contains("<pdfuaid:part>1</pdfuaid:part>"));
    assert!(!with("a missing \u{2702}").contains("pdfuaid:part"));
}

#[test]
fn compressed_streams_hold_what_plain_ones_do() {
    let streams = |bytes: &[u8], key: &[u8]| -> Vec<Vec<u8>> {
        let find = |part: &[u8], from: usize| {
            bytes[from..].windows(part.len()).position(|window| window == part).map(|at| from + at)
        };
        let mut found = Vec::new();
        let mut at = 0;
        while let Some(start) = find(b"stream\n", at) {
            let end = find(b"\nendstream", start).unwrap();
            let head = bytes[..start].windows(5).rposition(|window| window == b" obj\n").unwrap();
            if key.is_empty() || bytes[head..start].windows(key.len()).any(|window| window == key) {
                found.push(bytes[start + 7..end].to_vec());
            }
            at = end + 10;
        }
        found
    };
    let compressed = pdf(&sheet()).unwrap();
    let plain = super::super::written(&sheet(), Streams::Plain).unwrap();
    let inflated: Vec<Vec<u8>> = streams(&compressed, b"/FlateDecode")
        .iter()
        .map(|data| miniz_oxide::inflate::decompress_to_vec_zlib(data).unwrap())
        .collect();
    let of_plain = streams(&plain, b"");
    assert!(inflated.len() > 4 && compressed.len() < plain.len());
    assert!(inflated.iter().all(|data| of_plain.contains(data)));
}
