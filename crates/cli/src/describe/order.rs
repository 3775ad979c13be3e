//! How else the layers of the closed folio could lie, plane by plane: how many orders there are, how they are reached, and
//! which panels lie on one another in one way only. The orders themselves are not told.

use fold::{Access, Assembly, Count, Extent, Folding, PlaneOrders, Trouble, alternatives};
use model::{Layout, PanelId};
use serde_json::{Value, json};

/// The layer orders of a closed folio.
pub(super) struct Orders<'a> {
    layout: &'a Layout,
    planes: Vec<PlaneOrders>,
    /// Whether the own steps, if they close it, do so by folding alone.
    own_folds: bool,
}

/// How the listed orders of a plane are reached.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Reached {
    by_folding: usize,
    need_tuck: usize,
    unknown: usize,
}

impl<'a> Orders<'a> {
    /// Looks at a closed folio, trying so many steps to see which orders folding reaches.
    pub(super) fn of(layout: &'a Layout, (assembly, folding): &(Assembly, Folding), tries: u64) -> Self {
        let hinders = |trouble: &Trouble| !matches!(trouble, Trouble::NotInSteps { .. });
        let planes = alternatives(assembly, folding, Extent { effort: tries, ..Extent::default() });
        let own_folds = !folding.needs_tuck() && !folding.troubles().iter().any(hinders);
        Self { layout, planes, own_folds }
    }

    /// One value for each plane.
    pub(super) fn value(&self) -> Value {
        self.planes.iter().map(|plane| self.plane(plane)).collect()
    }

    /// One sentence for each plane that has anything to choose or no order at all; one in all when there is none such.
    pub(super) fn sentences(&self) -> Vec<String> {
        let said: Vec<&PlaneOrders> = self.planes.iter().filter(|plane| plane.count != Count::Exact(1)).collect();
        match said.as_slice() {
            [] if self.planes.is_empty() => vec!["No layer lies on another.".to_owned()],
            [] => vec!["There is one way for the layers to lie.".to_owned()],
            [only] if self.planes.len() == 1 => vec![format!("There {}.", self.words(only))],
            several => {
                let sentence = |plane: &&PlaneOrders| {
                    let names: Vec<&str> = plane.panels.iter().map(|&panel| self.name(panel)).collect();
                    format!("In the plane of {} there {}.", names.join(", "), self.words(plane))
                };
                several.iter().map(sentence).collect()
            }
        }
    }

    fn plane(&self, plane: &PlaneOrders) -> Value {
        let (count, count_is) = match plane.count {
            Count::Exact(count) => (count, "exact"),
            Count::MoreThan(count) => (count, "more than"),
            Count::Undecided(count) => (count, "at least"),
        };
        let reached = self.reached(plane);
        json!({
            "panels": plane.panels.iter().map(|&panel| self.name(panel)).collect::<Vec<_>>(),
            // In a string, since it may exceed what readers hold exactly.
            "count": count.to_string(),
            "count_is": count_is,
            "listed": plane.orders.len(),
            "by_folding": reached.by_folding,
            "need_tuck": reached.need_tuck,
            "unknown": reached.unknown,
            "forced": plane.forced.iter().map(|&(low, high)| [self.name(low), self.name(high)]).collect::<Vec<_>>(),
        })
    }

    /// "are 16 ways for the layers to lie; 2 of them need a tuck".
    fn words(&self, plane: &PlaneOrders) -> String {
        let ways = match plane.count {
            Count::Exact(0) => return "is no way for the layers to lie".to_owned(),
            Count::Exact(1) => return "is one way for the layers to lie".to_owned(),
            Count::Exact(count) => format!("are {count} ways for the layers to lie"),
            Count::MoreThan(count) => format!("are more than {count} ways for the layers to lie"),
            Count::Undecided(count) => format!("are at least {count} ways for the layers to lie"),
        };
        let listed = plane.orders.len();
        let is_whole = matches!(plane.count, Count::Exact(count) if u128::try_from(listed) == Ok(count));
        let of = if is_whole { "them".to_owned() } else { format!("the first {listed}") };
        format!("{ways}; {}", self.reached(plane).words(&of))
    }

    fn reached(&self, plane: &PlaneOrders) -> Reached {
        let mut reached = Reached::default();
        for order in &plane.orders {
            *match &order.access {
                Access::Own if self.own_folds => &mut reached.by_folding,
                Access::Steps(_) => &mut reached.by_folding,
                Access::NeedsTuck => &mut reached.need_tuck,
                Access::Own | Access::Unknown => &mut reached.unknown,
            } += 1;
        }
        reached
    }

    fn name(&self, panel: PanelId) -> &str {
        &self.layout.panel(panel).name
    }
}

impl Reached {
    /// What is said of some orders, `of` them.
    fn words(self, of: &str) -> String {
        let need = |count: usize| if count == 1 { "needs" } else { "need" };
        match self {
            Self { need_tuck: 0, unknown: 0, .. } => format!("folding alone reaches all of {of}"),
            Self { unknown: 0, need_tuck, .. } => format!("{need_tuck} of {of} {} a tuck", need(need_tuck)),
            Self { by_folding, need_tuck: 0, unknown } => {
                format!("folding alone reaches {by_folding} of {of}, and how {unknown} are reached is not known")
            }
            Self { by_folding, need_tuck, unknown } => format!(
                "folding alone reaches {by_folding} of {of}, {need_tuck} {} a tuck, and how {unknown} are reached is not known",
                need(need_tuck)
            ),
        }
    }
}
