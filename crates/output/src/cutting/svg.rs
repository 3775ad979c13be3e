//! A cutting file as SVG: the user unit is the millimetre, a group for each pass, a path for each contour, in the order
//! of work. No fills, no clips, no transforms and no dash patterns, since machines differ in what they make of these.

use crate::{OutputError, number};
use draw::cutting::{Bend, Contour, CuttingGroup, CuttingSheet, Pass, Track};
use draw::style::MACHINE_WIDTH;
use kurbo::Point;
use std::fmt::Write as _;

/// Writes one sheet. `title` is the design's.
///
/// Groups have the pass's name as their class. Where pieces lie side by side each is a group of its own, named after the
/// piece, with its passes in it.
///
/// # Errors
/// [`OutputError::NotFinite`] for what lies out of reach.
pub fn cutting_svg(title: &str, sheet: &CuttingSheet) -> Result<String, OutputError> {
    super::check(sheet)?;
    let (width, height) = (mm(sheet.size.width), mm(sheet.size.height));
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" \
         height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n"
    );
    let title = if title.is_empty() { sheet.name.clone() } else { format!("{title}: {}", sheet.name) };
    line(&mut out, format_args!("<title>{}</title>", crate::svg::escaped(&title)));
    sheet.groups.iter().for_each(|group| group_of(group, &mut out));
    out.push_str("</svg>\n");
    Ok(out)
}

fn group_of(group: &CuttingGroup, out: &mut String) {
    let is_piece = !group.key.is_empty();
    if is_piece {
        let name = crate::svg::escaped(&group.name);
        line(out, format_args!("<g id=\"{}\">\n<title>{name}</title>", group.key));
    }
    for (pass, contours) in &group.passes {
        let id = if is_piece { format!("{}-{}", group.key, pass.key()) } else { pass.key().to_owned() };
        let (class, colour, width) = (pass.key(), colour(*pass), mm(MACHINE_WIDTH));
        line(
            out,
            format_args!(
                "<g id=\"{id}\" class=\"{class}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\">"
            ),
        );
        for contour in contours {
            line(out, format_args!("<path d=\"{}\"/>", data(contour)));
        }
        out.push_str("</g>\n");
    }
    if is_piece {
        out.push_str("</g>\n");
    }
}

fn line(out: &mut String, text: std::fmt::Arguments<'_>) {
    out.write_fmt(text).expect("a string takes all that is written to it");
    out.push('\n');
}

fn colour(pass: Pass) -> String {
    let colour = pass.colour();
    format!("#{:02x}{:02x}{:02x}", colour.r, colour.g, colour.b)
}

fn data(contour: &Contour) -> String {
    contour.tracks.iter().map(track).collect()
}

fn track(track: &Track) -> String {
    let mut text = format!("M{}", point(track.start));
    let closes = track.is_closed();
    let last = track.bends.len().saturating_sub(1);
    for (i, (from, bend)) in track.stretches().enumerate() {
        // A straight way back to the start is what closing draws.
        if !(closes && i == last && bend.is_straight()) {
            text.push_str(&stretch(from, bend));
        }
    }
    if closes {
        text.push('Z');
    }
    text
}

fn stretch(from: Point, bend: Bend) -> String {
    if bend.is_straight() {
        return format!("L{}", point(bend.to));
    }
    // Radii that are a hair too small for a half turn are made larger by every reader (SVG 2, 9.5.1).
    let radius = mm(bend.radius(from));
    let large = u8::from(bend.sweep.abs() > std::f64::consts::PI);
    let clockwise = u8::from(bend.sweep > 0.0);
    format!("A{radius} {radius} 0 {large} {clockwise} {}", point(bend.to))
}

fn point(point: Point) -> String {
    format!("{} {}", mm(point.x), mm(point.y))
}

/// To the nanometre.
fn mm(value: f64) -> String {
    number::text(value, 6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::sample;
    use resvg::usvg;

    #[test]
    fn a_sheet_is_exactly_this() {
        let expected = r##"<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
<title>Seeds &amp; more: The sheet</title>
<g id="score-valley" class="score-valley" fill="none" stroke="#00795a" stroke-width="0.1">
<path d="M30.5 0L30.5 4M30.5 5L30.5 13.333333"/>
</g>
<g id="slot" class="slot" fill="none" stroke="#9e401a" stroke-width="0.1">
<path d="M10 20A5 5 0 0 1 20 20A5 5 0 0 1 10 20Z"/>
</g>
<g id="cut" class="cut" fill="none" stroke="#1a1a1a" stroke-width="0.1">
<path d="M0 30L5 30A5 5 0 0 1 10 35"/>
<path d="M40 5L50 5L50 15L40 15Z"/>
</g>
</svg>
"##;
        assert_eq!(cutting_svg("Seeds & more", &sample::sheet()).unwrap(), expected);
    }

    #[test]
    fn pieces_are_groups_with_their_names() {
        let mut sheet = sample::sheet();
        sheet.groups[0].key = "part-3".to_owned();
        sheet.groups[0].name = "Pocket <left>".to_owned();
        let text = cutting_svg("", &sheet).unwrap();
        assert!(text.contains("<title>The sheet</title>\n<g id=\"part-3\">\n<title>Pocket &lt;left&gt;</title>\n"));
        assert!(text.contains("<g id=\"part-3-slot\" class=\"slot\""));
        assert_eq!(text.matches("<g").count(), text.matches("</g>").count());
    }

    /// usvg works in 96ths of an inch.
    #[test]
    fn an_independent_reader_finds_the_arcs_where_they_are() {
        let text = cutting_svg("", &sample::sheet()).unwrap();
        let tree = usvg::Tree::from_str(&text, &usvg::Options::default()).unwrap();
        let slot = tree.node_by_id("slot").unwrap().abs_bounding_box();
        let mm = |value: f32| f64::from(value) * 25.4 / 96.0;
        let found = [mm(slot.left()), mm(slot.top()), mm(slot.right()), mm(slot.bottom())];
        for (found, expected) in found.into_iter().zip([10.0, 15.0, 20.0, 25.0]) {
            assert!((found - expected).abs() < 1e-3, "{found} is not {expected}");
        }
        assert!((mm(tree.size().width()) - 60.0).abs() < 1e-4);
    }
}
