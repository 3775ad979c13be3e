//! A cutting file as DXF, release 12: the oldest that every reader knows. Written after the published reference of the
//! format (release 12, group codes, from memory; read back by other programs in tests/outside).
//!
//! Units are millimetres, a layer for each pass, entities in the order of work: a `LINE` for a single straight stretch,
//! else a `POLYLINE`, with a bulge for every arc.

use crate::{OutputError, cutting, number};
use draw::cutting::{CuttingSheet, Direction, Pass, Track};
use kurbo::Point;

/// Writes one sheet. Y runs up, from the lower left corner.
///
/// # Errors
/// [`OutputError::NotFinite`] for what lies out of reach.
pub fn cutting_dxf(sheet: &CuttingSheet) -> Result<String, OutputError> {
    cutting::check(sheet)?;
    let mut writer = Writer { out: String::new(), height: sheet.size.height };
    writer.header(sheet);
    writer.tables(sheet);
    writer.section("ENTITIES");
    for (pass, contours) in sheet.groups.iter().flat_map(|group| &group.passes) {
        for track in contours.iter().flat_map(|contour| &contour.tracks) {
            writer.track(track, &layer(*pass));
        }
    }
    writer.text(0, "ENDSEC");
    writer.text(0, "EOF");
    Ok(writer.out)
}

/// Colours of layers, by their numbers in the format's own list: 7 is black or white, whichever is seen.
const fn colour(pass: Pass) -> i64 {
    match pass {
        Pass::Cut => 7,
        Pass::Slot => 1,
        Pass::Outline => 2,
        Pass::Score(Direction::Valley) => 3,
        Pass::Score(Direction::Mountain) => 6,
        Pass::Score(Direction::Either) => 4,
        Pass::Mark => 8,
    }
}

/// Names of layers are capitals, digits and hyphens in release 12.
fn layer(pass: Pass) -> String {
    pass.key().to_uppercase()
}

/// `$INSUNITS` for millimetres.
const MILLIMETRES: i64 = 4;

struct Writer {
    out: String,
    height: f64,
}

impl Writer {
    fn header(&mut self, sheet: &CuttingSheet) {
        self.section("HEADER");
        self.text(9, "$ACADVER");
        self.text(1, "AC1009");
        for (name, value) in [("$INSUNITS", MILLIMETRES), ("$MEASUREMENT", 1), ("$LUNITS", 2), ("$HANDLING", 0)] {
            self.text(9, name);
            self.whole(70, value);
        }
        let corners = [("$EXTMIN", Point::new(0.0, self.height)), ("$EXTMAX", Point::new(sheet.size.width, 0.0))];
        for (name, corner) in corners {
            self.text(9, name);
            self.point(corner);
            self.number(30, 0.0);
        }
        self.text(0, "ENDSEC");
    }

    fn tables(&mut self, sheet: &CuttingSheet) {
        self.section("TABLES");
        self.table("LTYPE", 1);
        self.text(0, "LTYPE");
        self.text(2, "CONTINUOUS");
        self.whole(70, 0);
        self.text(3, "Solid line");
        self.whole(72, 65);
        self.whole(73, 0);
        self.number(40, 0.0);
        self.text(0, "ENDTAB");
        let passes: Vec<Pass> = sheet.counts().into_iter().map(|(pass, _)| pass).collect();
        // Layer 0 is always there.
        self.table("LAYER", passes.len() + 1);
        self.layer("0", 7);
        for pass in passes {
            self.layer(&layer(pass), colour(pass));
        }
        self.text(0, "ENDTAB");
        self.text(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, count: usize) {
        self.text(0, "TABLE");
        self.text(2, name);
        self.text(70, &count.to_string());
    }

    fn layer(&mut self, name: &str, colour: i64) {
        self.text(0, "LAYER");
        self.text(2, name);
        self.whole(70, 0);
        self.whole(62, colour);
        self.text(6, "CONTINUOUS");
    }

    fn track(&mut self, track: &Track, layer: &str) {
        match track.bends.as_slice() {
            [] => {}
            [bend] if bend.is_straight() => {
                self.entity("LINE", layer);
                self.point(track.start);
                let end = bend.to;
                self.number(11, end.x);
                self.number(21, self.height - end.y);
            }
            _ => self.polyline(track, layer),
        }
    }

    fn polyline(&mut self, track: &Track, layer: &str) {
        let closes = track.is_closed();
        self.entity("POLYLINE", layer);
        // Vertices follow.
        self.whole(66, 1);
        self.whole(70, i64::from(closes));
        self.number(10, 0.0);
        self.number(20, 0.0);
        self.number(30, 0.0);
        for (from, bend) in track.stretches() {
            // Positive is anticlockwise here, and y runs up, which leaves what is seen as it is.
            self.vertex(from, -bend.bulge(), layer);
        }
        if !closes {
            self.vertex(track.end(), 0.0, layer);
        }
        self.entity("SEQEND", layer);
    }

    fn vertex(&mut self, at: Point, bulge: f64, layer: &str) {
        self.entity("VERTEX", layer);
        self.point(at);
        if bulge.abs() > 0.0 {
            self.decimal(42, bulge, BULGE_DECIMALS);
        }
    }

    fn entity(&mut self, kind: &str, layer: &str) {
        self.text(0, kind);
        self.text(8, layer);
    }

    fn section(&mut self, name: &str) {
        self.text(0, "SECTION");
        self.text(2, name);
    }

    fn point(&mut self, at: Point) {
        self.number(10, at.x);
        self.number(20, self.height - at.y);
    }

    fn number(&mut self, code: u8, value: f64) {
        self.decimal(code, value, DECIMALS);
    }

    fn decimal(&mut self, code: u8, value: f64, decimals: usize) {
        let text = number::text(value, decimals);
        // Some readers take a number without a point for a whole one.
        if text.contains('.') { self.text(code, &text) } else { self.text(code, &format!("{text}.0")) }
    }

    fn whole(&mut self, code: u8, value: i64) {
        self.text(code, &format!("{value:>6}"));
    }

    fn text(&mut self, code: u8, value: &str) {
        self.out.push_str(&format!("{code:>3}\n{value}\n"));
    }
}

/// Decimals of a coordinate in mm: a nanometre.
const DECIMALS: usize = 6;

/// Decimals of a bulge, which is multiplied by the length of a chord.
const BULGE_DECIMALS: usize = 12;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::sample;

    /// Group codes with their values.
    fn read(text: &str) -> Vec<(u8, &str)> {
        let lines: Vec<&str> = text.lines().collect();
        lines.chunks(2).map(|pair| (pair[0].trim().parse().unwrap(), pair[1].trim())).collect()
    }

    fn entities() -> Vec<(String, Vec<(u8, String)>)> {
        let text = cutting_dxf(&sample::sheet()).unwrap();
        let all = read(&text);
        let start = all.iter().position(|pair| *pair == (2, "ENTITIES")).unwrap();
        let mut found: Vec<(String, Vec<(u8, String)>)> = Vec::new();
        for (code, value) in &all[start + 1..] {
            match code {
                0 => found.push(((*value).to_owned(), Vec::new())),
                _ => found.last_mut().unwrap().1.push((*code, (*value).to_owned())),
            }
        }
        found
    }

    #[test]
    fn it_has_its_sections_units_and_layers() {
        let text = cutting_dxf(&sample::sheet()).unwrap();
        let all = read(&text);
        assert!(all.windows(2).any(|pair| pair == [(9, "$ACADVER"), (1, "AC1009")]));
        assert!(all.windows(2).any(|pair| pair == [(9, "$INSUNITS"), (70, "4")]));
        let layers = all.windows(2).filter(|pair| pair[0] == (0, "LAYER")).map(|pair| pair[1].1);
        assert_eq!(layers.collect::<Vec<_>>(), ["0", "SCORE-VALLEY", "SLOT", "CUT"]);
        let sections = |name| all.iter().filter(|pair| **pair == (0, name)).count();
        assert_eq!((sections("SECTION"), sections("ENDSEC"), sections("EOF")), (3, 3, 1));
    }

    #[test]
    fn straight_stretches_are_lines_with_y_up() {
        let (kind, values) = entities().remove(1);
        let expected = [(8, "SCORE-VALLEY"), (10, "30.5"), (20, "35.0"), (11, "30.5"), (21, "26.666667")]
            .map(|(c, v)| (c, v.to_owned()));
        assert_eq!((kind.as_str(), values.as_slice()), ("LINE", expected.as_slice()));
    }

    #[test]
    fn arcs_are_bulges_of_closed_and_open_polylines() {
        let found = entities();
        let polylines: Vec<_> = found.iter().filter(|(kind, _)| kind == "POLYLINE").collect();
        let closed = |(_, values): &&(String, Vec<(u8, String)>)| values.contains(&(70, "1".to_owned()));
        assert_eq!(polylines.iter().map(closed).collect::<Vec<_>>(), [true, false, true]);
        let bulges: Vec<f64> = found
            .iter()
            .flat_map(|(_, values)| values)
            .filter(|(code, _)| *code == 42)
            .map(|(_, value)| value.parse().unwrap())
            .collect();
        // Half circles have a bulge of 1, a quarter one of tan 22.5°; clockwise is negative.
        let expected = [-1.0, -1.0, -(2.0_f64.sqrt() - 1.0)];
        assert!(bulges.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-11) && bulges.len() == 3, "{bulges:?}");
        // A vertex for each corner, and one more where it stays open.
        assert_eq!(found.iter().filter(|(kind, _)| kind == "VERTEX").count(), 2 + 3 + 4);
        assert_eq!(found.last().unwrap().0, "EOF");
    }
}
