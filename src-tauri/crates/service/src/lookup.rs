//! Finding what a request names.

use chrono::NaiveDate;
use hibernacle_contract::ErrorCode;
use hibernacle_engine::site::Site;
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
