//! The insulation check as a whole.

use super::log::{FitError, Log};
use super::points::Course;
use super::records::InsulationCheck;
use super::report;
use super::work::Work;
use crate::field::within;

/// What a log tells about a shelter.
///
/// * `log` — readings inside and outdoors with all that is known beside them
///
/// Fits the grey box by prediction errors (see the module's head), leaves out nights with heat nobody told of, looks
/// for changes of the loss, and puts every night's hold beside the one to expect.
///
/// # Errors
/// [`FitError`] in words: nothing to fit, too few nights, series that do not belong together.
pub fn check_insulation(log: &Log<'_>) -> Result<InsulationCheck, FitError> {
    check_log(log)?;
    let course = Course::new(log)?;
    let mut work = Work::new(course, log)?;
    work.first_fit()?;
    work.leave_out_heated()?;
    work.find_changes()?;
    report::of(&work, log).ok_or(FitError::Unexplained)
}

fn check_log(log: &Log<'_>) -> Result<(), FitError> {
    if let Some(store) = log.store {
        let mend = "enter the litres of water that stand in the shelter";
        within("store.heat_capacity_j_per_k", store.heat_capacity_j_per_k, 1e3, 1e10, mend)?;
        within("store.doubt", store.doubt, 0.0, 2.0, "enter how sure the litres are, 0.1 for ten per cent")?;
    }
    within("place.latitude_deg", log.place.latitude_deg, -90.0, 90.0, "enter degrees north")?;
    within("place.longitude_deg", log.place.longitude_deg, -180.0, 180.0, "enter degrees east")?;
    Ok(())
}
