//! What fuels cost at a site.

use hibernacle_contract::Failure;
use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::shelter::SitePrices;
use hibernacle_store::Writer;

use crate::problem::Problem;
use crate::{Context, lookup};

/// What fuels cost at a site.
///
/// # Errors
/// Where the site does not exist or none was saved yet.
pub fn prices(context: &Context, request: SiteRef) -> Result<SitePrices, Failure> {
    context.read(|data| {
        let site = lookup::site_in_use(data, request.site_id.as_deref())?;
        Ok(SitePrices { prices: data.prices(&site.id)?, site_id: site.id })
    })
}

/// Enters the prices of a site in place of those before; a fuel that is left out has none.
///
/// # Errors
/// Where a price cannot be used, a fuel stands twice, or the site does not exist.
pub fn prices_save(context: &Context, prices: SitePrices) -> Result<SitePrices, Failure> {
    context.write(|data| {
        put(data, &prices)?;
        Ok(prices)
    })
}

pub(super) fn put(data: &Writer<'_>, prices: &SitePrices) -> Result<(), Problem> {
    lookup::site(data, &prices.site_id)?;
    for (index, price) in prices.prices.iter().enumerate() {
        price.check()?;
        if prices.prices[..index].iter().any(|earlier| earlier.fuel == price.fuel) {
            let field = format!("prices[{index}].fuel");
            return Err(Problem::field(&field, "stands twice", "keep one price for each fuel"));
        }
    }
    Ok(data.put_prices(&prices.site_id, &prices.prices)?)
}
