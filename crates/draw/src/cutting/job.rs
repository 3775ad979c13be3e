//! What is asked, and the sheets as they are filled.

use super::contour::Contour;
use super::figure::Figure;
use super::pieces::{in_mm, of_sheet};
use super::{CuttingGroup, CuttingOptions, CuttingSheet, Pass};
use allot::Allotment;
use kurbo::Point;
use model::{Crease, Document, Face, Layout, Length, Segment, Size, Stretch};
use std::collections::{BTreeMap, BTreeSet};

/// A design, and what is wanted of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Job<'a> {
    pub(super) document: &'a Document,
    pub(super) layout: &'a Layout,
    pub(super) supply: Option<&'a Allotment>,
    pub(super) options: CuttingOptions,
}

impl Job<'_> {
    fn scored(&self) -> impl Iterator<Item = (&Stretch, Crease)> {
        let of_parts = self.layout.parts.iter().flat_map(|part| &part.sheet.stretches);
        let all = self.layout.stretches.iter().chain(of_parts);
        all.filter_map(|stretch| Some((stretch, stretch.work?.crease()?)))
    }

    /// How the scores of the sheet and of parts fold.
    pub(super) fn creases(&self) -> impl Iterator<Item = Crease> {
        self.scored().map(|(_, crease)| crease)
    }

    /// About how many dashes all scores take.
    pub(super) fn dashes(&self) -> f64 {
        let length = |stretch: &Stretch| (stretch.segment.b - stretch.segment.a).length().mm();
        self.scored().map(|(stretch, _)| self.options.scores.count(length(stretch))).sum()
    }
}

/// What is done on a sheet, or to one piece of it: while its front lies up, and while its back does.
#[derive(Debug, Clone)]
pub(super) struct Bench {
    options: CuttingOptions,
    faces: BTreeMap<Face, BTreeMap<Pass, Vec<Contour>>>,
}

impl Bench {
    pub(super) fn new(options: CuttingOptions) -> Self {
        Self { options, faces: BTreeMap::new() }
    }

    /// Adds contours to a pass with the front up.
    pub(super) fn put(&mut self, pass: Pass, contours: impl IntoIterator<Item = Contour>) {
        self.put_on(Face::Front, pass, contours);
    }

    pub(super) fn mark(&mut self, contours: impl IntoIterator<Item = Contour>) {
        self.put(Pass::Mark, contours);
    }

    fn put_on(&mut self, face: Face, pass: Pass, contours: impl IntoIterator<Item = Contour>) {
        let mut contours = contours.into_iter().peekable();
        if contours.peek().is_some() {
            self.faces.entry(face).or_default().entry(pass).or_default().extend(contours);
        }
    }

    /// Adds a piece's scores and cuts; see [`Figure::cut`].
    pub(super) fn add(&mut self, figure: &Figure, done: &mut BTreeSet<Segment>) {
        for ((direction, face), contour) in figure.scored(self.options.scores) {
            let face = if self.options.turn_over { face } else { Face::Front };
            self.put_on(face, Pass::Score(direction), [contour]);
        }
        for (pass, contour) in figure.cut(done) {
            self.put(pass, [contour]);
        }
    }

    /// A sheet of which all is one group: what is done to its back first, while it is whole.
    pub(super) fn sheets(self, name: String, number: usize, size: Size) -> Vec<CuttingSheet> {
        let size = of_sheet(size);
        let parts = vec![(String::new(), String::new(), self)];
        both(parts, &name, number, size)
    }

    /// Pieces beside each other, each a group.
    pub(super) fn side_by_side(
        pieces: Vec<(Figure, Bench)>,
        name: String,
        number: usize,
        size: (Length, Length),
    ) -> Vec<CuttingSheet> {
        let parts = pieces.into_iter().map(|(figure, bench)| (figure.key, figure.name, bench));
        both(parts.collect(), &name, number, in_mm(size))
    }
}

fn both(parts: Vec<(String, String, Bench)>, name: &str, number: usize, size: kurbo::Size) -> Vec<CuttingSheet> {
    let sheet = |face: Face| {
        let groups = parts.iter().filter_map(|(key, title, bench)| {
            let passes = bench.faces.get(&face)?.iter().map(|(pass, contours)| {
                let contours = if pass.has_any_order() { in_turn(contours) } else { contours.clone() };
                (*pass, if face == Face::Back { turned_over(contours, size.width) } else { contours })
            });
            Some(CuttingGroup { key: key.clone(), name: title.clone(), passes: passes.collect() })
        });
        let groups: Vec<CuttingGroup> = groups.collect();
        let name = if face == Face::Back { format!("{name}, turned over") } else { name.to_owned() };
        (!groups.is_empty()).then_some(CuttingSheet { name, number, is_back: face == Face::Back, size, groups })
    };
    [Face::Back, Face::Front].into_iter().filter_map(sheet).collect()
}

fn turned_over(contours: Vec<Contour>, width: f64) -> Vec<Contour> {
    let over = |contour: Contour| {
        let tracks = contour.tracks.iter().map(|track| track.turned_over(width));
        Contour { tracks: tracks.collect() }
    };
    contours.into_iter().map(over).collect()
}

/// Up to so many contours the next one is looked for among all.
const MOST_LOOKED_AT: usize = 2000;

/// Each after the one that ends nearest to where it starts or ends, so that the tool travels little in the air.
fn in_turn(contours: &[Contour]) -> Vec<Contour> {
    if contours.len() > MOST_LOOKED_AT {
        return contours.to_vec();
    }
    let mut open: Vec<&Contour> = contours.iter().collect();
    let (mut out, mut at) = (Vec::with_capacity(open.len()), Point::ZERO);
    let away = |at: Point, to: Option<Point>| to.map_or(f64::INFINITY, |to| at.distance_squared(to));
    while !open.is_empty() {
        let ways = open
            .iter()
            .enumerate()
            .flat_map(|(i, contour)| [(away(at, contour.start()), i, false), (away(at, contour.end()), i, true)]);
        let nearest = ways.min_by(|(a, ..), (b, ..)| a.total_cmp(b));
        let Some((_, i, back)) = nearest else { break };
        let contour = open.remove(i);
        let contour = if back { contour.reversed() } else { contour.clone() };
        at = contour.end().unwrap_or(at);
        out.push(contour);
    }
    out
}
