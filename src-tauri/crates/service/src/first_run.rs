//! What a host does when there is no data yet.

use hibernacle_contract::Failure;
use hibernacle_contract::setup::{DemoRequest, OverviewRequest};

use crate::{Context, setup};

/// Loads the invented season of Larch Bank where no site is set up; says whether it did.
///
/// # Errors
/// Where the data cannot be read or written.
pub fn demo_if_empty(context: &Context) -> Result<bool, Failure> {
    let is_empty = setup::overview(context, OverviewRequest::default())?.sites.is_empty();
    if is_empty {
        setup::demo_load(context, DemoRequest {})?;
    }
    Ok(is_empty)
}
