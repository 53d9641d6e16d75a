//! Finding what a request names.

use chrono::NaiveDate;
use hibernacle_contract::ErrorCode;
use hibernacle_engine::site::Site;
use hibernacle_engine::sun;
use hibernacle_store::{Reader, Writer};

use crate::Context;
use crate::problem::Problem;

/// The setting that remembers the site used last.
const SITE_USED_LAST: &str = "site_used_last";

/// A site by its identifier.
pub(crate) fn site(data: &Reader<'_>, id: &str) -> Result<Site, Problem> {
    data.site(id)?.ok_or_else(|| Problem::not_found("this site"))
}

/// The site asked for, else the one used last, else the first; absent before the first is saved.
pub(crate) fn site_or_last_used(data: &Reader<'_>, id: Option<&str>) -> Result<Option<Site>, Problem> {
    if let Some(id) = id {
        return site(data, id).map(Some);
    }
    if let Some(last) = data.setting(SITE_USED_LAST)?
        && let Some(site) = data.site(&last)?
    {
        return Ok(Some(site));
    }
    Ok(data.sites()?.into_iter().next())
}

/// The same, refused before the first site is saved.
pub(crate) fn site_in_use(data: &Reader<'_>, id: Option<&str>) -> Result<Site, Problem> {
    site_or_last_used(data, id)?.ok_or_else(|| {
        Problem::new(ErrorCode::NotFound, "no site was set up yet; say where your plants are first")
    })
}

/// Remembers that a site was used.
pub(crate) fn note_use(data: &Writer<'_>, site_id: &str) -> Result<(), Problem> {
    Ok(data.put_setting(SITE_USED_LAST, site_id)?)
}

/// Whether a site is the one remembered.
pub(crate) fn is_last_used(data: &Reader<'_>, site_id: &str) -> Result<bool, Problem> {
    Ok(data.setting(SITE_USED_LAST)?.as_deref() == Some(site_id))
}

/// Today at a site.
pub(crate) fn today_at(context: &Context, site: &Site) -> Result<NaiveDate, Problem> {
    Ok(context.now_utc().with_timezone(&site.tz()?).date_naive())
}

/// The night to call at a site: the one that is under way until sunrise, then the one that begins this evening, by the
/// date on which it begins.
pub(crate) fn night_at(context: &Context, site: &Site) -> Result<NaiveDate, Problem> {
    let today = today_at(context, site)?;
    let sunrise_utc = sun::day(site.latitude_deg, site.longitude_deg, site.elevation_m, today)
        .ok()
        .and_then(|day| day.sunrise_utc);
    // Where the sun does not rise there is no dawn to wait for: the night turns at midnight.
    let is_under_way = sunrise_utc.is_some_and(|sunrise_utc| context.now_utc() < sunrise_utc);
    Ok(if is_under_way { today.pred_opt().unwrap_or(today) } else { today })
}
