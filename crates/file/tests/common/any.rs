//! Made-up documents for proptest: everything that a project file can hold, sensible or not.
//!
//! Lengths lie within [`Length::LIMIT`] and texts are short; lines may name lines that aren't there and lie off the
//! sheet; parts may lie on what isn't there, of paper that isn't there. Only steps name lines of their sheet that are
//! there. The parts are boxed, since whole strategies for documents would not fit on the stack of a test.

use model::panel_name::PanelName;
use model::part::{
    Anchor, AnchorFrom, Band, Closure, ClosureKind, Edges, Flap, GlueArea, Gluing, Hinge, Insert, Job, Mat, Own, Page,
    PanelCorner, Paper, PartKind, Placement, Pocket, Rotation, Source, Tab, TuckCorner,
};
use model::{
    Artwork, Border, Bulk, Caliper, Colour, Corner, CornerShape, Crease, Cutting, Datum, Direction, Document, Face,
    FoldAngle, Formula, FurtherStock, Grade, Grain, Length, Line, LineId, NamedLength, NamedLengths, Notch, Numbered,
    PanelRef, Part, PartId, Pattern, Place, Point, Run, SheetEdge, Side, Silence, Size, Spot, Step, Stock, StockId,
    Stop, Strip, StripSide, Tucked, Turn, Unit, Weight, WeightScale, Which, Work,
};
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// Documents of up to seven lines and three parts.
pub(crate) fn any_document() -> impl Strategy<Value = Document> {
    let board = (any_length(), any_length(), any::<bool>());
    let texts = (any_text(), any_text(), select(vec![Unit::Inch, Unit::Millimetre, Unit::Centimetre]), board);
    let stocks = (any_stock(), prop::collection::btree_map(any::<u32>(), any_stock(), 0..3));
    let corners = prop::collection::vec(any_corner(), 0..4);
    let marks = (
        prop::option::of(any_point()),
        (prop::collection::vec(any_silence(), 0..3), prop::collection::vec(any_panel_name(), 0..3), any_offcuts()),
        prop::option::of(any_text()),
        any_names(),
    );
    (texts, stocks, any_lines(1), corners, marks, any_making()).prop_map(
        |(
            (title, credit, units, (groove, edge, along_grain)),
            (stock, further_stocks),
            (lines, folds),
            corners,
            (base, (mut silences, panel_names, offcuts), variation, names),
            made,
        )| {
            let (parts, making, folding) = made;
            let further = |(id, stock)| FurtherStock { id: StockId(id), stock };
            let further_stocks = further_stocks.into_iter().rev().map(further).collect();
            let folding = folding.into_iter().chain(std::iter::repeat_with(Default::default));
            let step = |(lines, (parts, tucks))| Step { lines, parts, tucks };
            let steps = folds.into_iter().zip(folding).map(step).collect();
            let cutting = Cutting { edge, along_grain };
            // Lines of the sheet are named by ones that are there.
            for silence in &mut silences {
                silence.lines = lines.iter().map(|line: &Line| line.id).take(silence.lines.len()).collect();
            }
            let mut document = Document {
                lengths: NamedLengths::default(),
                title,
                credit,
                units,
                groove,
                cutting,
                stock,
                further_stocks,
                lines,
                corners,
                base,
                panel_names,
                offcuts,
                parts,
                making,
                steps,
                silences,
                variation_of: None,
            };
            document.lengths = named(&document, names);
            match variation {
                Some(title) => document.variation(title),
                None => document,
            }
        },
    )
}

/// Which slots are said by a name, and how, each with a sentence on the name.
fn any_names() -> BoxedStrategy<Vec<(Index, bool, String)>> {
    prop::collection::vec((any::<Index>(), any::<bool>(), any_text()), 0..4).boxed()
}

/// A name for each slot that is picked, and the formula that uses it; every other name is that of the one before.
fn named(document: &Document, picks: Vec<(Index, bool, String)>) -> NamedLengths {
    let (slots, mut lengths) = (document.slots(), NamedLengths::default());
    for (at, (pick, is_long, about)) in picks.into_iter().enumerate() {
        let slot = *pick.get(&slots);
        let name = format!("Länge {at}");
        let formula = if is_long { format!("2 * {name} - (0 in + {name}) / 1") } else { name.clone() };
        let value = document.length_in(slot).unwrap_or_default();
        lengths.list.push(NamedLength { name, value, formula: None, about });
        lengths.formulas.insert(slot, Formula::parse(&formula, None).expect("it is a formula"));
    }
    // A name by another.
    if let Some(last) = lengths.list.last().cloned() {
        let formula = Some(Formula::of_name(&last.name));
        lengths.list.push(NamedLength { name: "as that".to_owned(), formula, ..last });
    }
    lengths
}

/// What a panel is called.
fn any_panel_name() -> BoxedStrategy<PanelName> {
    let name = any_text().prop_map(|text| format!("the {text}"));
    (any_point(), name).prop_map(|(mark, name)| PanelName { mark, name }).boxed()
}

/// What the checker is not to say again; which lines of the sheet it names is left open.
fn any_silence() -> BoxedStrategy<Silence> {
    let lists = (
        prop::collection::vec(any_panel(), 0..3),
        prop::collection::vec(any_id(), 0..3),
        prop::collection::vec((any_part_id(), any_id()), 0..3),
    );
    let reason = any_text().prop_map(|text| format!("so {text}"));
    (any_text(), lists, prop::option::of(any_point()), reason)
        .prop_map(|(rule, (panels, lines, part_lines), at, reason)| Silence {
            rule,
            panels,
            lines,
            part_lines,
            at,
            reason,
        })
        .boxed()
}

/// Lines, at least so many, and steps in which some of them fold.
fn any_lines(least: usize) -> BoxedStrategy<(Vec<Line>, Vec<Vec<LineId>>)> {
    let line = (any_text(), any_place(), any_work(), any::<bool>());
    let lines = prop::collection::btree_map(any_id(), line, least..8);
    let steps = prop::collection::vec(prop::collection::vec(any::<Index>(), 0..4), 0..4);
    (lines, steps)
        .prop_map(|(lines, steps)| {
            let line = |(id, (name, place, work, locked))| Line { id, name, place, work, locked };
            // From the highest id to the lowest, so that order in the document isn't order of ids.
            let lines: Vec<Line> = lines.into_iter().rev().map(line).collect();
            let picked = |pick: Index| if lines.is_empty() { None } else { Some(pick.get(&lines).id) };
            let step = |picks: Vec<Index>| picks.into_iter().filter_map(picked).collect();
            let steps = steps.into_iter().map(step).collect();
            (lines, steps)
        })
        .boxed()
}

/// What a step holds besides lines of the sheet.
type Folding = (Vec<(PartId, LineId)>, Vec<Tucked>);

/// Parts, the order of making, and what happens with parts as the folio closes.
fn any_making() -> BoxedStrategy<(Vec<Part>, Vec<Job>, Vec<Folding>)> {
    let part = (any_text(), any_kind(), any_source(), any_placement(), prop::collection::vec(any_gluing(), 0..3));
    let parts = prop::collection::btree_map(any_part_id(), part, 0..4).prop_map(|parts| {
        let part = |(id, (name, kind, source, place, also))| Part { id, name, kind, source, place, also };
        parts.into_iter().rev().map(part).collect()
    });
    let tuck = (any_panel(), any_panel()).prop_map(|(panel, under)| Tucked { panel, under });
    let folding = (prop::collection::vec((any_part_id(), any_id()), 0..3), prop::collection::vec(tuck, 0..3));
    (parts, prop::collection::vec(any_job(), 0..5), prop::collection::vec(folding, 0..4)).boxed()
}

/// Text of one line.
pub(crate) fn any_text() -> impl Strategy<Value = String> {
    // What would be refused is replaced, since a run of many cases would tire of filtering.
    let plain = |c: char| if c.is_control() { '"' } else { c };
    prop::collection::vec(any::<char>().prop_map(plain), 0..12).prop_map(String::from_iter)
}

/// Lengths as typed in either system, and any others that are read.
fn any_length() -> impl Strategy<Value = Length> + Clone {
    let limit = Length::LIMIT.nm();
    prop_oneof![
        (-2_000..2_000_i64).prop_map(Length::from_sixty_fourths),
        (-50_000..50_000_i64).prop_map(|hundredths| Length::from_nm(hundredths * 10_000)),
        (-limit..=limit).prop_map(Length::from_nm),
        Just(Length::ZERO),
    ]
}

fn any_id() -> impl Strategy<Value = LineId> + Clone {
    prop_oneof![0..10_u32, any::<u32>()].prop_map(LineId)
}

fn any_point() -> impl Strategy<Value = Point> {
    (any_length(), any_length()).prop_map(|(x, y)| Point::new(x, y))
}

/// Numbers of offcuts, each given once.
fn any_offcuts() -> impl Strategy<Value = Vec<Numbered>> {
    let all = prop::collection::btree_map(1..=Numbered::HIGHEST, any_point(), 0..4);
    all.prop_map(|all| all.into_iter().map(|(number, mark)| Numbered { number, mark }).collect())
}

fn any_place() -> BoxedStrategy<Place> {
    let run = (any_stop(), any_stop()).prop_map(|(from, to)| Run { from, to });
    let datum = prop_oneof![Just(Datum::Edge), any_id().prop_map(Datum::Line)];
    let measured = (select(Turn::ALL.to_vec()), datum, any_length(), run.clone());
    prop_oneof![
        measured.prop_map(|(turn, from, distance, run)| Place::Measured { turn, from, distance, run }),
        (any_id(), run).prop_map(|(line, run)| Place::Along { line, run }),
        (any_spot(), any_spot(), any_length()).prop_map(|(from, to, bow)| Place::Drawn { from, to, bow }),
    ]
    .boxed()
}

fn any_stop() -> impl Strategy<Value = Stop> + Clone {
    prop_oneof![
        Just(Stop::Edge),
        any_id().prop_map(Stop::Line),
        any_length().prop_map(Stop::At),
        (any_id(), any_length()).prop_map(|(line, past)| Stop::Past(line, past)),
    ]
}

fn any_spot() -> impl Strategy<Value = Spot> {
    prop_oneof![
        any_point().prop_map(Spot::At),
        (any_id(), any_id()).prop_map(|(a, b)| Spot::Crossing(a, b)),
        (any_id(), any_length()).prop_map(|(line, at)| Spot::On(line, at)),
    ]
}

fn any_work() -> BoxedStrategy<Work> {
    let direction = select(vec![Direction::Valley, Direction::Mountain, Direction::Either]);
    let angle = select(vec![FoldAngle::Flat, FoldAngle::Square]);
    let pressed = prop::option::of(select(vec![Face::Front, Face::Back]));
    let crease =
        (direction, angle, pressed).prop_map(|(direction, angle, pressed)| Crease { direction, angle, pressed });
    let side = select(vec![StripSide::Left, StripSide::Right, StripSide::Centred]);
    let strip = (any_length(), side).prop_map(|(width, side)| Strip { width, side });
    let notch = (any_length(), any::<bool>()).prop_map(|(depth, to_left)| Notch { depth, to_left });
    prop_oneof![
        crease.prop_map(Work::Score),
        select(vec![Work::Cut, Work::Guide]),
        strip.clone().prop_map(Work::Slot),
        strip.prop_map(Work::Trim),
        notch.prop_map(Work::Notch),
    ]
    .boxed()
}

fn any_corner() -> BoxedStrategy<Corner> {
    let edge = select(SheetEdge::ALL.to_vec()).prop_map(Border::Edge);
    let border = prop_oneof![edge, any_id().prop_map(Border::Line)];
    let which = prop_oneof![
        select(vec![Which::AllOfPanel, Which::AllOfPiece]),
        (border.clone(), border).prop_map(|(a, b)| Which::Between(a, b)),
    ];
    let shape = prop_oneof![
        Just(CornerShape::Square),
        any_length().prop_map(CornerShape::Round),
        any_length().prop_map(CornerShape::Clip),
    ];
    (any_point(), which, shape).prop_map(|(mark, which, shape)| Corner { mark, which, shape }).boxed()
}

fn any_stock() -> BoxedStrategy<Stock> {
    let grain = prop::option::of(select(vec![Grain::Upright, Grain::Level]));
    let weight = prop::option::of(any_weight());
    let looks = (any_side(), any_side(), prop::option::of(any_colour()));
    (any_text(), any_size(), weight, any_caliper(), grain, looks)
        .prop_map(|(name, size, weight, caliper, grain, (front, back, core))| Stock {
            name,
            size,
            weight,
            caliper,
            front,
            back,
            grain,
            core,
        })
        .boxed()
}

fn any_size() -> impl Strategy<Value = Size> {
    let side = || any_length().prop_map(|length| length.abs().max(Length::SIXTY_FOURTH));
    (side(), side()).prop_map(|(width, height)| Size::new(width, height).expect("both are more than nothing"))
}

fn any_weight() -> impl Strategy<Value = Weight> {
    let scale = prop_oneof![Just(WeightScale::Grams), select(Grade::ALL.to_vec()).prop_map(WeightScale::Pounds)];
    (1..=Weight::MOST_THOUSANDTHS, scale)
        .prop_map(|(count, scale)| Weight::new(count, scale).expect("the count is within the bounds"))
}

fn any_caliper() -> impl Strategy<Value = Caliper> {
    let bulk = |thousandths| Bulk::from_thousandths(thousandths).expect("it is within the bounds");
    prop_oneof![
        Just(Caliper::Unknown),
        (1..=10_000_000_i64).prop_map(|nm| Caliper::Measured(Length::from_nm(nm))),
        (300..=5_000_u32).prop_map(move |thousandths| Caliper::FromBulk(bulk(thousandths))),
    ]
}

fn any_side() -> BoxedStrategy<Side> {
    let edge = select(SheetEdge::ALL.to_vec()).prop_map(Pattern::OneWay);
    let pattern = prop_oneof![select(vec![Pattern::Plain, Pattern::AnyWay]), edge];
    (pattern, prop::option::of(any_colour()), prop::option::of(any_artwork()))
        .prop_map(|(pattern, colour, artwork)| Side { pattern, colour, artwork })
        .boxed()
}

fn any_colour() -> impl Strategy<Value = Colour> {
    any::<[u8; 3]>().prop_map(Colour)
}

fn any_artwork() -> impl Strategy<Value = Artwork> {
    let width = any_length().prop_map(|length| length.abs().max(Length::from_nm(1)));
    let place = (width, any_length(), any_length());
    ("[a-zé][a-zé \"'.-]{0,20}", any::<[u8; 32]>(), [1..=u32::MAX, 1..=u32::MAX], place)
        .prop_map(|(file, digest, pixels, (width, left, top))| Artwork { file, digest, pixels, width, left, top })
}

fn any_part_id() -> impl Strategy<Value = PartId> + Clone {
    prop_oneof![0..10_u32, any::<u32>()].prop_map(PartId)
}

fn any_panel() -> impl Strategy<Value = PanelRef> {
    let of_part = (any_part_id(), any_panel_number()).prop_map(|(part, panel)| PanelRef::Part(part, panel));
    prop_oneof![any_point().prop_map(PanelRef::Sheet), of_part]
}

/// The highest is that which the file counts as `u32::MAX`.
fn any_panel_number() -> impl Strategy<Value = usize> {
    prop_oneof![0..10_usize, (0..u32::MAX).prop_map(|number| usize::try_from(number).expect("it is an index"))]
}

fn any_face() -> impl Strategy<Value = Face> {
    select(vec![Face::Front, Face::Back])
}

fn any_edge() -> impl Strategy<Value = SheetEdge> {
    select(SheetEdge::ALL.to_vec())
}

fn any_edges() -> impl Strategy<Value = Edges> {
    prop::sample::subsequence(SheetEdge::ALL.to_vec(), 0..=4).prop_map(|edges| Edges::of(&edges))
}

fn any_source() -> BoxedStrategy<Source> {
    prop_oneof![
        select(vec![Source::AnyOffcut, Source::FolioStock, Source::Bought]),
        any_point().prop_map(Source::Offcut),
        any_point().prop_map(Source::Whole),
        any::<u32>().prop_map(|id| Source::Stock(StockId(id))),
    ]
    .boxed()
}

fn any_placement() -> BoxedStrategy<Placement> {
    let anchor = || {
        let from = select(vec![AnchorFrom::Start, AnchorFrom::Middle, AnchorFrom::End]);
        (from, any_length()).prop_map(|(from, distance)| Anchor { from, distance })
    };
    let rotation = prop_oneof![(0..4).prop_map(|quarters| quarters * 9_000), 0..36_000];
    let rotation = rotation.prop_map(Rotation::from_hundredths);
    (any_panel(), any_face(), anchor(), anchor(), rotation, any_face())
        .prop_map(|(on, face, across, down, rotation, showing)| Placement { on, face, across, down, rotation, showing })
        .boxed()
}

fn any_gluing() -> BoxedStrategy<Gluing> {
    let area = prop_oneof![
        select(vec![GlueArea::Whole, GlueArea::None]),
        (any_edges(), any_length()).prop_map(|(edges, strip)| GlueArea::Strips(edges, strip)),
    ];
    (any_panel_number(), any_face(), any_panel(), area)
        .prop_map(|(panel, face, to, area)| Gluing { panel, face, to, area })
        .boxed()
}

fn any_job() -> impl Strategy<Value = Job> {
    let paper = || prop_oneof![Just(Paper::Folio), any_part_id().prop_map(Paper::Part)];
    prop_oneof![
        paper().prop_map(Job::Score),
        paper().prop_map(Job::Cut),
        any_part_id().prop_map(Job::Fold),
        any_part_id().prop_map(Job::Put),
        Just(Job::Close),
    ]
}

fn any_kind() -> BoxedStrategy<PartKind> {
    prop_oneof![any_glued_kind(), any_plain_kind(), any_own().prop_map(PartKind::Own)].boxed()
}

fn any_three() -> impl Strategy<Value = [Length; 3]> {
    [any_length(), any_length(), any_length()]
}

/// Kinds with glue along an edge or a strip.
fn any_glued_kind() -> BoxedStrategy<PartKind> {
    let pocket = (any_three(), any_edges(), any_length(), any_length());
    let tuck = (any_three(), select(PanelCorner::ALL.to_vec()), any_length());
    prop_oneof![
        pocket.prop_map(|([width, height, strip], glued, rim, gusset)| {
            PartKind::Pocket(Pocket { width, height, glued, strip, rim, gusset })
        }),
        tuck.prop_map(|([across, down, strip], corner, band)| {
            PartKind::TuckCorner(TuckCorner { across, down, corner, band, strip })
        }),
        (any_three(), any_edge()).prop_map(|([width, height, strip], hinged)| PartKind::Page(Page {
            width,
            height,
            hinged,
            strip
        })),
        (any_three(), any_edge()).prop_map(|([width, reach, strip], edge)| PartKind::Flap(Flap {
            width,
            reach,
            edge,
            strip
        })),
        (any_three(), any_edge()).prop_map(|([width, height, strip], glued)| PartKind::Tab(Tab {
            width,
            height,
            glued,
            strip
        })),
    ]
    .boxed()
}

fn any_plain_kind() -> BoxedStrategy<PartKind> {
    let caliper = prop::option::of(any_length().prop_map(|length| length.abs().max(Length::from_nm(1))));
    prop_oneof![
        any_three().prop_map(|[length, leaf, free_leaf]| PartKind::Hinge(Hinge { length, leaf, free_leaf })),
        (any_three(), any::<bool>()).prop_map(|([around, width, overlap], is_upright)| {
            PartKind::Band(Band { around, width, overlap, is_upright })
        }),
        (any_length(), any_length()).prop_map(|(width, height)| PartKind::Mat(Mat { width, height })),
        (any_length(), any_length(), caliper).prop_map(|(width, height, caliper)| PartKind::Insert(Insert {
            width,
            height,
            caliper
        })),
        (any_three(), select(ClosureKind::ALL.to_vec())).prop_map(|([width, height, thickness], kind)| {
            PartKind::Closure(Closure { kind, width, height, thickness })
        }),
    ]
    .boxed()
}

fn any_own() -> BoxedStrategy<Own> {
    (any_size(), any_lines(0), prop::collection::vec(any_corner(), 0..3), any_point())
        .prop_map(|(size, (lines, folded), corners, base)| Own { size, lines, corners, base, folded })
        .boxed()
}
