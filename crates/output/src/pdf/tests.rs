//! What a PDF says about itself, read without a PDF library: every stream is plain, so text search is enough.

use super::*;
use crate::sample;
use draw::list::{Node, Role, Shape};
use draw::style;
use draw::text::TextRun;
use kurbo::{Affine, BezPath, Size};

mod tagged;

fn sheet() -> Pages {
    let mut second = Drawing::new(Size::new(304.8, 304.8), "An empty page.");
    second.push(Role::Cut, sample::line(Role::Cut, (10.0, 20.0), (110.0, 20.0)));
    Pages { title: "Seed swap – envelope".to_owned(), pages: vec![sample::sheet(), second] }
}

fn one(role: Role, shape: Shape) -> Pages {
    let mut page = Drawing::new(Size::new(100.0, 50.0), "");
    page.push(role, shape);
    Pages { title: String::new(), pages: vec![page] }
}

fn written(pages: &Pages) -> String {
    String::from_utf8_lossy(&super::written(pages, Streams::Plain).unwrap()).into_owned()
}

#[track_caller]
fn check_contains(pages: &Pages, part: &str) {
    let text = written(pages);
    assert!(text.contains(part), "{part} is not in {text}");
}

/// Text from the first `after` to the next `before`.
#[track_caller]
fn between<'a>(text: &'a str, after: &str, before: &str) -> &'a str {
    let rest = &text[text.find(after).unwrap() + after.len()..];
    &rest[..rest.find(before).unwrap()]
}

#[test]
fn the_same_pages_give_the_same_bytes() {
    assert_eq!(pdf(&sheet()).unwrap(), pdf(&sheet()).unwrap());
}

/// 12 in are 864 points; 220 and 160 mm are 623.62204 and 453.5433 points.
#[test]
fn page_boxes_are_exact() {
    let text = written(&sheet());
    let boxes: Vec<Vec<f64>> = text
        .split("/MediaBox [")
        .skip(1)
        .map(|rest| rest[..rest.find(']').unwrap()].split_whitespace().map(|number| number.parse().unwrap()).collect())
        .collect();
    assert_eq!(boxes.len(), 2);
    for (found, [width, height]) in boxes.iter().zip([[220.0, 160.0], [304.8, 304.8]]) {
        assert!(found[0] == 0.0 && found[1] == 0.0);
        assert!((found[2] * 25.4 / 72.0 - width).abs() < 2e-5 && (found[3] * 25.4 / 72.0 - height).abs() < 2e-5);
    }
    assert!(!text.contains("UserUnit"));
}

/// Every entry of the cross-reference table points at its object (PDF 1.7, 7.5.4).
#[test]
fn the_cross_reference_table_is_sound() {
    let bytes = super::written(&sheet(), Streams::Plain).unwrap();
    let from = |offset: usize| String::from_utf8_lossy(&bytes[offset..]).into_owned();
    let text = written(&sheet());
    let table: usize = between(&text[text.rfind("startxref").unwrap()..], "startxref\n", "\n").parse().unwrap();
    let xref = from(table);
    let mut lines = xref.lines();
    assert_eq!(lines.next(), Some("xref"));
    let count: usize = lines.next().unwrap().split(' ').nth(1).unwrap().parse().unwrap();
    for (number, line) in lines.take(count).enumerate().skip(1) {
        let offset: usize = line.split(' ').next().unwrap().parse().unwrap();
        assert!(line.trim_end().ends_with('n'), "object {number} is missing");
        assert!(from(offset).starts_with(&format!("{number} 0 obj")), "object {number}");
    }
    assert!(count > 10);
}

#[test]
fn nothing_depends_on_the_time() {
    let text = written(&sheet());
    for word in ["CreationDate", "ModDate", "/ID"] {
        assert!(!text.contains(word), "{word}");
    }
}

#[test]
fn print_scaling_title_and_language_are_set() {
    let text = written(&sheet());
    let wishes = between(&text, "/ViewerPreferences", ">>");
    assert!(wishes.contains("/PrintScaling /None") && wishes.contains("/DisplayDocTitle true"), "{wishes}");
    assert!(text.contains("/Lang (en)") && text.starts_with("%PDF-1.7"));
    check_contains(&Pages { title: "A \u{1}title".to_owned(), ..sheet() }, "/Title (A title)");
}

#[test]
fn there_is_a_layer_for_each_role_in_order() {
    let text = written(&sheet());
    let names: Vec<&str> = text.split("/Type /OCG").skip(1).map(|rest| between(rest, "/Name (", ")")).collect();
    let expected = [Role::Paper, Role::Offcut, Role::Cut, Role::Valley, Role::Mountain, Role::Label, Role::Note];
    assert_eq!(names, expected.map(Role::title));
    let (all, on) = (between(&text, "/OCGs [", "]"), between(&text, "/ON [", "]"));
    assert_eq!(all, on);
    assert_eq!(all, between(&text, "/Order [", "]"));
    assert!(!text.contains("/OFF"));
}

#[test]
fn layers_and_states_are_closed_in_order() {
    let text = written(&sheet());
    let content = between(&text, "stream\n", "endstream");
    let mut open = Vec::new();
    for operator in content.split_whitespace() {
        match operator {
            "q" | "BDC" | "BMC" | "BT" => open.push(operator),
            "Q" => assert_eq!(open.pop(), Some("q")),
            "EMC" => assert!(matches!(open.pop(), Some("BDC" | "BMC"))),
            "ET" => assert_eq!(open.pop(), Some("BT")),
            _ => {}
        }
    }
    assert!(open.is_empty());
}

#[test]
fn paths_are_written_in_millimetres() {
    check_contains(&sheet(), "10.123456 5.5 m\n210.12346 5.5 l\n210.12346 155.5 l\n10.123456 155.5 l\nh");
    check_contains(&sheet(), "2.8346457 0 0 -2.8346457 0 864 cm");
    check_contains(&sheet(), "[3 0.75 0.125 0.75] 0 d");
    check_contains(&sheet(), "0.8 0.6 -0.6 0.8 120 60 cm\n10 0 50 8 re\nW\nn");
}

/// A quadratic curve is a cubic with its handles two thirds of the way (any textbook on Bézier curves).
#[test]
fn quadratic_curves_become_cubic() {
    let mut path = BezPath::new();
    path.move_to((0.0, 0.0));
    path.quad_to((3.0, 6.0), (6.0, 0.0));
    path.close_path();
    check_contains(&one(Role::Paper, Shape::Fill { path, colour: style::LABEL }), "0 0 m\n2 4 4 4 6 0 c\nh\nf");
}

#[test]
fn opacity_is_a_graphics_state_and_ends_with_its_shape() {
    let mut pages = one(Role::Note, sample::fill(sample::WASH, sample::WASH_COLOUR));
    pages.pages[0].push(Role::Note, sample::fill(sample::WASH, style::WHITE));
    let text = written(&pages);
    assert!(text.contains("/A128 gs") && text.contains("/A255 gs") && text.contains("/ca 0.5019608"));
}

#[test]
fn dashes_never_start_below_zero() {
    let mut pages = one(Role::Valley, sample::line(Role::Valley, (0.0, 0.0), (9.0, 0.0)));
    if let Node::Item { shape: Shape::Line { stroke, .. }, .. } = &mut pages.pages[0].nodes[0] {
        stroke.dash_start = -1.0;
    }
    check_contains(&pages, "[3 0.75] 2.75 d");
}

#[test]
fn text_maps_back_to_its_characters() {
    let run = TextRun::new("A ✂é", draw::text::Face::Regular, 4.0, style::LABEL);
    let text = written(&one(Role::Label, Shape::Text(run)));
    let map = between(&text, "beginbfchar\n", "endbfchar");
    assert_eq!(map, "<0001> <0041>\n<0002> <0020>\n<0003> <2702>\n<0004> <00E9>\n");
    assert!(text.contains("+NotoSans-Regular") && !text.contains("NotoSans-Bold"));
}

#[test]
fn what_cannot_be_written_is_refused() {
    #[track_caller]
    fn check(pages: &Pages, expected: &str) {
        assert_eq!(pdf(pages).unwrap_err().to_string(), expected);
    }
    check(&Pages { title: String::new(), pages: Vec::new() }, "there is no page to write");
    let nowhere = one(Role::Cut, sample::line(Role::Cut, (f64::NAN, 0.0), (1.0, 0.0)));
    let mut second = sheet();
    second.pages[1] = nowhere.pages[0].clone();
    let not_finite = "page 2, Cuts: a coordinate is not a number or lies more than a kilometre away";
    check(&second, not_finite);
}

#[test]
fn empty_and_odd_pages_are_written() {
    let empty = Pages { title: String::new(), pages: vec![Drawing::new(Size::new(1.0, 1.0), "")] };
    assert!(!written(&empty).contains("OCProperties"));
    let space = TextRun::new("", draw::text::Face::Regular, 4.0, style::LABEL);
    assert!(!written(&one(Role::Label, Shape::Text(space))).contains("BT"));
    let nothing = TextRun::new("x", draw::text::Face::Regular, 0.0, style::LABEL);
    assert!(!written(&one(Role::Label, Shape::Text(nothing))).contains("BT"));
    let group = Node::Group { place: Affine::scale(0.0), clip: None, nodes: Vec::new() };
    let mut page = Drawing::new(Size::new(1.0, 1.0), "");
    page.nodes.push(group);
    assert!(written(&Pages { title: String::new(), pages: vec![page] }).contains("0 0 0 0 0 0 cm"));
}
