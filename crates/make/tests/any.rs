//! Whatever parts there are: there is always a legal next step, and every order that is given or allowed obeys.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{
    Said, Sketch, at, band, base, closure, flap, gate, hinge, inches, insert, keeps_its_promises, mat, of, page, part,
    pocket, pocket_glued,
};
use foliowright_make::{Making, Why, Words};
use model::part::{ClosureKind, Edges, GlueArea, Job, Source};
use model::{Face, Layout, PanelRef, Part, PartId, PartKind, SheetEdge};
use petgraph::graph::DiGraph;
use proptest::prelude::*;
use std::collections::BTreeMap;

const MOST: u32 = 9;

fn kind() -> impl Strategy<Value = PartKind> {
    let all = Edges::of(&SheetEdge::ALL);
    let kinds = vec![
        hinge("4", "1/2"),
        pocket("4", "4"),
        pocket("2", "3"),
        pocket_glued("3", "3", all, "0"),
        pocket_glued("3", "3", Edges::of(&[SheetEdge::Bottom]), "1/2"),
        page("3", "4"),
        flap("3", "2"),
        band(),
        mat("1", "1"),
        mat("3", "5"),
        insert("2", "3"),
    ];
    let closures = ClosureKind::ALL.map(closure);
    prop::sample::select([kinds, closures.to_vec()].concat())
}

fn panel() -> impl Strategy<Value = PanelRef> {
    prop_oneof![
        4 => Just(base()),
        1 => Just(PanelRef::Sheet(at("1", "8"))),
        1 => Just(PanelRef::Sheet(at("11", "8"))),
        4 => (1..=MOST, 0..2_usize).prop_map(|(id, at)| of(id, at)),
    ]
}

fn any_part() -> impl Strategy<Value = Part> {
    let source = prop::sample::select(vec![
        Source::AnyOffcut,
        Source::Offcut(at("6", "1")),
        Source::Whole(at("6", "1")),
        Source::FolioStock,
        Source::Bought,
    ]);
    let face = || prop::sample::select(vec![Face::Front, Face::Back]);
    let place = (-4..5_i64, -6..7_i64, 0..8_i32);
    let also = prop::option::weighted(0.3, panel());
    (kind(), panel(), source, face(), face(), place, also).prop_map(|(kind, on, source, face, showing, place, also)| {
        let (across, down, turned) = place;
        let mut part = part(0, kind, on).from(source).turned(&(turned * 45).to_string());
        part = part.moved(&format!("{}", across), &format!("{}", down));
        (part.place.face, part.place.showing) = (face, showing);
        match also {
            Some(to) => {
                part.glued_too(0, Face::Back, to, GlueArea::Strips(Edges::of(&[SheetEdge::Left]), inches("1/4")))
            }
            None => part,
        }
    })
}

fn any_job() -> impl Strategy<Value = Job> {
    (0..=MOST, 0..6_u8).prop_map(|(id, which)| match which {
        0 => common::score(id),
        1 => common::cut(id),
        2 => common::fold(id),
        3 => Job::Close,
        4 => common::CUT,
        _ => common::put(id),
    })
}

fn design() -> impl Strategy<Value = Sketch> {
    let parts = prop::collection::vec(any_part(), 0..usize::try_from(MOST).unwrap());
    (parts, prop::collection::vec(any_job(), 0..8), 0..3_u8).prop_map(|(parts, making, how)| {
        let mut sketch = gate();
        for (part, id) in parts.into_iter().zip(1..) {
            sketch = sketch.part(Part { id: PartId(id), ..part });
        }
        sketch.0.making = making;
        match how {
            0 => sketch.0.steps.clear(),
            1 => sketch.0.steps.reverse(),
            _ => {}
        }
        sketch
    })
}

/// petgraph's own word on whether the constraints can be obeyed.
fn is_a_partial_order(making: &Making) -> bool {
    let mut graph = DiGraph::<(), ()>::new();
    let nodes: BTreeMap<Job, _> = making.jobs.iter().map(|&job| (job, graph.add_node(()))).collect();
    for it in &making.constraints {
        graph.add_edge(nodes[&it.first], nodes[&it.then], ());
    }
    petgraph::algo::toposort(&graph, None).is_ok()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn making_order_always_has_a_legal_next_step(sketch in design(), picks in prop::collection::vec(any::<prop::sample::Index>(), 60)) {
        let making = sketch.making();
        keeps_its_promises(&making);
        prop_assert!(is_a_partial_order(&making));
        let mut done = Vec::new();
        for pick in &picks {
            let next = making.next(&done);
            if next.is_empty() {
                break;
            }
            done.push(*pick.get(&next));
        }
        prop_assert_eq!(done.len(), making.jobs.len());
        prop_assert_eq!(making.broken(&done), None);
        // What was done in a legal order is kept when she asks for it.
        let mut again = sketch;
        again.0.making.clone_from(&done);
        prop_assert_eq!(again.making().jobs, done);
    }

    #[test]
    fn what_may_be_moved_obeys_and_what_may_not_would_break_what_is_said(
        sketch in design(),
        from in any::<prop::sample::Index>(),
        to in 0..60_usize,
    ) {
        let making = sketch.making();
        prop_assume!(!making.jobs.is_empty());
        let job = *from.get(&making.jobs);
        match making.may_move(job, to) {
            Ok(jobs) => {
                prop_assert_eq!(making.broken(&jobs), None);
                prop_assert_eq!(jobs[to.min(jobs.len() - 1)], job);
            }
            Err(blocked) => {
                let mut jobs = making.jobs.clone();
                jobs.retain(|&other| other != job);
                jobs.insert(to.min(jobs.len()), job);
                let place = |job: Job| jobs.iter().position(|&at| at == job);
                prop_assert!(place(blocked.why.first) > place(blocked.why.then));
                prop_assert!([blocked.why.first, blocked.why.then].contains(&job));
                prop_assert!([blocked.why.first, blocked.why.then].contains(&blocked.by) && blocked.by != job);
            }
        }
    }

    #[test]
    fn every_circle_leads_back_to_itself_and_everything_can_be_said(sketch in design()) {
        let layout = Layout::of(&sketch.0);
        let making = Making::of(&sketch.0, &layout);
        for circle in &making.circles {
            for (i, it) in circle.reasons.iter().enumerate() {
                prop_assert_eq!(it.then, circle.reasons[(i + 1) % circle.reasons.len()].first);
            }
            prop_assert!(!making.constraints.contains(&circle.reasons[circle.reasons.len() - 1]));
            prop_assert!(circle.sentence(&sketch.0).ends_with('.'));
            // Paper can't be folded before it is cut out, nor a part lie on one that is not there, whatever else is so.
            let never = [Why::ScoredWhole, Why::ComesOff, Why::MadeThenFolded, Why::MadeThenPut, Why::LiesOn];
            prop_assert!(!never.contains(&circle.reasons[circle.reasons.len() - 1].why));
        }
        let words = Words { document: &sketch.0, layout: &layout, making: &making };
        for &job in &making.jobs {
            let said = words.instruction(job);
            prop_assert!(said.starts_with(char::is_uppercase) && !said.ends_with('.') && !said.contains("  "), "{said}");
        }
        for it in &making.constraints {
            let said = it.sentence(&sketch.0);
            // A part's own name stands in quotation marks.
            let begins = said.trim_start_matches('"').starts_with(char::is_uppercase);
            prop_assert!(begins && said.ends_with('.'), "{said}");
        }
        let cautions: Vec<_> = making.cautions(&sketch.0).into_iter().map(|(_, caution)| caution).collect();
        let mut once = cautions.clone();
        once.sort();
        once.dedup();
        prop_assert_eq!(once.len(), cautions.len());
    }
}
