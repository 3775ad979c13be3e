//! The strip at a page's foot: whose page it is, its number, and whether the printer kept the size.

use super::bar::scale_bar;
use super::flow::fitted;
use super::grid::{MARGIN, STRIP};
use super::over::Flip;
use crate::list::{Node, Role, Shape};
use crate::style::NOTE;
use crate::text::{Face, TextRun, measure};
use kurbo::{Point, Size};

/// What the strip of a page says besides the title and the page's number.
#[derive(Debug, Clone)]
pub(crate) struct Strip {
    /// What is on the page.
    pub(crate) name: String,
    /// Where the strip is.
    pub(crate) place: Place,
}

/// Where a page has its strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    /// Below all else.
    Foot,
    /// Above all else, on a back that was turned over from top to bottom.
    Head,
}

impl Place {
    /// That of a back, behind the strip of its front.
    pub(super) const fn of_back(flip: Flip) -> Self {
        match flip {
            Flip::Sideways => Self::Foot,
            Flip::Endwise => Self::Head,
        }
    }
}

/// The most of a page's width that its name takes.
const NAME_SHARE: f64 = 0.6;

impl Strip {
    /// What is drawn of it.
    pub(crate) fn nodes(&self, title: &str, page: Size, (number, total): (usize, usize)) -> Vec<Node> {
        const SIZE: f64 = 3.2;
        let baseline = match self.place {
            Place::Foot => page.height - MARGIN - 1.0,
            Place::Head => MARGIN + STRIP - 2.5,
        };
        let inner = page.width - 2.0 * MARGIN;
        let right = TextRun::new(&format!("Page {number} of {total}"), Face::Regular, SIZE, NOTE);
        let name = fitted(&format!(": {}", self.name), Face::Bold, SIZE, inner * NAME_SHARE);
        let room = inner - right.width() - 6.0 - measure(&name, Face::Bold, SIZE);
        let left = TextRun::new(&(fitted(title, Face::Bold, SIZE, room) + &name), Face::Bold, SIZE, NOTE);
        let left = left.at(Point::new(MARGIN, baseline));
        let right = right.ending_at(Point::new(page.width - MARGIN, baseline));
        let mut nodes: Vec<Node> =
            [left, right].map(|run| Node::Item { role: Role::Note, shape: Shape::Text(run) }).into();
        nodes.extend(scale_bar(Point::new(page.width / 2.0, baseline - 6.5), inner - 70.0));
        nodes
    }
}
