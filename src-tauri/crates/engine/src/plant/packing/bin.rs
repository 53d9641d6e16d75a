//! Round footprints laid out on a rectangle, one by one, as close as they go.

/// Slack in m for rounding.
const SLACK_M: f64 = 1e-9;

/// A circle on a surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Circle {
    pub(super) x_m: f64,
    pub(super) y_m: f64,
    pub(super) radius_m: f64,
}

impl Circle {
    fn is_clear_of(&self, other: &Self) -> bool {
        let apart = (self.x_m - other.x_m).hypot(self.y_m - other.y_m);
        apart >= self.radius_m + other.radius_m - SLACK_M
    }
}

/// A rectangle with what stands on it.
///
/// Each circle goes to the free place furthest back (`y` smallest, then `x`) among those in a corner, against a wall and a
/// circle, or between two circles: the usual bottom-left rule for circles (E. G. Birgin et al., Eur. J. Oper. Res. 197
/// (2009), is one of many that build on it). Within a few per cent of the best layout for equal pots, and what a person
/// would do by hand.
#[derive(Debug, Clone)]
pub(super) struct Bin {
    length_m: f64,
    width_m: f64,
    circles: Vec<Circle>,
    /// Places free for the radius that was asked for last.
    places: Vec<Circle>,
    places_radius_m: f64,
}

impl Bin {
    pub(super) fn new(length_m: f64, width_m: f64) -> Self {
        Self { length_m, width_m, circles: Vec::new(), places: Vec::new(), places_radius_m: f64::NAN }
    }

    /// Area under the circles, m².
    pub(super) fn used_m2(&self) -> f64 {
        self.circles.iter().map(|circle| std::f64::consts::PI * circle.radius_m * circle.radius_m).sum()
    }

    /// Places a circle; `None` when there is no room.
    pub(super) fn place(&mut self, radius_m: f64) -> Option<Circle> {
        if self.places_radius_m != radius_m {
            self.find_places(radius_m);
        }
        let back_first = |a: &Circle, b: &Circle| a.y_m.total_cmp(&b.y_m).then(a.x_m.total_cmp(&b.x_m));
        let best = *self.places.iter().min_by(|a, b| back_first(a, b))?;
        self.places.retain(|place| place.is_clear_of(&best));
        self.circles.push(best);
        let new = self.beside(&best, self.circles.len() - 1, radius_m);
        self.places.extend(new);
        Some(best)
    }

    fn find_places(&mut self, radius_m: f64) {
        self.places_radius_m = radius_m;
        let (far_x, far_y) = (self.length_m - radius_m, self.width_m - radius_m);
        let corners = [(radius_m, radius_m), (far_x, radius_m), (radius_m, far_y), (far_x, far_y)];
        let mut places: Vec<Circle> = corners.into_iter().filter_map(|at| self.free(at, radius_m)).collect();
        for index in 0..self.circles.len() {
            places.extend(self.beside(&self.circles[index], index, radius_m));
        }
        self.places = places;
    }

    /// Free places that touch a circle and a wall, or it and one of the first `earlier` circles.
    fn beside(&self, circle: &Circle, earlier: usize, radius_m: f64) -> Vec<Circle> {
        let reach_m = circle.radius_m + radius_m;
        let mut at = Vec::new();
        for x_m in [radius_m, self.length_m - radius_m] {
            let off = reach_m * reach_m - (x_m - circle.x_m).powi(2);
            if off >= 0.0 {
                at.extend([(x_m, circle.y_m + off.sqrt()), (x_m, circle.y_m - off.sqrt())]);
            }
        }
        for y_m in [radius_m, self.width_m - radius_m] {
            let off = reach_m * reach_m - (y_m - circle.y_m).powi(2);
            if off >= 0.0 {
                at.extend([(circle.x_m + off.sqrt(), y_m), (circle.x_m - off.sqrt(), y_m)]);
            }
        }
        for other in &self.circles[..earlier] {
            at.extend(touching_both(circle, other, radius_m).into_iter().flatten());
        }
        at.into_iter().filter_map(|at| self.free(at, radius_m)).collect()
    }

    fn free(&self, (x_m, y_m): (f64, f64), radius_m: f64) -> Option<Circle> {
        let circle = Circle { x_m, y_m, radius_m };
        let inside =
            |at_m: f64, side_m: f64| at_m >= radius_m - SLACK_M && at_m <= side_m - radius_m + SLACK_M;
        let fits = inside(x_m, self.length_m) && inside(y_m, self.width_m);
        (fits && self.circles.iter().all(|other| circle.is_clear_of(other))).then_some(circle)
    }
}

/// The two centres of a circle that touches two others.
fn touching_both(a: &Circle, b: &Circle, radius_m: f64) -> Option<[(f64, f64); 2]> {
    let (to_a, to_b) = (a.radius_m + radius_m, b.radius_m + radius_m);
    let (dx, dy) = (b.x_m - a.x_m, b.y_m - a.y_m);
    let apart = dx.hypot(dy);
    if apart > to_a + to_b || apart < 1e-6 {
        return None;
    }
    let along = (to_a * to_a - to_b * to_b + apart * apart) / (2.0 * apart);
    let off = (to_a * to_a - along * along).max(0.0).sqrt();
    let (ux, uy) = (dx / apart, dy / apart);
    let (x_m, y_m) = (a.x_m + along * ux, a.y_m + along * uy);
    Some([(x_m - off * uy, y_m + off * ux), (x_m + off * uy, y_m - off * ux)])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fill(length_m: f64, width_m: f64, radius_m: f64) -> Vec<Circle> {
        let mut bin = Bin::new(length_m, width_m);
        std::iter::from_fn(|| bin.place(radius_m)).collect()
    }

    #[test]
    fn circles_stay_inside_and_apart() {
        let mut bin = Bin::new(2.0, 0.9);
        let radii = [0.3, 0.22, 0.22, 0.15, 0.15, 0.15, 0.1, 0.1, 0.07, 0.07, 0.07, 0.05];
        let placed: Vec<Circle> =
            radii.iter().cycle().take(60).filter_map(|&radius| bin.place(radius)).collect();
        assert!(placed.len() > 12);
        for (index, circle) in placed.iter().enumerate() {
            assert!(circle.x_m >= circle.radius_m - 1e-6 && circle.x_m <= 2.0 - circle.radius_m + 1e-6);
            assert!(circle.y_m >= circle.radius_m - 1e-6 && circle.y_m <= 0.9 - circle.radius_m + 1e-6);
            for other in &placed[..index] {
                let apart = (circle.x_m - other.x_m).hypot(circle.y_m - other.y_m);
                assert!(apart > circle.radius_m + other.radius_m - 1e-6);
            }
        }
    }

    /// Equal pots: a square grid is what a grower would try, and the rule stays within five per cent of it where the grid
    /// happens to fit exactly; the hexagonal density π/√12 is the most there can be (A. Thue 1910).
    #[test]
    fn equal_pots_lie_between_the_square_grid_and_the_densest_packing() {
        for radius_m in [0.06, 0.1, 0.15] {
            let count = fill(3.0, 1.2, radius_m).len();
            let across = |side_m: f64| (side_m / (2.0 * radius_m) + 1e-9).floor() as usize;
            let grid = across(3.0) * across(1.2);
            let densest = 3.0 * 1.2 / (radius_m * radius_m * 12.0_f64.sqrt());
            assert!(count as f64 >= 0.95 * grid as f64, "{count} of radius {radius_m}, {grid} in a grid");
            assert!((count as f64) < densest, "{count} of radius {radius_m}, at most {densest}");
        }
    }

    #[test]
    fn what_is_too_big_does_not_fit() {
        assert_eq!(fill(0.5, 0.5, 0.26).len(), 0);
        assert_eq!(fill(0.5, 0.5, 0.25).len(), 1);
        assert_eq!(fill(1.0, 0.5, 0.25).len(), 2);
    }

    /// The best radius for ten equal circles in a unit square is 0.148204 (R. Markót, T. Csendes, SIAM J. Optim. 16 (2005),
    /// for the method; value from memory): with 85 % of it all ten go in by the simple rule, with more than it never.
    #[test]
    fn ten_circles_in_a_square() {
        assert!(fill(1.0, 1.0, 0.85 * 0.148_204).len() >= 10);
        assert!(fill(1.0, 1.0, 1.001 * 0.148_204).len() < 10);
    }
}
